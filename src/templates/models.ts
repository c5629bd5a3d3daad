/** What the templates are given. Types only; templates print texts and numbers, and nothing that may be missing. */

import type { Picture } from '../server/pictures/svg.js';
import type { GroundView } from '../server/words.js';
import type { AccessPageModels } from './access-models.js';
import type { CountsPageModels } from './counts-models.js';
import type { JournalPageModels } from './journal-models.js';
import type { TrainingModels } from './training-models.js';

/** What surrounds every page. */
export interface Shell {
  readonly title: string;
  readonly section:
    | 'bench'
    | 'setup'
    | 'journal'
    | 'knowledge'
    | 'training'
    | 'convert'
    | 'counts'
    | 'case-file'
    | 'account'
    | 'none';
  /** Query of the case in hand, so that the way back to the bench keeps it. */
  readonly query: string;
  readonly assets: {
    readonly css: string;
    /** Styles that only the journal's pages need. */
    readonly journal: string;
    readonly js: string;
    readonly htmx: string;
    readonly mark: string;
  };
  readonly knowledge: KnowledgeNotice;
  /** Tag of the page's language, for `lang`. */
  readonly lang: string;
  readonly direction: 'ltr' | 'rtl';
  /** Whether someone who spins and speaks the language from home has read the texts. */
  readonly reviewed: boolean;
  /** Languages to choose from. */
  readonly languages: readonly {
    readonly value: string;
    readonly name: string;
    readonly lang: string;
    readonly current: boolean;
  }[];
  /** Who is signed in; undefined where nobody has to, or before. */
  readonly person: { readonly name: string; readonly links: readonly Link[] } | undefined;
}

/** Which version of the knowledge a page stands on, and why a newer one is not used. */
export interface KnowledgeNotice {
  readonly version: string;
  readonly since: string;
  /** The first problem of the files as they are now; undefined while they are the ones in use. */
  readonly problem: { readonly place: string; readonly message: string; readonly more: string } | undefined;
  /** A newer version that is being tried on closed cases, or held back. */
  readonly waiting: { readonly text: string; readonly held: boolean } | undefined;
}

export interface Link {
  readonly href: string;
  readonly text: string;
}

export interface ErrorSummary {
  readonly items: readonly { readonly href: string; readonly text: string; readonly allowed: string }[];
}

/** Radios, checkboxes or a select. */
export interface ChoiceView {
  readonly name: string;
  readonly id: string;
  readonly legend: string;
  readonly hint: string;
  readonly kind: 'radio' | 'checkbox';
  readonly error: string;
  readonly options: readonly OptionView[];
}
export interface OptionView {
  readonly id: string;
  readonly value: string;
  readonly label: string;
  readonly chosen: boolean;
}

export interface HiddenField {
  readonly name: string;
  readonly value: string;
}

// ---- first page

export interface HomePage {
  readonly hint: string;
  /** Where a frame is added; empty in the demonstration mill. */
  readonly addHref: string;
  readonly frames: readonly {
    readonly href: string;
    readonly name: string;
    readonly place: string;
    readonly yarn: string;
    readonly note: string;
  }[];
  readonly stories: readonly { readonly href: string; readonly title: string; readonly tells: string }[];
}

// ---- bench

export interface SymptomView {
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly look: string;
  readonly error: string;
  readonly levels: readonly (OptionView & { readonly short: string })[];
}
export interface SymptomGroupView {
  readonly id: string;
  readonly title: string;
  readonly open: boolean;
  readonly state: string;
  readonly symptoms: readonly SymptomView[];
}
export interface TextFieldView {
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  readonly value: string;
  readonly hint: string;
  readonly error: string;
  readonly numeric: boolean;
}
export interface MeasurementView {
  readonly id: string;
  readonly label: string;
  readonly open: boolean;
  readonly hint: string;
  readonly fields: readonly TextFieldView[];
}
export interface SelectView {
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly error: string;
  readonly options: readonly OptionView[];
}

/** An action that was tried, and what came of it: two selects under one legend. */
export interface TriedRowView {
  readonly id: string;
  readonly name: string;
  readonly legend: string;
  readonly error: string;
  readonly actions: readonly OptionView[];
  readonly results: readonly OptionView[];
}

export interface BenchPage {
  readonly heading: string;
  readonly frame: { readonly name: string; readonly place: string; readonly note: string } | undefined;
  readonly title: string;
  readonly note: string;
  readonly setupLine: string;
  readonly setupNote: string;
  readonly setupHref: string;
  readonly errors: ErrorSummary;
  readonly hidden: readonly HiddenField[];
  readonly common: readonly SymptomView[];
  readonly groups: readonly SymptomGroupView[];
  readonly scope: ChoiceView;
  readonly onset: ChoiceView;
  readonly changed: ChoiceView;
  readonly changedState: string;
  readonly changedOpen: boolean;
  readonly parts: readonly SelectView[];
  readonly partsOpen: boolean;
  readonly tried: readonly TriedRowView[];
  readonly triedOpen: boolean;
  readonly triedState: string;
  readonly measurements: readonly MeasurementView[];
  readonly measured: string;
  readonly answer: AnswerView;
}

export interface CauseRow {
  readonly href: string;
  readonly label: string;
  readonly family: string;
  readonly probability: number;
  readonly percent: string;
  readonly words: string;
  readonly reason: string;
}

export interface AnswerView {
  /** Whether anything was seen or measured that could be explained. */
  readonly asked: boolean;
  readonly summary: string;
  /** One line for the strip at the foot of a small screen and for the announcement. */
  readonly strip: string;
  readonly stripFigure: string;
  readonly leftOut: readonly string[];
  readonly causes: readonly CauseRow[];
  readonly more: readonly CauseRow[];
  readonly notes: readonly string[];
  readonly answered: readonly {
    readonly name: string;
    readonly ask: string;
    readonly outcome: string;
    readonly hidden: readonly HiddenField[];
  }[];
  readonly later: readonly { readonly id: string; readonly label: string }[];
  readonly warnings: readonly string[];
  readonly assumed: readonly AssumedView[];
  readonly caseHref: string;
  /** To the journal: open a case with this, or keep it with the one it goes on with. */
  readonly openHref: string;
  readonly openText: string;
  /** The reasoning, step by step; empty while nothing is asked. */
  readonly replayHref: string;
  readonly sensitivityHref: string;
  /** Checks and actions; undefined while they are still being worked out. */
  readonly next: NextView | undefined;
  readonly nextHref: string;
}
export interface AssumedView {
  readonly label: string;
  readonly value: string;
  readonly why: string;
}

export interface NextView {
  /** Said when the first cause is sure enough to act on; empty otherwise. */
  readonly sure: string;
  readonly checks: readonly CheckView[];
  readonly moreChecks: readonly CheckView[];
  readonly actions: readonly ActionView[];
  readonly moreActions: readonly ActionView[];
  readonly cautions: readonly string[];
}
export interface CheckView {
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly ask: string;
  readonly how: readonly string[];
  readonly effort: string;
  readonly saves: string;
  readonly cautions: readonly string[];
  readonly ground: GroundView;
  readonly outcomes: readonly {
    readonly value: string;
    readonly label: string;
    readonly chance: string;
    readonly leads: string;
    /** The same page with this answer given; empty on the bench, where a button gives it. */
    readonly href: string;
  }[];
}
export interface SideEffectView {
  readonly label: string;
  /** For the look of the row. */
  readonly direction: string;
  readonly directionWords: string;
  readonly change: string;
  readonly words: string;
  readonly beyond: string;
  readonly standing: string;
}
export interface ActionView {
  readonly id: string;
  readonly label: string;
  readonly probability: number;
  readonly cures: string;
  readonly effort: string;
  readonly effects: string;
  readonly forbidden: string;
  /** What came of it, where it was tried already; else empty. */
  readonly tried: string;
  readonly reason: string;
  readonly change: readonly string[];
  readonly cautions: readonly string[];
  readonly steps: readonly string[];
  readonly facts: readonly { readonly term: string; readonly text: string }[];
  readonly sideEffects: readonly SideEffectView[];
  readonly proof: string;
  readonly goBack: string;
  readonly ground: GroundView;
}

// ---- one cause

export interface CausePage {
  readonly label: string;
  readonly family: string;
  readonly what: string;
  readonly probability: number;
  readonly percent: string;
  readonly words: string;
  readonly backHref: string;
  readonly knowledgeHref: string;
  readonly sensitivityHref: string;
  readonly ruledOut: { readonly because: string; readonly ground: GroundView } | undefined;
  readonly leftOut: readonly string[];
  readonly base: string;
  readonly ledger: readonly {
    readonly label: string;
    readonly because: string;
    readonly decibans: string;
    readonly words: string;
    readonly after: string;
    readonly ground: GroundView;
  }[];
  readonly waterfall: Picture;
  readonly chains: readonly {
    readonly steps: readonly {
      readonly kind: string;
      readonly label: string;
      readonly chance: string;
      readonly strength: string;
      readonly why: string;
      readonly ground: GroundView;
    }[];
  }[];
  readonly chainPicture: Picture | undefined;
  readonly wouldChange: readonly string[];
  readonly lookAlikes: readonly {
    readonly href: string;
    readonly label: string;
    readonly percent: string;
    readonly toldApartBy: string;
  }[];
  readonly checks: readonly CheckView[];
  readonly otherChecks: readonly Link[];
  readonly actions: readonly ActionView[];
  readonly endUse: { readonly label: string; readonly limits: readonly string[] };
  readonly cautions: readonly string[];
  readonly traceTime: string;
}

// ---- setup

export interface SetupFieldView {
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly kind: 'text' | 'select' | 'blend';
  readonly unit: string;
  readonly value: string;
  readonly units: readonly OptionView[];
  readonly options: readonly OptionView[];
  readonly blend: readonly {
    readonly row: number;
    readonly share: string;
    readonly options: readonly OptionView[];
  }[];
  /** Value assumed when nothing is given. */
  readonly hint: string;
  /** The value in other units. */
  readonly converted: string;
  /** What the frame's card says, where it differs. */
  readonly card: string;
  readonly error: string;
}
export interface SetupPage {
  readonly heading: string;
  readonly frameName: string;
  readonly backHref: string;
  readonly errors: ErrorSummary;
  readonly hidden: readonly HiddenField[];
  readonly groups: readonly { readonly title: string; readonly fields: readonly SetupFieldView[] }[];
  readonly before: readonly SetupFieldView[];
  readonly beforeOpen: boolean;
  readonly report: SetupReportView;
}
export interface SetupReportView {
  readonly leftOut: readonly string[];
  readonly strip: string;
  readonly margins: readonly {
    readonly label: string;
    readonly meaning: string;
    readonly value: string;
    readonly range: string;
    readonly chance: string;
    readonly probability: number;
    /** For the look of the row. */
    readonly verdict: string;
    readonly verdictWords: string;
  }[];
  readonly marginPicture: Picture;
  readonly quantities: readonly {
    readonly label: string;
    readonly value: string;
    readonly range: string;
    readonly unit: string;
    readonly standing: string;
    readonly meaning: string;
  }[];
  readonly assumed: readonly AssumedView[];
  readonly warnings: readonly string[];
  readonly cautions: readonly string[];
}

// ---- knowledge

/** A text in pieces; those that hold a word searched for are marked. */
export type MarkedText = readonly { readonly text: string; readonly hit: boolean }[];

export interface KnowledgePage {
  readonly question: string;
  /** Kind the search is narrowed to; empty for all. */
  readonly kind: string;
  readonly asked: boolean;
  readonly found: string;
  readonly meant: Link | undefined;
  readonly filters: readonly (Link & { readonly chosen: boolean })[];
  readonly groups: readonly {
    readonly id: string;
    readonly title: string;
    readonly items: readonly {
      readonly href: string;
      readonly label: MarkedText;
      readonly text: MarkedText;
    }[];
    readonly more: Link | undefined;
  }[];
  readonly kinds: readonly {
    readonly href: string;
    readonly title: string;
    readonly count: number;
    readonly about: string;
  }[];
}
/** All entries of a kind. */
export interface KnowledgeList {
  readonly title: string;
  readonly counts: string;
  readonly note: string;
  readonly groups: readonly {
    readonly id: string;
    readonly title: string;
    readonly items: readonly (Link & { readonly about: string })[];
  }[];
}
/** One entry of the knowledge base, as headed sections. */
export interface EntryPage {
  readonly kind: string;
  readonly label: string;
  readonly lead: string;
  readonly listHref: string;
  readonly listTitle: string;
  /** The file it is written in. */
  readonly file: string;
  readonly cautions: readonly string[];
  readonly facts: readonly { readonly term: string; readonly text: string }[];
  readonly links: readonly Link[];
  readonly sections: readonly EntrySection[];
  readonly worked: WorkedView | undefined;
}
export interface EntrySection {
  readonly id: string;
  readonly title: string;
  /** What the bars are of. */
  readonly intro: string;
  readonly picture: Picture | undefined;
  readonly caption: string;
  readonly bars: readonly {
    readonly label: string;
    readonly percent: string;
    readonly probability: number;
  }[];
  readonly ordered: boolean;
  readonly items: readonly {
    readonly href: string;
    readonly label: string;
    readonly text: string;
    readonly notes: readonly string[];
    readonly ground: GroundView;
  }[];
}
/** Worked cases beside an entry, and how they came out if they were run. */
export interface WorkedView {
  readonly id: string;
  readonly title: string;
  readonly button: string;
  readonly pageHref: string;
  readonly summary: string;
  readonly passed: boolean;
  readonly cases: readonly WorkedCase[];
}
export interface WorkedCase {
  readonly name: string;
  readonly given: readonly { readonly term: string; readonly text: string }[];
  readonly openHref: string;
  readonly expects: readonly Link[];
  readonly outcome:
    | {
        readonly passed: boolean;
        readonly words: readonly string[];
        readonly leading: readonly {
          readonly href: string;
          readonly label: string;
          readonly percent: string;
          readonly probability: number;
        }[];
      }
    | undefined;
}
export interface KnowledgeCheckPage {
  readonly checked: string;
  readonly version: string;
  readonly since: string;
  /** Whether the version in use is kept because the files cannot be. */
  readonly kept: boolean;
  readonly summary: string;
  readonly groups: readonly {
    readonly id: string;
    readonly title: string;
    readonly about: string;
    readonly open: boolean;
    readonly findings: readonly {
      readonly severity: string;
      readonly place: string;
      readonly href: string;
      readonly kind: string;
      readonly message: string;
      readonly hint: string;
    }[];
  }[];
}

// ---- what an answer hangs on

export interface SensitivityPage {
  readonly heading: string;
  readonly asked: boolean;
  readonly setupLine: string;
  readonly leftOut: readonly string[];
  readonly backHref: string;
  readonly causeHref: string;
  /** Label of the cause that picture and table are about. */
  readonly about: string;
  readonly lead: string;
  readonly leaders: readonly { readonly text: string }[];
  readonly words: readonly string[];
  readonly picture: Picture | undefined;
  readonly rows: readonly {
    readonly what: string;
    readonly href: string;
    readonly now: string;
    readonly steps: readonly {
      readonly to: string;
      readonly after: string;
      readonly move: string;
      readonly others: readonly string[];
      readonly leads: string;
    }[];
  }[];
  readonly leftOutWords: string;
}

// ---- conversions, case files, errors

export interface ConvertPage {
  readonly hidden: readonly HiddenField[];
  readonly count: string;
  readonly countUnits: readonly OptionView[];
  readonly countError: string;
  readonly counts: readonly { readonly unit: string; readonly name: string; readonly value: string }[];
  readonly twist: string;
  readonly twistUnits: readonly OptionView[];
  readonly twistError: string;
  readonly twists: readonly { readonly unit: string; readonly name: string; readonly value: string }[];
}
export interface OpenCasePage {
  readonly backHref: string;
  readonly text: string;
  readonly problems: readonly {
    readonly place: string;
    readonly message: string;
    readonly value: string;
    readonly allowed: string;
  }[];
}
export interface ErrorPage {
  readonly heading: string;
  readonly text: string;
  readonly reference: string;
  /** A form that may be sent again as it was, for a fault that passes. */
  readonly again?: {
    readonly action: string;
    readonly fields: readonly { readonly name: string; readonly value: string }[];
  };
}

/** Every template with its model. */
export interface PageModels extends JournalPageModels, TrainingModels, CountsPageModels, AccessPageModels {
  readonly home: HomePage;
  readonly bench: BenchPage;
  readonly answer: AnswerView;
  readonly next: NextView;
  readonly cause: CausePage;
  readonly setup: SetupPage;
  readonly 'setup-report': SetupPage;
  readonly knowledge: KnowledgePage;
  readonly entry: EntryPage;
  readonly 'knowledge-list': KnowledgeList;
  readonly 'knowledge-check': KnowledgeCheckPage;
  readonly sensitivity: SensitivityPage;
  readonly convert: ConvertPage;
  readonly 'open-case': OpenCasePage;
  readonly error: ErrorPage;
}
