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
import { say } from '../../../language/say.js';
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

/** What a new password must be like. */
export const passwordHint = (): string => say('access.password-hint', { n: LEAST_LENGTH });

/** Setting a password with a one-time link; the first link makes the first administrator as well. */
export function setPasswordPages(site: Site, settings: AccessSettings): Hono {
  const controls = (key: string, link: SignInLink, typed: Typed, problems: readonly FormProblem[]) => {
    const make = startFields(typed, problems);
    return [
      make.hidden('link', key),
      ...(link.account === null
        ? [
            make.text('name', say('access.name-label'), {
              hint: say('access.name-hint'),
              autocomplete: 'username',
            }),
            make.text('shown', say('access.your-shown'), { autocomplete: 'name' }),
          ]
        : [make.hidden('account-name', link.account.name)]),
      make.password('password', say('access.new-password'), {
        hint: passwordHint(),
        autocomplete: 'new-password',
      }),
      make.password('again', say('access.again'), { autocomplete: 'new-password' }),
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
        { title: say('access.set-title'), section: 'account' },
        {
          heading:
            link.account === null
              ? say('access.make-first')
              : say('access.welcome', { name: link.account.shown }),
          lead:
            link.account === null
              ? say('access.first-lead')
              : say('access.set-lead', { name: link.account.name, until: sayMoment(link.endsAt) }),
          form: viewForm(
            '/set-password',
            link.account === null ? say('access.make-administrator') : say('access.set-submit'),
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
        { title: say('access.link-gone'), section: 'account' },
        {
          heading: say('access.link-gone'),
          text: say('access.link-gone-text'),
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
    const name = link.account?.name ?? reader.needed('name', say('access.name-label'));
    const shown = link.account?.shown ?? reader.needed('shown', say('access.your-shown'));
    const { problems } = reader;
    if (password !== (typed.get('again')?.at(-1) ?? ''))
      problems.push({ name: 'again', message: say('access.not-same'), allowed: '' });
    const again = (status: 422 | 503) => show(c, key, link, { typed, problems }, status);
    try {
      await requireGoodPassword(password, [name, shown]);
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
