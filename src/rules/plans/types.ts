import { wordTable } from '../../language/say.js';
/**
 * What the search for plans says: plain data for the command line, the pages and the tests. Changes of quality are in
 * percent of the present value; chances are 0–1; work is in minutes.
 */
import type { SpinningSetup } from '../../spinning/setup.js';
import type { Assumption, CaseWarning } from '../case/types.js';
import type { CautionText } from '../diagnosis/types.js';
import type { Objective, PlanSetting } from '../knowledge/plan-schema.js';
import type { Stop } from '../knowledge/vocabulary.js';

/** Limits that can be asked for plainly. */
export const PLAN_LIMITS = [
  'dont-lose-output',
  'hairiness-no-worse',
  'hand-no-worse',
  'no-new-parts',
  'this-yarn-only',
] as const;
export type PlanLimit = (typeof PLAN_LIMITS)[number];

/** The limits in words. */
export const PLAN_LIMIT_WORDS: Readonly<Record<PlanLimit, string>> = wordTable('plan-limit', PLAN_LIMITS);

/** What exactly each limit forbids. */
export const PLAN_LIMIT_MEANINGS: Readonly<Record<PlanLimit, string>> = wordTable(
  'plan-limit-meaning',
  PLAN_LIMITS,
);

/** Parts on the shelf; a kind of part that is left out is taken to be there in every usual size. */
export interface Stock {
  /** Complete nozzles; what an entry leaves out is as on the frame. */
  readonly nozzles?: readonly {
    readonly texture?: string;
    readonly radiusMm?: number;
    readonly material?: string;
  }[];
  /** Inserts other than the one fitted; `none` (taking it out) is always possible. */
  readonly inserts?: readonly string[];
  /** Bends of the tubes, degrees. */
  readonly tubesDeg?: readonly number[];
  /** Washers that move the nozzle: thickness in mm; empty when there are none. */
  readonly washersMm?: readonly number[];
}

/** A number with the range in which nine values of ten lie. */
export interface Ranged {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** One setting changed. */
export interface PlanChange {
  readonly setting: PlanSetting;
  readonly label: string;
  /** Present and new value in words with unit. */
  readonly from: string;
  readonly to: string;
  /** "nozzle smooth → 4 notches". */
  readonly words: string;
  /** The new values as a case file writes them: field → text in its default unit. */
  readonly sets: Readonly<Record<string, string>>;
}

/** What a plan is expected to bring. */
export interface PlanEffects {
  /** Chance that twist, tension, fibres and (for fibre that softens) heat all leave room. */
  readonly chance: number;
  /** The same for each margin by itself. */
  readonly margins: Readonly<Record<'twist' | 'tension' | 'fibres' | 'heat', number>>;
  /** Percent against the present setup, with interval. */
  readonly hairiness: Ranged;
  readonly hand: Ranged;
  readonly fly: Ranged;
  readonly tenacity: Ranged;
  readonly output: Ranged;
  readonly nozzleLife: Ranged;
  /** g per rotor-hour while running, h. */
  readonly outputGPerRotorH: Ranged;
  readonly nozzleLifeH: Ranged;
}

/** What carrying a plan out costs. */
export interface PlanCost {
  readonly positions: number;
  /** Work of the trial on a few positions. */
  readonly trialMinutes: number;
  /** Work on all positions. */
  readonly minutes: number;
  /** Parts to take from the store, in words; empty when none. */
  readonly parts: readonly string[];
  /** Yarn not spun while positions stand, kg. */
  readonly lostOutputKg: number;
  /** Minutes that stand for all of this together. */
  readonly effort: number;
}

/** A combination of changes with its effects and its standing among the others. */
export interface Plan {
  /** The same changes always have the same id. */
  readonly id: string;
  readonly label: string;
  readonly changes: readonly PlanChange[];
  readonly effects: PlanEffects;
  readonly cost: PlanCost;
  /** Worth less cost, in minutes; the order of the list. */
  readonly score: number;
  /** What the score is made of, in minutes. */
  readonly scoreParts: readonly { readonly on: Objective; readonly minutes: number }[];
  /** Further combinations that cannot be told from this one. */
  readonly alike: number;
}

/** A step of the recommended plan. */
export interface PlanStep {
  readonly number: number;
  readonly title: string;
  readonly settings: readonly PlanSetting[];
  /** Why this step is there, from the model. */
  readonly why: string;
  readonly how: readonly string[];
  readonly minutes: number;
  readonly trialMinutes: number;
  readonly stops: Stop;
  readonly who: string;
  readonly parts?: string;
  readonly measure: readonly string[];
  /** What the model expects after the step, in words. */
  readonly expect: readonly string[];
  readonly proof: string;
  readonly goBack: string;
  readonly cautions: readonly string[];
  /** Chance of a stable run after this step. */
  readonly chance: number;
}

/** Why a plan stands before another. */
export interface PlanReason {
  readonly on: Objective;
  readonly minutes: number;
  readonly words: string;
}

/** A setting of the setup as it is and as the plan leaves it. */
export interface PlannedSetting {
  readonly path: string;
  readonly label: string;
  readonly now: string;
  readonly planned: string;
  readonly changed: boolean;
  /** The present value was not given but assumed. */
  readonly assumed: boolean;
}

/** Options left out before the search, and why. */
export interface LeftOut {
  readonly setting: PlanSetting;
  readonly words: string;
  readonly because: string;
}

/** The answer to "what together?". */
export interface PlanReport {
  readonly knowledgeVersion: string;
  readonly title?: string;
  /** `new-yarn`: nothing is complained of, so a setup is proposed. */
  readonly kind: 'frame-in-trouble' | 'new-yarn';
  readonly endUse: string;
  readonly limits: readonly PlanLimit[];
  /** Combinations formed; of these within all limits; of these computed over all draws. */
  readonly tried: number;
  readonly allowed: number;
  readonly computedInFull: number;
  /** Combinations left out by each limit (the first that applies). */
  readonly refused: readonly { readonly because: string; readonly count: number }[];
  readonly leftOut: readonly LeftOut[];
  /** The setup as it is: no change. */
  readonly present: Plan;
  /** Set when the present setup itself may not stay. */
  readonly presentForbidden?: string;
  /** Combinations that no other beats or equals on everything, by falling score. */
  readonly efficient: readonly Plan[];
  readonly recommended?: Plan;
  readonly summary: string;
  /** Against the plan next in order, and against the best that changes other settings. */
  readonly beats: readonly {
    readonly plan: string;
    readonly label: string;
    readonly reasons: readonly PlanReason[];
    readonly words: string;
  }[];
  readonly steps: readonly PlanStep[];
  readonly setup: readonly PlannedSetting[];
  /** The central setup before and after the recommended plan, for drawing and comparing. */
  readonly before: SpinningSetup;
  readonly after: SpinningSetup;
  readonly cautions: readonly CautionText[];
  readonly assumed: readonly Assumption[];
  readonly warnings: readonly CaseWarning[];
  /** What the search rests on, in sentences. */
  readonly notes: readonly string[];
  readonly milliseconds: number;
}
