/** Models of the pages on plans: what to change together, side by side, what if, the drawing, the setup card. */

import type { Picture } from '../server/pictures/svg.js';
import type { ErrorSummary, HiddenField, Link, OptionView } from './models.js';

/** What all these pages have: their styles, the way back, the case in a line. */
export interface PlanFrame {
  readonly styles: readonly string[];
  readonly heading: string;
  readonly setupLine: string;
  readonly links: readonly Link[];
  /** What could not be read of the case. */
  readonly leftOut: readonly string[];
}

/** A drawing in the layouts for wide and narrow screens. */
export interface DrawingView {
  readonly wide: Picture;
  readonly tall: Picture;
  readonly caption: string;
}

export interface PlanStepView {
  readonly number: number;
  readonly title: string;
  readonly why: string;
  readonly how: readonly string[];
  readonly work: string;
  readonly expect: readonly string[];
  readonly measure: readonly string[];
  readonly proof: string;
  readonly goBack: string;
  readonly chance: string;
}

export interface PlanPage {
  readonly frame: PlanFrame;
  readonly hidden: readonly HiddenField[];
  readonly limits: readonly (OptionView & { readonly meaning: string })[];
  readonly fixed: readonly OptionView[];
  readonly positions: string;
  readonly positionsError: string;
  readonly shelf: string;
  readonly shelfErrors: readonly string[];
  readonly optionsOpen: boolean;
  readonly summary: string;
  readonly recommended: boolean;
  readonly effects: readonly {
    readonly label: string;
    readonly now: string;
    readonly planned: string;
    readonly range: string;
  }[];
  readonly cautions: readonly string[];
  readonly steps: readonly PlanStepView[];
  readonly beats: readonly string[];
  readonly plans: readonly {
    readonly label: string;
    readonly chance: string;
    readonly output: string;
    readonly hairiness: string;
    readonly hand: string;
    readonly fly: string;
    readonly work: string;
    readonly href: string;
  }[];
  readonly plansCaption: string;
  readonly refused: readonly string[];
  readonly notes: readonly string[];
  readonly assumed: readonly string[];
  readonly drawing: DrawingView | undefined;
  readonly proposed: readonly { readonly label: string; readonly value: string; readonly from: string }[];
}

export interface ComparePage {
  readonly frame: PlanFrame;
  readonly hidden: readonly HiddenField[];
  readonly choices: readonly {
    readonly name: string;
    readonly label: string;
    readonly options: readonly OptionView[];
  }[];
  readonly names: readonly string[];
  readonly pairs: readonly {
    readonly title: string;
    readonly differing: readonly {
      readonly label: string;
      readonly first: string;
      readonly second: string;
    }[];
    readonly sentences: readonly string[];
    readonly method: string;
    readonly picture: Picture;
  }[];
  readonly rows: readonly {
    readonly label: string;
    readonly meaning: string;
    readonly unit: string;
    readonly cells: readonly string[];
  }[];
  readonly columns: readonly string[];
  readonly drawing: DrawingView | undefined;
}

export interface WhatIfField {
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  readonly value: string;
  readonly now: string;
  readonly changed: boolean;
  readonly error: string;
  readonly options: readonly OptionView[];
}
export interface WhatIfPage {
  readonly frame: PlanFrame;
  readonly errors: ErrorSummary;
  readonly hidden: readonly HiddenField[];
  readonly fields: readonly WhatIfField[];
  readonly quantities: readonly OptionView[];
  readonly settings: readonly OptionView[];
  readonly clearHref: string;
  readonly result: WhatIfResult;
}
export interface WhatIfResult {
  readonly lead: string;
  readonly changed: readonly string[];
  readonly margins: readonly {
    readonly label: string;
    readonly before: string;
    readonly after: string;
    readonly verdict: string;
  }[];
  readonly causes: readonly { readonly label: string; readonly before: string; readonly after: string }[];
  readonly causesLead: string;
  readonly quantities: readonly {
    readonly label: string;
    readonly unit: string;
    readonly before: string;
    readonly after: string;
    readonly change: string;
    readonly standing: string;
  }[];
  readonly curve: {
    readonly title: string;
    readonly picture: Picture;
    readonly words: string;
    readonly standing: string;
    readonly rows: readonly {
      readonly at: string;
      readonly value: string;
      readonly range: string;
      readonly now: boolean;
    }[];
    readonly unit: string;
  };
  readonly benchHref: string;
}

export interface DrawingPage {
  readonly frame: PlanFrame;
  readonly hidden: readonly HiddenField[];
  readonly shows: readonly OptionView[];
  readonly drawing: DrawingView;
  readonly description: string;
  readonly measures: readonly {
    readonly label: string;
    readonly value: string;
    readonly before: string;
    readonly from: string;
  }[];
  readonly marks: readonly string[];
  readonly download: string;
}

export interface CardPage {
  readonly frame: PlanFrame;
  readonly title: string;
  readonly yarn: string;
  readonly note: string;
  readonly rows: readonly {
    readonly label: string;
    readonly value: string;
    readonly was: string;
    readonly why: string;
    readonly tolerance: string;
    readonly watch: string;
    readonly assumed: boolean;
  }[];
  readonly cautions: readonly string[];
  readonly otherHref: string;
  readonly otherText: string;
  readonly version: string;
}

/** The templates of these pages with their models. */
declare module './models.js' {
  interface PageModels {
    readonly plan: PlanPage;
    readonly compare: ComparePage;
    readonly 'what-if': WhatIfPage;
    readonly 'what-if-result': WhatIfResult;
    readonly drawing: DrawingPage;
    readonly card: CardPage;
  }
}
