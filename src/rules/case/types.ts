/**
 * What a case file says, read and checked: the input of a diagnosis.
 *
 * Numbers are in the units of {@link SpinningSetup}; the words are those of the knowledge base.
 */
import type { SpinningSetup } from '../../spinning/setup.js';
import type { Change, Level, Onset, Part, PartResult, Scope, TrialResult } from '../knowledge/vocabulary.js';

/** Fields of `setup` (and `before`) as a case file spells them. */
export const SETUP_PATHS = [
  'fibre',
  'recycled',
  'delustrant',
  'staple',
  'fineness',
  'count',
  'twist',
  'end-use',
  'rotor.diameter',
  'rotor.speed',
  'rotor.groove',
  'nozzle.surface',
  'nozzle.notches',
  'nozzle.material',
  'nozzle.radius',
  'nozzle.protrusion',
  'nozzle.hours',
  'tube.bend',
  'tube.insert',
  'tube.hours',
  'opening-roller.speed',
  'room.temperature',
  'room.humidity',
  'sliver.count',
  'sliver.trash',
  'winding.tension-draft',
] as const;
export type SetupPath = (typeof SETUP_PATHS)[number];

/** The part of a setup that a case file gives. */
export interface GivenSetup {
  /** Values given, in the model's units; a key is present only if its field was given or follows from one that was. */
  readonly values: Readonly<Partial<SpinningSetup>>;
  readonly endUse?: string;
  /** What was written for each given field, for writing the case back; absent for fields not given. */
  readonly typed: Readonly<Partial<Record<SetupPath, string>>>;
}

/** A count of breaks over a time; rotor-hours = positions × hours run. */
export interface BreakCount {
  readonly count: number;
  readonly rotorHours: number;
}

/**
 * Counted end breaks: against a norm, or one group against another. In the latter `a` is the comparison (before,
 * sister frame, good positions) and `b` the group in trouble.
 */
export type BreakMeasurement = (
  | (BreakCount & {
      readonly kind: 'against-norm';
      /** Usual breaks per 1000 rotor-hours. */
      readonly normPer1000: number;
      /** The position was picked as the worst of so many. */
      readonly pickedFrom?: number;
    })
  | { readonly kind: 'two-groups'; readonly a: BreakCount; readonly b: BreakCount }
) & {
  /** Variance over mean of such counts, 1 or more, where breaks are known to come bunched. */
  readonly dispersion?: number;
};

/** Measured properties other than end breaks. */
export const MEASURED_PROPERTIES = [
  'tenacity',
  'strength-cv',
  'elongation',
  'cvm',
  'thin',
  'thick',
  'neps',
  'hairiness',
  'count',
  'twist',
] as const;
export type MeasuredProperty = (typeof MEASURED_PROPERTIES)[number];

/** A measured property as mean and scatter, or as single readings, with the value it should have. */
export type ValueMeasurement =
  | {
      readonly kind: 'summary';
      readonly mean: number;
      /** Coefficient of variation of single tests, %; absent where the scatter follows from the mean (counts, CVs). */
      readonly cvPct?: number;
      /** Single tests behind the mean (for faults per km: kilometres tested). */
      readonly tests: number;
      readonly target: number;
    }
  | { readonly kind: 'readings'; readonly readings: readonly number[]; readonly target: number };

export interface Measurements {
  readonly endBreaks?: BreakMeasurement;
  readonly values: Readonly<Partial<Record<MeasuredProperty, ValueMeasurement>>>;
}

/** Something unusual but possible; the diagnosis goes on. */
export interface CaseWarning {
  /** Dotted field of the case file, for example `setup.rotor.speed`. */
  readonly field: string;
  readonly message: string;
}

/** Why a case cannot be used. */
export interface CaseProblem {
  /** Dotted field of the case file, for example `setup.rotor.speed`; empty for the file as a whole. */
  readonly field: string;
  /** What was written there, shortened. */
  readonly value: string;
  readonly message: string;
  /** What would be accepted, in words. */
  readonly allowed: readonly string[];
  /** Line of the file, counted from 1; absent for data that came without a text. */
  readonly line?: number;
}

/** Actions tried at the same time, and what came of it. What is undecided does not weigh. */
export interface Trial {
  readonly actions: readonly string[];
  readonly result: TrialResult;
}

/** A case, checked. Lists are empty and records have no key where nothing was said. */
export interface CaseInput {
  readonly title?: string;
  readonly note?: string;
  readonly given: GivenSetup;
  /** What was different before the trouble. */
  readonly before: GivenSetup | undefined;
  /** Symptom id → level; what was not looked at has no key. */
  readonly observations: Readonly<Record<string, Level>>;
  readonly scope: readonly Scope[];
  readonly onset: readonly Onset[];
  readonly changed: readonly Change[];
  /** Check id → outcomes found (without `part-exchange`). */
  readonly findings: Readonly<Record<string, readonly string[]>>;
  readonly partExchange: Readonly<Partial<Record<Part, PartResult>>>;
  /** Actions tried, with what came of them. */
  readonly tried?: readonly Trial[];
  readonly measurements: Measurements;
  readonly warnings: readonly CaseWarning[];
}

/** Ids a case file may use; the loaded knowledge base provides them. */
export interface CaseVocabulary {
  readonly symptoms: ReadonlySet<string>;
  /** Check id → its outcome ids. */
  readonly checks: ReadonlyMap<string, ReadonlySet<string>>;
  readonly actions: ReadonlySet<string>;
  readonly fibres: ReadonlySet<string>;
  readonly endUses: ReadonlySet<string>;
}

export type CaseReading =
  | { readonly ok: true; readonly case: CaseInput }
  | { readonly ok: false; readonly problems: readonly CaseProblem[] };

/** A value that was not given and had to be taken from the end use's usual ones. */
export interface Assumption {
  readonly field: SetupPath;
  /** The field in plain words. */
  readonly label: string;
  /** The value with its unit and spread, in words. */
  readonly value: string;
  readonly why: string;
}

/** Facts that rules compare; unknown facts have no key. */
export type FactValue = string | number | readonly string[];
export type Facts = Readonly<Record<string, FactValue>>;
