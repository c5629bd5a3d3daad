/**
 * What a diagnosis says: plain data, the same for the command line, the pages, the API and the journal.
 * Probabilities are 0–1, weights are decibans (10·log10 of the likelihood ratio), minutes are working minutes.
 */
import type { Assumption, CaseWarning } from '../case/types.js';
import type { Family, Standing, Stop, StrengthName, TrialResult } from '../knowledge/vocabulary.js';

/** What a statement rests on; `cite` is there only for a publication that was read. */
export interface Ground {
  readonly standing: Standing;
  readonly cite?: string;
  readonly address?: string;
}

/** Kinds of ledger entry, in the order in which they are entered. */
export type EntryKind =
  | 'base'
  | 'setup'
  | 'rule'
  | 'scope'
  | 'onset'
  | 'changed'
  | 'part'
  | 'observation'
  | 'measurement'
  | 'finding';

/** One line of a cause's ledger. The entries after `base` add up to the change of its log-odds. */
export interface LedgerEntry {
  readonly kind: EntryKind;
  /** What was known, in plain words: "Breaks since the cleaning round". */
  readonly label: string;
  /** Weight for (+) or against (−) the cause; for `base` the prior log-odds. */
  readonly decibans: number;
  /** "speaks clearly for it", "barely counts against it". */
  readonly words: string;
  /** Why it weighs so, where a rule or the model says. */
  readonly because?: string;
  readonly ground?: Ground;
  /** Probability of the cause after this entry. */
  readonly after: number;
}

/** One step of a chain: a node and the link that leads into it. */
export interface ChainStep {
  readonly node: string;
  readonly kind: 'setting' | 'cause' | 'mechanism' | 'symptom' | 'finding';
  readonly label: string;
  /** P(node | everything known); 1 for what was seen. */
  readonly probability: number;
  readonly link?: {
    /** Named strength; absent where the model computes the link (setting → cause). */
    readonly strength?: StrengthName;
    /** Chance that the parent alone brings the node about. */
    readonly value: number;
    readonly why: string;
    readonly ground: Ground;
  };
}

/** A line of reasoning from a setting or cause through mechanisms to something that was seen. */
export interface Chain {
  readonly steps: readonly ChainStep[];
  /** Product of its link strengths and of the probability of the mechanisms between, 0–1: for ordering only. */
  readonly weight: number;
  readonly words: string;
}

/** A cause and its standing in the case. */
export interface CauseResult {
  readonly id: string;
  readonly label: string;
  readonly family: Family;
  readonly familyLabel: string;
  readonly kind: 'coordination' | 'condition';
  readonly what: string;
  readonly probability: number;
  /** Probability before anything but base rates was known. */
  readonly base: number;
  /** Why it cannot be, when a rule excludes it. */
  readonly ruledOut?: { readonly because: string; readonly ground: Ground };
  readonly ledger: readonly LedgerEntry[];
  readonly chains: readonly Chain[];
  /** Sentences: what would raise or lower it most. */
  readonly wouldChange: readonly string[];
  /** Causes that are less likely if this one is true, because it explains the same signs. */
  readonly lookAlikes: readonly {
    readonly cause: string;
    readonly label: string;
    readonly toldApartBy: string;
  }[];
  readonly checks: readonly string[];
  readonly actions: readonly string[];
  readonly cautions: readonly string[];
  readonly traceMinutes: number;
}

/** A check that could be made next. */
export interface CheckResult {
  readonly id: string;
  readonly label: string;
  readonly ask: string;
  readonly how: readonly string[];
  readonly minutes: number;
  readonly waitingMinutes: number;
  readonly stops: Stop;
  readonly who: string;
  /** Expected minutes of search saved by knowing the answer. */
  readonly saves: number;
  /** `saves` per minute spent, the order of the list. */
  readonly savesPerMinute: number;
  readonly outcomes: readonly {
    readonly id: string;
    readonly label: string;
    /** Chance of this answer. */
    readonly probability: number;
    /** Where it would lead: the causes that would then stand first. */
    readonly leads: readonly {
      readonly cause: string;
      readonly label: string;
      readonly probability: number;
    }[];
  }[];
  readonly cautions: readonly string[];
  readonly ground: Ground;
}

/** A computed or stated side effect of an action. */
export interface SideEffect {
  readonly on: string;
  readonly label: string;
  readonly direction: 'better' | 'worse' | 'same' | 'depends';
  /** Change in percent of the present value, with its 90 % interval; only where the model computes it. */
  readonly changePercent?: number;
  readonly low?: number;
  readonly high?: number;
  /** Set when it goes beyond what the end use allows. */
  readonly beyondLimit?: string;
  readonly words: string;
  readonly ground: Ground;
}

/** A corrective action. */
export interface ActionResult {
  readonly id: string;
  readonly label: string;
  readonly kind: string;
  readonly steps: readonly string[];
  /** Causes it would remove, most likely first. */
  readonly causes: readonly { readonly id: string; readonly label: string; readonly cures: number }[];
  /** Chance that the trouble goes away when this is done. */
  readonly cures: number;
  /** Working minutes of the first try (one position, or a trial on some positions). */
  readonly minutes: number;
  /** What the first try covers: "1 position", "trial on 8 positions". */
  readonly covers: string;
  /** Working minutes to carry it through everywhere, when that is more than the first try. */
  readonly rollOutMinutes?: number;
  readonly stops: Stop;
  readonly who: string;
  readonly parts?: string;
  readonly cost: 'none' | 'low' | 'medium' | 'high';
  readonly sideEffects: readonly SideEffect[];
  /** Set when the case or the end use forbids it; such actions stand last. */
  readonly forbidden?: string;
  /** What came of it where the case says that it was tried by itself; tried in vain it stands behind the rest. */
  readonly tried?: TrialResult;
  /** Cures per hour of effort, side effects counted: the order of the list. */
  readonly score: number;
  /** Why it stands where it stands, in words. */
  readonly reason: string;
  readonly change?: readonly string[];
  readonly proof: string;
  readonly goBack: string;
  readonly cautions: readonly string[];
  readonly ground: Ground;
}

/** One computed quantity with its 90 % interval. */
export interface ComputedQuantity {
  readonly label: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly unit: string;
  readonly standing: Standing;
  readonly meaning: string;
}

/** A margin of the setup: what is left before trouble, and the chance that nothing is left. */
export interface MarginResult {
  readonly id: string;
  readonly label: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly chanceNegative: number;
  readonly meaning: string;
}

/** The computed state of a setup (`peelpoint setup`). */
export interface SetupReport {
  readonly computed: Readonly<Record<string, ComputedQuantity>>;
  readonly margins: readonly MarginResult[];
  readonly assumed: readonly Assumption[];
  readonly warnings: readonly CaseWarning[];
  readonly cautions: readonly CautionText[];
}

export interface CautionText {
  readonly id: string;
  readonly text: string;
}

/** How sure the arithmetic is of itself. */
export interface InferenceNote {
  readonly method: string;
  readonly exact: boolean;
  readonly width: number;
  readonly milliseconds: number;
}

/** Everything but the checks and actions: what the first answer on the page shows. */
export interface Ranking {
  readonly knowledgeVersion: string;
  readonly title?: string;
  readonly causes: readonly CauseResult[];
  /** Signs that are probably not explained by any listed cause, with that chance. */
  readonly unexplained: readonly {
    readonly symptom: string;
    readonly label: string;
    readonly probability: number;
  }[];
  /** Chance that two or more real causes are at work. */
  readonly severalCauses: number;
  readonly summary: string;
  readonly assumed: readonly Assumption[];
  readonly cautions: readonly CautionText[];
  readonly computed: Readonly<Record<string, ComputedQuantity>>;
  readonly margins: readonly MarginResult[];
  readonly warnings: readonly CaseWarning[];
  readonly inference: InferenceNote;
}

/** The whole answer. */
export interface Diagnosis extends Ranking {
  /** Text of every caution that a cause, check or action of this answer names, by id. */
  readonly cautionTexts: Readonly<Record<string, string>>;
  readonly checks: readonly CheckResult[];
  readonly actions: readonly ActionResult[];
}
