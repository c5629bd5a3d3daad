import { say } from '../../../language/say.js';
import type { SignInPage } from '../../../templates/access-models.js';
import { type FormProblem, startFields, type Typed, viewForm } from '../journal/form.js';

/** Another server where people can sign in, by its name. */
export interface ProviderLink {
  readonly name: string;
}

/** The sign-in page. */
export function viewSignIn(parts: {
  readonly lead: string;
  readonly next: string;
  readonly typed?: Typed;
  readonly problems?: readonly FormProblem[];
  /** A form that waits to be sent once more. */
  readonly kept?: { readonly action: string; readonly fields: string } | undefined;
  readonly provider?: ProviderLink | undefined;
}): SignInPage {
  const { next, kept, problems = [], typed = new Map() } = parts;
  const make = startFields(typed, problems);
  return {
    heading: say('access.sign-in'),
    lead: parts.lead,
    form: viewForm(
      '/sign-in',
      say('access.sign-in'),
      [
        make.text('name', say('access.name-label'), { autocomplete: 'username' }),
        make.password('password', say('access.password'), { autocomplete: 'current-password' }),
        ...(next === '/' ? [] : [make.hidden('next', next)]),
        ...(kept === undefined
          ? []
          : [make.hidden('kept-action', kept.action), make.hidden('kept-fields', kept.fields)]),
      ],
      problems,
    ),
    provider:
      parts.provider === undefined
        ? undefined
        : {
            href: next === '/' ? '/sign-in/provider' : `/sign-in/provider?next=${encodeURIComponent(next)}`,
            text: say('access.sign-in-with', { provider: parts.provider.name }),
          },
  };
}
