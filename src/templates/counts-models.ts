/** What the pages of counts and trials are given. Types only. */
import type { Picture } from '../server/pictures/svg.js';
import type { ErrorSummary, HiddenField, Link, OptionView, TextFieldView } from './models.js';

/** A picture with its numbers. */
export interface CountPictureView {
  readonly picture: Picture;
  readonly caption: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
  readonly open: boolean;
}

/** A select with its label. */
export interface CountSelectView {
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly hint: string;
  readonly options: readonly OptionView[];
}

export interface FigureView {
  readonly name: string;
  readonly value: string;
  readonly range: string;
  readonly method: string;
  readonly standing: string;
}

/** The way from counts to the bench: a form that carries what the counts say. */
export interface DiagnoseView {
  readonly fields: readonly HiddenField[];
  readonly carries: readonly string[];
  readonly frames: readonly OptionView[];
}

/** Links to the other pages of counts and trials. */
export interface CountTab extends Link {
  readonly here: boolean;
}

// ---- first page: a table

export interface CountsPage {
  readonly tabs: readonly CountTab[];
  readonly errors: ErrorSummary;
  readonly text: string;
  readonly limit: string;
  readonly kept: string;
  readonly samples: readonly { readonly value: string; readonly label: string }[];
}

// ---- second page: which column is what

export interface CountsColumnsPage {
  readonly tabs: readonly CountTab[];
  readonly action: string;
  readonly name: string;
  readonly understood: string;
  readonly errors: ErrorSummary;
  readonly bad:
    | {
        readonly text: string;
        readonly rows: readonly { readonly line: string; readonly reason: string; readonly text: string }[];
        readonly more: string;
      }
    | undefined;
  readonly columns: readonly (CountSelectView & { readonly examples: string; readonly sure: string })[];
  readonly dateOrder: CountSelectView | undefined;
  readonly dialect: readonly CountSelectView[];
  readonly fields: readonly TextFieldView[];
  readonly leaveOut: boolean;
  readonly hidden: readonly HiddenField[];
  readonly preview: { readonly columns: readonly string[]; readonly rows: readonly (readonly string[])[] };
  readonly kept: string;
}

// ---- third page: the answer

export interface CountsAnswerPage {
  readonly tabs: readonly CountTab[];
  readonly verdict: string;
  readonly name: string;
  readonly parts: readonly {
    readonly id: string;
    readonly title: string;
    readonly sentences: readonly string[];
  }[];
  readonly diagnose: DiagnoseView | undefined;
  readonly pictures: readonly CountPictureView[];
  readonly reasons:
    | {
        readonly action: string;
        readonly hidden: readonly HiddenField[];
        readonly options: readonly (OptionView & { readonly name: string; readonly count: string })[];
      }
    | undefined;
  readonly figures: readonly FigureView[];
  readonly taken: readonly string[];
  readonly downloads: readonly Link[];
  readonly backHref: string;
}

// ---- questions without a file

export interface CountsFormPage {
  readonly tabs: readonly CountTab[];
  readonly heading: string;
  readonly lead: string;
  readonly action: string;
  readonly errors: ErrorSummary;
  readonly groups: readonly {
    readonly title: string;
    readonly fields: readonly TextFieldView[];
    readonly selects: readonly CountSelectView[];
  }[];
  readonly button: string;
  readonly hint: string;
  readonly answer:
    | {
        readonly sentences: readonly string[];
        readonly table:
          | {
              readonly caption: string;
              readonly columns: readonly string[];
              readonly rows: readonly (readonly string[])[];
            }
          | undefined;
        readonly pictures: readonly CountPictureView[];
        readonly figures: readonly FigureView[];
        readonly diagnose: DiagnoseView | undefined;
        readonly download: string;
      }
    | undefined;
}

/** The templates of counts and trials with their models. */
export interface CountsPageModels {
  readonly counts: CountsPage;
  readonly 'counts-columns': CountsColumnsPage;
  readonly 'counts-answer': CountsAnswerPage;
  readonly 'counts-form': CountsFormPage;
}
