import { type Context, Hono } from 'hono';
import {
  findLink,
  type Journal,
  JournalError,
  JournalInputError,
  type SignInLink,
  useFirstLink,
  useLink,
} from '../../../journal/index.js';
import { hashPassword, LEAST_LENGTH, requireGoodPassword, TooBusyError } from '../../access/passwords.js';
import type { AccessSettings } from '../../access/settings.js';
import { readSent } from '../../journal/desk.js';
import type { Site } from '../../site.js';
import {
  type FormProblem,
  formProblems,
  readTyped,
  startFields,
  type Typed,
  viewForm,
} from '../../views/journal/form.js';
import { sayMoment } from '../../views/journal/moments.js';
import { atAccounts, signIn } from './sign-in.js';

export const PASSWORD_HINT = `At least ${LEAST_LENGTH} characters; a few words that do not belong together will do. Anything may be typed, blanks too.`;

/** Setting a password with a one-time link; the first link makes the first administrator as well. */
export function setPasswordPages(site: Site, settings: AccessSettings): Hono {
  const controls = (key: string, link: SignInLink, typed: Typed, problems: readonly FormProblem[]) => {
    const make = startFields(typed, problems);
    return [
      make.hidden('link', key),
      ...(link.account === null
        ? [
            make.text('name', 'Name to sign in with', {
              hint: 'Letters, figures and . _ @ -, for example ruth.berg.',
              autocomplete: 'username',
            }),
            make.text('shown', 'Your name as others see it', { autocomplete: 'name' }),
          ]
        : [make.hidden('account-name', link.account.name)]),
      make.password('password', 'New password', { hint: PASSWORD_HINT, autocomplete: 'new-password' }),
      make.password('again', 'The same once more', { autocomplete: 'new-password' }),
    ];
  };

  const show = (
    c: Context,
    key: string,
    link: SignInLink,
    sent: { typed: Typed; problems: readonly FormProblem[] } = { typed: new Map(), problems: [] },
    status: 200 | 422 | 503 = 200,
  ): Response =>
    c.html(
      site.page(
        'sign-in',
        { title: 'Set a password', section: 'account' },
        {
          heading: link.account === null ? 'Make the first administrator' : `Welcome, ${link.account.shown}`,
          lead:
            link.account === null
              ? 'From then on everybody signs in. The administrator makes the accounts of the others.'
              : `Set your password for “${link.account.name}”. This link works once, until ${sayMoment(link.endsAt)}.`,
          form: viewForm(
            '/set-password',
            link.account === null ? 'Make the administrator' : 'Set the password and sign in',
            controls(key, link, sent.typed, sent.problems),
            sent.problems,
          ),
          provider: undefined,
        },
      ),
      status,
    );

  const gone = (c: Context): Response =>
    c.html(
      site.page(
        'error',
        { title: 'This link is no longer good', section: 'account' },
        {
          heading: 'This link is no longer good',
          text: 'It was used, it is too old, or a newer one was made. Ask whoever looks after the accounts for a new one; on the computer that runs Peelpoint, “peelpoint account reset NAME” makes one.',
          reference: '',
        },
      ),
      410,
    );

  const use = async (
    c: Context,
    journal: Journal,
    key: string,
    link: SignInLink,
    typed: Typed,
  ): Promise<Response> => {
    const reader = readTyped(typed);
    const password = typed.get('password')?.at(-1) ?? '';
    const name = link.account?.name ?? reader.needed('name', 'Name to sign in with');
    const shown = link.account?.shown ?? reader.needed('shown', 'Your name as others see it');
    const { problems } = reader;
    if (password !== (typed.get('again')?.at(-1) ?? ''))
      problems.push({ name: 'again', message: 'The two passwords are not the same.', allowed: '' });
    const again = (status: 422 | 503) => show(c, key, link, { typed, problems }, status);
    try {
      requireGoodPassword(password, [name, shown]);
      if (problems.length > 0) return again(422);
      const hash = await hashPassword(password);
      const account =
        link.account === null
          ? await useFirstLink(journal, key, { name, shown }, hash)
          : await useLink(journal, key, hash);
      await signIn(c, journal, settings, account, 'one-time link');
      return c.redirect(link.account === null ? '/accounts' : '/', 303);
    } catch (error) {
      if (error instanceof JournalInputError)
        problems.push(...formProblems(error.problems, controls(key, link, typed, [])));
      else if (error instanceof TooBusyError)
        problems.push({ name: 'password', message: error.message, allowed: '' });
      else if (error instanceof JournalError && error.fault === 'refused') return gone(c);
      else throw error;
      return again(error instanceof TooBusyError ? 503 : 422);
    }
  };

  return new Hono()
    .get(
      '/set-password',
      atAccounts(site, async (c, journal) => {
        const key = c.req.query('link') ?? '';
        const link = await findLink(journal, key);
        return link === undefined ? gone(c) : show(c, key, link);
      }),
    )
    .post(
      '/set-password',
      atAccounts(site, async (c, journal) => {
        const { typed } = await readSent(c);
        const key = typed.get('link')?.at(-1) ?? '';
        const link = await findLink(journal, key);
        return link === undefined ? gone(c) : use(c, journal, key, link, typed);
      }),
    );
}
