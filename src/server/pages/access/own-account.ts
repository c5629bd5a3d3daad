import { type Context, Hono } from 'hono';
import {
  changePassword,
  currentActor,
  endSessions,
  findForSignIn,
  type Journal,
  JournalInputError,
  listSessions,
} from '../../../journal/index.js';
import { takeSession } from '../../access/cookie.js';
import { hashPassword, requireGoodPassword, TooBusyError } from '../../access/passwords.js';
import { AccessError, currentRequester, type Requester } from '../../access/requester.js';
import type { AccessSettings } from '../../access/settings.js';
import { checkSignIn } from '../../access/sign-in.js';
import { readSent } from '../../journal/desk.js';
import type { Site } from '../../site.js';
import { accessLinks } from '../../views/access/links.js';
import { ROLE_WORDS } from '../../views/access/words.js';
import {
  type FormProblem,
  formProblems,
  readTyped,
  startFields,
  viewForm,
} from '../../views/journal/form.js';
import { sayMoment } from '../../views/journal/moments.js';
import { PASSWORD_HINT } from './set-password.js';
import { atAccounts } from './sign-in.js';

type Person = Extract<Requester, { kind: 'person' }>;

/** What somebody sees of themselves: roles, password, sessions. */
export function ownAccountPages(site: Site, settings: AccessSettings): Hono {
  const atOwn = (handle: (c: Context, journal: Journal, person: Person) => Promise<Response>) =>
    atAccounts(site, async (c, journal) => {
      const requester = currentRequester();
      if (requester.kind !== 'person') throw new AccessError('signed-in');
      return handle(c, journal, requester);
    });

  const controls = (problems: readonly FormProblem[] = []) => {
    const make = startFields(new Map(), problems);
    return [
      make.password('current', 'Present password', { autocomplete: 'current-password' }),
      make.password('password', 'New password', { hint: PASSWORD_HINT, autocomplete: 'new-password' }),
      make.password('again', 'The new one once more', { autocomplete: 'new-password' }),
    ];
  };

  const show = async (
    c: Context,
    journal: Journal,
    person: Person,
    sent:
      | { readonly problems: readonly FormProblem[]; readonly status: 422 | 429 | 503 }
      | undefined = undefined,
  ): Promise<Response> => {
    const { account, session } = person;
    const sessions = await listSessions(journal, account.id, settings.times);
    const form = viewForm(
      '/account/password',
      'Change the password',
      controls(sent?.problems),
      sent?.problems ?? [],
    );
    return c.html(
      site.page(
        'own-account',
        { title: 'Your account', section: 'account' },
        {
          heading: account.shown,
          lead:
            c.req.query('changed') === undefined
              ? ''
              : 'The new password holds from now on. You were signed out everywhere else.',
          facts: [
            { term: 'Name to sign in with', text: account.name, href: '' },
            { term: 'Roles', text: account.roles.map((role) => ROLE_WORDS[role].name).join(', '), href: '' },
            { term: 'Made', text: `${sayMoment(account.madeAt)}, by ${account.madeBy}`, href: '' },
          ],
          links: accessLinks(),
          passwordForm: account.hasPassword ? form : undefined,
          passwordNote: account.hasPassword
            ? 'All other sessions of yours end when you change it.'
            : 'You sign in elsewhere and have no password here.',
          sessions: sessions.map((one) => ({
            id: one.id,
            text: `${one.address === '' ? 'This computer' : one.address}, since ${sayMoment(one.madeAt)}`,
            note: `Last used ${sayMoment(one.seenAt)}. ${one.agent}`,
            here: one.id === session,
          })),
          errors: form.errors,
        },
      ),
      sent?.status ?? 200,
    );
  };

  return new Hono()
    .get(
      '/account',
      atOwn((c, journal, person) => show(c, journal, person)),
    )
    .post(
      '/account/password',
      atOwn(async (c, journal, person) => {
        const { typed } = await readSent(c);
        const { problems } = readTyped(typed);
        const { account, session } = person;
        const value = (name: string) => typed.get(name)?.at(-1) ?? '';
        try {
          if (value('password') !== value('again'))
            problems.push({ name: 'again', message: 'The two new passwords are not the same.', allowed: '' });
          requireGoodPassword(value('password'), [account.name, account.shown]);
          if (problems.length > 0) return show(c, journal, person, { problems, status: 422 });
          // Counted like a sign-in: somebody at a tablet left open must not guess on.
          const typedNow = { name: account.name, password: value('current') };
          const checked = await checkSignIn(journal, typedNow, currentActor().address);
          if (!checked.ok || (await findForSignIn(journal, account.name)) === undefined) {
            const wait = checked.ok ? 0 : Math.ceil(checked.waitMs / 1000);
            const message =
              wait > 0
                ? `There were too many tries that failed. Wait ${wait} seconds.`
                : 'The present password is not right.';
            return show(c, journal, person, {
              problems: [{ name: 'current', message, allowed: '' }],
              status: wait > 0 ? 429 : 422,
            });
          }
          await changePassword(journal, account, await hashPassword(value('password')), session);
          return c.redirect('/account?changed=1', 303);
        } catch (error) {
          if (error instanceof JournalInputError)
            return show(c, journal, person, {
              problems: [...problems, ...formProblems(error.problems, controls())],
              status: 422,
            });
          if (!(error instanceof TooBusyError)) throw error;
          return show(c, journal, person, {
            problems: [{ name: 'current', message: error.message, allowed: '' }],
            status: 503,
          });
        }
      }),
    )
    .post(
      '/account/sessions',
      atOwn(async (c, journal, { account, session }) => {
        const { typed } = await readSent(c);
        const which = typed.get('end')?.at(-1) ?? '';
        if (which === 'all') {
          await endSessions(journal, account, 'all');
          takeSession(c, settings);
          return c.redirect('/sign-in', 303);
        }
        if (which === 'others') await endSessions(journal, account, { except: session });
        else if (/^session-[0-9a-f]{16}$/.test(which)) await endSessions(journal, account, { only: which });
        return c.redirect('/account', 303);
      }),
    );
}
