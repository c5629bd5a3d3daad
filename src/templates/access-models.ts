/** What the pages of accounts are given. Types only. */

import type { FactView, FormView, TableView } from './journal-models.js';
import type { ErrorSummary, HiddenField, Link } from './models.js';

export interface SignInPage {
  readonly heading: string;
  readonly lead: string;
  readonly form: FormView;
  /** Signing in elsewhere; its link must be followed without script, since it leads to another server. */
  readonly provider: { readonly href: string; readonly text: string } | undefined;
}

/** What was typed before somebody had to sign in, to be sent once more. */
export interface KeptFormPage {
  readonly heading: string;
  readonly lead: string;
  readonly action: string;
  readonly fields: readonly HiddenField[];
  readonly shown: readonly string[];
}

export interface OwnAccountPage {
  readonly heading: string;
  readonly lead: string;
  readonly facts: readonly FactView[];
  readonly links: readonly Link[];
  readonly passwordForm: FormView | undefined;
  readonly passwordNote: string;
  readonly sessions: readonly {
    readonly id: string;
    readonly text: string;
    readonly note: string;
    readonly here: boolean;
  }[];
  readonly errors: ErrorSummary;
}

export interface AccountsPage {
  readonly tabs: readonly Link[];
  readonly heading: string;
  readonly lead: string;
  readonly actions: readonly Link[];
  readonly table: TableView;
}

/** One account, or one to be made. */
export interface AccountPage {
  readonly tabs: readonly Link[];
  readonly heading: string;
  readonly lead: string;
  readonly facts: readonly FactView[];
  readonly form: FormView;
  readonly roles: readonly { readonly name: string; readonly about: string }[];
  /** Buttons of their own: block, a new link. */
  readonly buttons: readonly { readonly action: string; readonly text: string; readonly note: string }[];
  readonly errors: ErrorSummary;
}

/** A secret that is shown this once. */
export interface SecretPage {
  readonly tabs: readonly Link[];
  readonly heading: string;
  readonly lead: string;
  readonly secret: string;
  readonly notes: readonly string[];
  readonly backHref: string;
  readonly backText: string;
}

export interface TokensPage {
  readonly tabs: readonly Link[];
  readonly heading: string;
  readonly lead: string;
  readonly form: FormView;
  readonly table: TableView;
  readonly revoke: readonly { readonly action: string; readonly text: string }[];
}

export interface AuditPage {
  readonly tabs: readonly Link[];
  readonly heading: string;
  readonly lead: string;
  readonly filter: FormView;
  readonly filtered: boolean;
  readonly table: TableView;
  readonly next: string;
  readonly first: string;
  readonly downloads: readonly Link[];
}

export interface AccessPageModels {
  readonly 'sign-in': SignInPage;
  readonly 'kept-form': KeptFormPage;
  readonly 'own-account': OwnAccountPage;
  readonly accounts: AccountsPage;
  readonly account: AccountPage;
  readonly secret: SecretPage;
  readonly tokens: TokensPage;
  readonly audit: AuditPage;
}
