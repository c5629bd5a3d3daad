/** What the journal's templates are given. Types only. */

import type { Picture } from '../server/pictures/svg.js';
import type { CauseRow, ErrorSummary, Link, OptionView } from './models.js';

/** One control of a form. */
export interface FormField {
  readonly kind:
    | 'text'
    /** A text over the whole width, for what is longer than a name. */
    | 'line'
    | 'password'
    | 'number'
    | 'textarea'
    | 'select'
    | 'radios'
    | 'checkboxes'
    | 'moment'
    | 'day'
    | 'file'
    | 'hidden';
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly hint: string;
  readonly unit: string;
  readonly error: string;
  readonly value: string;
  readonly options: readonly OptionView[];
  /** For the browser's own help in filling in; empty: none. */
  readonly autocomplete: string;
}

export interface FormView {
  readonly action: string;
  readonly submit: string;
  readonly fields: readonly FormField[];
  readonly errors: ErrorSummary;
  /** Whether a file goes with it. */
  readonly upload: boolean;
}

/** A cell: text, with a link or a second, smaller line where not empty. */
export interface CellView {
  readonly text: string;
  readonly href: string;
  readonly note: string;
}
export interface TableView {
  readonly id: string;
  readonly caption: string;
  readonly columns: readonly {
    readonly title: string;
    readonly number: boolean;
    /** A column of days, which no line end parts. */
    readonly day?: boolean;
  }[];
  readonly rows: readonly { readonly kind: string; readonly cells: readonly CellView[] }[];
  /** What stands there when there are no rows. */
  readonly empty: string;
}

/** What every journal page begins with. */
export interface JournalHead {
  readonly demo: boolean;
  readonly tabs: readonly { readonly href: string; readonly text: string; readonly current: boolean }[];
}

export interface FactView {
  readonly term: string;
  readonly text: string;
  readonly href: string;
}

/** What somebody else recorded between looking and sending. */
export interface StaleView {
  readonly text: string;
  readonly since: readonly string[];
}

/** A form that was sent in vain, to be sent again. */
export interface KeptForm {
  readonly action: string;
  readonly fields: readonly { readonly name: string; readonly value: string }[];
  /** What the person typed, for reading. */
  readonly shown: readonly { readonly label: string; readonly text: string }[];
  /** Whether there were files, which cannot be kept. */
  readonly files: boolean;
}

export interface JournalAwayPage {
  readonly heading: string;
  readonly text: string;
  readonly steps: readonly string[];
  readonly percent: string;
  readonly share: number;
  readonly waiting: boolean;
  /** What was sent and could not be recorded. */
  readonly kept: KeptForm | undefined;
}

export interface JournalPage {
  readonly head: JournalHead;
  readonly tiles: readonly { readonly href: string; readonly figure: string; readonly text: string }[];
  readonly cases: TableView;
  readonly complaints: TableView;
  readonly yarns: readonly Link[];
}

/** A list with a filter above it. */
export interface ListPage {
  readonly head: JournalHead;
  readonly heading: string;
  readonly lead: string;
  readonly actions: readonly Link[];
  readonly filter: FormView;
  readonly filtered: boolean;
  readonly count: string;
  readonly table: TableView;
  readonly next: string;
  readonly first: string;
  readonly downloads: readonly Link[];
}

export interface StepView {
  readonly id: string;
  readonly when: string;
  readonly who: string;
  readonly title: string;
  readonly lines: readonly string[];
  readonly kind: string;
  readonly href: string;
  readonly correctHref: string;
  readonly correctText: string;
  readonly corrections: readonly string[];
}

export interface CasePage {
  readonly head: JournalHead;
  readonly heading: string;
  readonly id: string;
  readonly state: string;
  readonly stateWords: string;
  readonly facts: readonly FactView[];
  readonly closure: { readonly heading: string; readonly lines: readonly string[] } | undefined;
  readonly nextChecks: readonly Link[];
  readonly nextActions: readonly Link[];
  readonly steps: readonly Link[];
  readonly moreSteps: readonly Link[];
  readonly diagnosis:
    | {
        readonly when: string;
        /** In which language it was made, where that is not the reader's; else empty. */
        readonly madeIn: string;
        readonly summary: string;
        readonly causes: readonly CauseRow[];
        readonly href: string;
        /** What was found since and is not in this ranking yet; empty when everything is. */
        readonly unweighed: string;
        readonly againHref: string;
        readonly again: string;
        readonly benchHref: string;
        readonly number: string;
      }
    | undefined;
  readonly history: readonly StepView[];
  readonly complaints: readonly Link[];
  readonly reportHref: string;
}

/** A page with one form on it: opening, recording, correcting. */
export interface RecordPage {
  readonly head: JournalHead;
  readonly backHref: string;
  readonly backText: string;
  readonly heading: string;
  readonly lead: string;
  readonly stale: StaleView | undefined;
  readonly cautions: readonly string[];
  readonly how: readonly string[];
  readonly facts: readonly FactView[];
  readonly form: FormView;
  readonly second: FormView | undefined;
  readonly secondHeading: string;
}

export interface KeptDiagnosisPage {
  readonly head: JournalHead;
  readonly backHref: string;
  readonly backText: string;
  readonly heading: string;
  readonly when: string;
  /** In which language it was made, where that is not the reader's; else empty. */
  readonly madeIn: string;
  readonly summary: string;
  readonly causes: readonly CauseRow[];
  readonly table: TableView;
  readonly checks: readonly string[];
  readonly actions: readonly string[];
  readonly input: string;
  readonly benchHref: string;
  readonly replayHref: string;
}

export interface AgainPage {
  readonly head: JournalHead;
  readonly backHref: string;
  readonly heading: string;
  readonly lead: string;
  readonly stale: StaleView | undefined;
  readonly table: TableView;
  readonly notes: readonly string[];
  readonly form: FormView;
  readonly benchHref: string;
}

/** A sheet to be printed or sent: a case on one page, a letter that closes a complaint. */
export interface SheetPage {
  readonly backHref: string;
  readonly backText: string;
  readonly demo: boolean;
  readonly heading: string;
  readonly top: readonly string[];
  readonly facts: readonly FactView[];
  readonly sections: readonly {
    readonly title: string;
    readonly lines: readonly string[];
    readonly table: TableView | undefined;
  }[];
  readonly signatures: readonly string[];
}

export interface FramesPage {
  readonly head: JournalHead;
  readonly table: TableView;
  readonly yarns: TableView;
  readonly lots: TableView;
  readonly note: string;
}

export interface FramePage {
  readonly head: JournalHead;
  readonly heading: string;
  readonly facts: readonly FactView[];
  readonly setupLine: string;
  readonly actions: readonly Link[];
  readonly lately: {
    readonly heading: string;
    readonly spans: readonly { readonly href: string; readonly text: string; readonly current: boolean }[];
    readonly items: readonly { readonly title: string; readonly lines: readonly string[] }[];
    readonly words: string;
    readonly benchHref: string;
    readonly benchText: string;
  };
  readonly picture: Picture | undefined;
  readonly pictureNote: string;
  readonly days: TableView;
  readonly cases: TableView;
  readonly complaints: TableView;
  readonly history: readonly StepView[];
  readonly earlier: readonly StepView[];
}

export interface ComplaintPage {
  readonly head: JournalHead;
  readonly heading: string;
  readonly id: string;
  readonly state: string;
  readonly stateWords: string;
  readonly facts: readonly FactView[];
  readonly parts: readonly {
    readonly title: string;
    readonly text: string;
    readonly href: string;
    readonly todo: string;
  }[];
  readonly cases: TableView;
  readonly photos: readonly {
    readonly href: string;
    readonly alt: string;
    readonly caption: string;
    readonly withdrawHref: string;
  }[];
  readonly photoForm: FormView;
  readonly steps: readonly Link[];
  readonly history: readonly StepView[];
  readonly letterHref: string;
}

export interface QualityPage {
  readonly head: JournalHead;
  readonly heading: string;
  readonly answer: readonly string[];
  readonly yarns: readonly { readonly href: string; readonly text: string; readonly current: boolean }[];
  readonly filter: FormView;
  readonly measures: readonly { readonly href: string; readonly text: string; readonly current: boolean }[];
  readonly complaints: TableView;
  readonly pareto: Picture | undefined;
  readonly paretoTable: TableView;
  readonly paretoNote: string;
  readonly offenders: readonly TableView[];
  readonly offenderNote: string;
  readonly durations: TableView;
  readonly hits: readonly string[];
  readonly reliability: Picture | undefined;
  readonly reliabilityTable: TableView;
  readonly reliabilityNote: string;
  readonly downloads: readonly Link[];
}

export interface LearningPage {
  readonly head: JournalHead;
  readonly lead: string;
  readonly state: string;
  /** What the choice means, or who made it and when. */
  readonly stateNote: string;
  readonly form: FormView;
  readonly picture: Picture | undefined;
  readonly table: TableView;
  readonly notes: readonly string[];
  readonly replay: {
    readonly words: string;
    readonly running: boolean;
    readonly lines: readonly string[];
    readonly table: TableView | undefined;
  };
  readonly replayForm: FormView;
}

/** Versions of the knowledge: what is in use, what waits, and how each did on the closed cases. */
export interface KnowledgeVersionsPage {
  readonly head: JournalHead;
  readonly inUse: string;
  readonly trying: { readonly words: string; readonly share: number } | undefined;
  readonly held:
    | {
        readonly heading: string;
        readonly reasons: readonly string[];
        readonly accept: FormView;
        readonly again: FormView;
      }
    | undefined;
  readonly replay:
    | {
        readonly heading: string;
        readonly words: string;
        readonly picture: Picture;
        readonly figures: TableView;
        readonly worse: TableView;
        readonly unread: string;
      }
    | undefined;
  readonly versions: TableView;
  readonly notes: readonly string[];
}

export interface PartsPage {
  readonly head: JournalHead;
  readonly lead: string;
  readonly filter: FormView;
  readonly table: TableView;
  readonly notes: readonly string[];
  readonly downloads: readonly Link[];
}

/** Templates of the journal with their models. */
export interface JournalPageModels {
  readonly 'journal-away': JournalAwayPage;
  readonly journal: JournalPage;
  readonly 'journal-list': ListPage;
  readonly 'journal-record': RecordPage;
  readonly 'journal-case': CasePage;
  readonly 'journal-diagnosis': KeptDiagnosisPage;
  readonly 'journal-again': AgainPage;
  readonly 'journal-sheet': SheetPage;
  readonly 'journal-frames': FramesPage;
  readonly 'journal-frame': FramePage;
  readonly 'journal-complaint': ComplaintPage;
  readonly quality: QualityPage;
  readonly learning: LearningPage;
  readonly 'knowledge-versions': KnowledgeVersionsPage;
  readonly parts: PartsPage;
}
