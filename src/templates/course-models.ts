/** What the templates of courses and kept practice cases are given. Types only. */

import type { Picture } from '../server/pictures/svg.js';
import type { FormView, StaleView, TableView } from './journal-models.js';
import type { HiddenField, Link } from './models.js';

export interface CoursesPage {
  readonly demo: boolean;
  readonly courses: TableView;
  readonly links: readonly Link[];
  readonly ready:
    | {
        readonly title: string;
        readonly note: string;
        readonly parts: readonly string[];
        readonly minutes: string;
        readonly form: FormView;
      }
    | undefined;
}

/** A part of a course as somebody who takes part sees it. */
export interface CoursePartView {
  readonly n: number;
  readonly kind: string;
  readonly title: string;
  readonly minutes: string;
  /** Empty until something was handed in. */
  readonly done: string;
  readonly doneHref: string;
  /** Empty while the course is not open or nobody has joined here. */
  readonly href: string;
  readonly action: string;
  readonly next: boolean;
}

export interface CoursePage {
  readonly title: string;
  readonly group: string;
  readonly state: string;
  readonly note: string;
  /** Who works here; empty: nobody has said. */
  readonly trainee: string;
  readonly parts: readonly CoursePartView[];
  readonly progress: string;
  readonly reportHref: string;
  /** Names to choose from, and the form for a new one. */
  readonly join:
    | {
        readonly action: string;
        readonly key: string;
        readonly names: readonly string[];
        readonly form: FormView;
      }
    | undefined;
  readonly trainerLinks: readonly Link[];
  readonly stateForms: readonly FormView[];
}

export interface CourseEditPage {
  readonly heading: string;
  readonly backHref: string;
  readonly backText: string;
  readonly stale: StaleView | undefined;
  readonly details: FormView;
  readonly parts: readonly {
    readonly n: number;
    readonly id: string;
    readonly title: string;
    readonly kind: string;
    readonly minutes: string;
    readonly note: string;
    readonly first: boolean;
    readonly last: boolean;
  }[];
  readonly total: string;
  readonly action: string;
  readonly hidden: readonly HiddenField[];
  readonly add: FormView | undefined;
}

export interface CourseProgressPage {
  readonly title: string;
  readonly backHref: string;
  readonly lead: string;
  readonly progress: TableView;
  readonly picture: Picture | undefined;
  readonly confusions: TableView;
  readonly attempts: TableView;
  readonly notes: readonly string[];
  readonly downloads: readonly Link[];
}

export interface TraineeReportPage {
  readonly title: string;
  readonly trainee: string;
  readonly backHref: string;
  readonly summary: string;
  readonly different: readonly string[];
  readonly well: readonly string[];
  readonly attempts: TableView;
}

export interface ClassPage {
  readonly title: string;
  readonly backHref: string;
  readonly step: string;
  readonly heading: string;
  readonly planned: string;
  readonly clock: string;
  readonly note: string;
  readonly lines: readonly string[];
  readonly links: readonly Link[];
  readonly back: string;
  readonly next: string;
  readonly beginHref: string;
  readonly steps: readonly {
    readonly href: string;
    readonly title: string;
    readonly planned: string;
    readonly current: boolean;
  }[];
}

export interface CourseHandoutPage {
  readonly title: string;
  readonly group: string;
  readonly backHref: string;
  readonly note: string;
  readonly parts: readonly {
    readonly title: string;
    readonly minutes: string;
    readonly lines: readonly string[];
    readonly questions: readonly { readonly ask: string; readonly answers: readonly string[] }[];
  }[];
  readonly terms: readonly { readonly term: string; readonly plain: string }[];
}

export interface PracticeCasesPage {
  readonly demo: boolean;
  readonly table: TableView;
  readonly links: readonly Link[];
}

export interface PracticeCaseEditPage {
  readonly heading: string;
  readonly title: string;
  readonly backHref: string;
  readonly stale: StaleView | undefined;
  readonly problems: readonly {
    readonly place: string;
    readonly message: string;
    readonly value: string;
    readonly allowed: string;
  }[];
  readonly notes: readonly string[];
  readonly verdict: KeyVerdictView | undefined;
  readonly action: string;
  readonly hidden: readonly HiddenField[];
  readonly name: string;
  readonly nameError: string;
  readonly text: string;
  readonly who: string;
  readonly whoError: string;
  readonly submit: string;
  /** Where the case is practised and whether it is still in use; empty for a new one. */
  readonly practiseHref: string;
  readonly retire: FormView | undefined;
}

export interface KeyVerdictView {
  readonly agrees: boolean;
  readonly words: string;
  readonly ledgers: readonly {
    readonly title: string;
    readonly rows: readonly { readonly label: string; readonly decibans: string; readonly after: string }[];
  }[];
}

/** Templates of courses with their models. */
export interface CourseModels {
  readonly courses: CoursesPage;
  readonly course: CoursePage;
  readonly 'course-edit': CourseEditPage;
  readonly 'course-progress': CourseProgressPage;
  readonly 'trainee-report': TraineeReportPage;
  readonly class: ClassPage;
  readonly 'course-handout': CourseHandoutPage;
  readonly 'practice-cases': PracticeCasesPage;
  readonly 'practice-case': PracticeCaseEditPage;
}
