/** What the templates of the training room are given. Types only. */

import type { Picture } from '../server/pictures/svg.js';
import type { CourseModels, KeyVerdictView } from './course-models.js';
import type { ErrorSummary, HiddenField, Link, OptionView } from './models.js';

/** A stretch of text; a trade term on its first use carries beginners' words. */
export interface TextPiece {
  readonly text: string;
  /** Empty unless the text is a term of the glossary. */
  readonly plain: string;
  readonly href: string;
}

/** A drawing of the position, in two layouts, and in words. */
export interface DrawingView {
  readonly wide: string;
  readonly tall: string;
  readonly title: string;
  readonly words: string;
  /** What is drawn dashed beneath; empty for nothing. */
  readonly compared: string;
}

export interface TrainingPage {
  readonly levels: readonly {
    readonly title: string;
    readonly tells: string;
    readonly href: string;
  }[];
  readonly lessons: readonly { readonly href: string; readonly title: string; readonly lead: string }[];
  readonly code: string;
  readonly codeError: string;
  readonly replayHref: string;
  readonly terms: number;
}

export interface GlossaryPage {
  readonly terms: readonly {
    readonly id: string;
    readonly term: string;
    readonly plain: string;
    readonly more: string;
    readonly see: readonly Link[];
  }[];
}

export interface LessonPage {
  readonly title: string;
  readonly place: string;
  readonly lead: readonly TextPiece[];
  readonly path: Picture;
  readonly steps: readonly { readonly title: string; readonly text: readonly TextPiece[] }[];
  readonly mechanismHref: string;
  readonly play: {
    readonly action: string;
    readonly ask: string;
    readonly label: string;
    readonly options: readonly OptionView[];
    readonly hidden: readonly HiddenField[];
    readonly chosen: string;
    readonly frame: string;
    readonly chart: Picture;
    readonly rows: readonly {
      readonly label: string;
      readonly meaning: string;
      readonly standing: string;
      readonly values: readonly { readonly value: string; readonly chosen: boolean }[];
    }[];
    readonly heads: readonly string[];
    readonly sees: string;
    readonly drawing: DrawingView;
  };
  readonly questions: readonly {
    readonly id: string;
    readonly name: string;
    readonly ask: string;
    readonly options: readonly OptionView[];
    /** Empty until answered. */
    readonly verdict: string;
    readonly right: boolean;
    readonly why: string;
  }[];
  readonly questionHidden: readonly HiddenField[];
  readonly questionForm: {
    readonly method: 'get' | 'post';
    readonly action: string;
    readonly submit: string;
  };
  readonly score: string;
  readonly back: Link | undefined;
  readonly next: Link | undefined;
}

export interface FactRow {
  readonly term: string;
  readonly text: string;
}

export interface PracticePage {
  readonly title: string;
  readonly back: Link;
  readonly level: string;
  readonly errors: ErrorSummary;
  readonly hidden: readonly HiddenField[];
  readonly card: readonly FactRow[];
  readonly known: readonly FactRow[];
  readonly seen: readonly { readonly label: string; readonly level: string }[];
  readonly notSeen: string;
  readonly minutes: string;
  readonly moves: readonly {
    readonly n: number;
    readonly title: string;
    readonly result: string;
    readonly details: readonly string[];
    readonly minutes: string;
    readonly latest: boolean;
  }[];
  readonly groups: readonly {
    readonly id: string;
    readonly title: string;
    readonly open: boolean;
    readonly standstill: boolean;
    readonly checks: readonly {
      readonly value: string;
      readonly label: string;
      readonly ask: string;
      readonly effort: string;
    }[];
  }[];
  readonly proposals: readonly {
    readonly row: number;
    readonly causes: readonly { readonly family: string; readonly options: readonly OptionView[] }[];
    readonly confidence: string;
    readonly error: string;
  }[];
  readonly actions: readonly { readonly kind: string; readonly options: readonly OptionView[] }[];
  readonly actionError: string;
  readonly canClose: boolean;
}

export interface MarkingPage {
  readonly title: string;
  readonly back: Link;
  /** What a reader must know of how it was marked; empty for nothing. */
  readonly note: string;
  readonly trainerNotes: string;
  readonly trainee: string;
  readonly summary: string;
  readonly passed: boolean;
  readonly truth: readonly { readonly label: string; readonly what: string; readonly href: string }[];
  readonly advice: readonly string[];
  readonly unsafe: readonly string[];
  readonly checks: readonly {
    readonly label: string;
    readonly answer: string;
    readonly minutes: string;
    readonly verdict: string;
    readonly words: string;
    readonly better: string;
  }[];
  readonly causes: readonly {
    readonly label: string;
    readonly confidence: string;
    readonly warranted: string;
    readonly right: string;
  }[];
  readonly causeWords: readonly string[];
  readonly scores: readonly FactRow[];
  readonly actions: readonly {
    readonly title: string;
    readonly words: string;
    readonly signs: readonly string[];
    readonly costs: readonly string[];
    readonly better: string;
  }[];
  readonly way: readonly string[];
  readonly wayAfter: string;
  readonly bars: Picture;
  readonly links: readonly Link[];
}

export interface ReplayPage {
  readonly title: string;
  readonly note: string;
  readonly heading: string;
  readonly step: string;
  readonly projector: boolean;
  readonly words: readonly TextPiece[];
  readonly ranking: readonly {
    readonly label: string;
    readonly probability: number;
    readonly percent: string;
    readonly moved: string;
    readonly whyHref: string;
  }[];
  readonly chain: readonly { readonly kind: string; readonly label: string; readonly why: string }[];
  readonly path: Picture;
  readonly drawing: DrawingView | undefined;
  readonly search: string;
  readonly back: string;
  readonly next: string;
  readonly projectorHref: string;
  readonly handoutHref: string;
  readonly steps: readonly { readonly href: string; readonly title: string; readonly current: boolean }[];
  readonly firstHidden: readonly HiddenField[];
  readonly firstOptions: readonly OptionView[];
  readonly why:
    | {
        readonly label: string;
        readonly words: string;
        readonly against: readonly string[];
        readonly missing: readonly string[];
        readonly needs: readonly string[];
      }
    | undefined;
}

export interface HandoutPage {
  readonly title: string;
  readonly setup: string;
  readonly backHref: string;
  readonly steps: readonly {
    readonly title: string;
    readonly words: string;
    readonly ranking: readonly { readonly label: string; readonly percent: string; readonly moved: string }[];
    readonly chain: string;
  }[];
}

export interface OwnCasePage {
  readonly text: string;
  readonly problems: readonly {
    readonly place: string;
    readonly message: string;
    readonly value: string;
    readonly allowed: string;
  }[];
  readonly verdict: KeyVerdictView | undefined;
}

/** Templates of the training room with their models. */
export interface TrainingModels extends CourseModels {
  readonly training: TrainingPage;
  readonly glossary: GlossaryPage;
  readonly lesson: LessonPage;
  readonly practice: PracticePage;
  readonly marking: MarkingPage;
  readonly replay: ReplayPage;
  readonly handout: HandoutPage;
  readonly 'own-case': OwnCasePage;
}
