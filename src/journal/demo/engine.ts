import type { GivenSetup } from '../../rules/case/types.js';
import type { KeptDiagnosis } from '../cases/ranked.js';

/** A case file as data. */
export type CaseFile = Readonly<Record<string, unknown>>;

/** A frame's card, as the knowledge base's demonstration mill has it. */
export interface DemoFrame {
  readonly id: string;
  readonly name: string;
  readonly place: string;
  /** What it spins, in one line. */
  readonly yarn: string;
  readonly positions: number;
  readonly note: string;
  /** The `setup` of a case file. */
  readonly setup: CaseFile;
}

/** A cause that can befall the invented mill. */
export interface DemoCause {
  readonly id: string;
  readonly family: string;
  /** Expert's base rate, by which true causes are drawn. */
  readonly base: number;
  /** Case files in which this is the cause: what it looks like when it happens. A cause without one never happens. */
  readonly examples: readonly CaseFile[];
  readonly actions: readonly string[];
}

/** What the generator needs of the product: its own cards, causes and engine. */
export interface DemoEngine {
  readonly frames: readonly DemoFrame[];
  readonly causes: readonly DemoCause[];
  /** A symptom's name, for titles. */
  symptomLabel(id: string): string;
  /** Reads the `setup` of a case file; undefined when it cannot be read. */
  readSetup(setup: CaseFile): GivenSetup | undefined;
  /** Diagnoses a case file; undefined when it cannot be read. */
  rank(file: CaseFile): Promise<KeptDiagnosis | undefined>;
}
