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
import { say } from '../../../language/say.js';
import { takeSession } from '../../access/cookie.js';
import { hashPassword, requireGoodPassword, TooBusyError } from '../../access/passwords.js';
import { AccessError, currentRequester, type Requester } from '../../access/requester.js';
import type { AccessSettings } from '../../access/settings.js';
import { checkSignIn } from '../../access/sign-in.js';
import { readSent } from '../../journal/desk.js';
import type { Site } from '../../site.js';
import { accessLinks } from '../../views/access/links.js';
import { ROLE_NAMES } from '../../views/access/words.js';
import {
  type FormProblem,
  formProblems,
  readTyped,
  startFields,
  viewForm,
} from '../../views/journal/form.js';
import { sayMoment } from '../../views/journal/moments.js';
import { whenBy } from './accounts.js';
import { passwordHint } from './set-password.js';
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
      make.password('current', say('access.present-password'), { autocomplete: 'current-password' }),
      make.password('password', say('access.new-password'), {
        hint: passwordHint(),
        autocomplete: 'new-password',
      }),
      make.password('again', say('access.new-again'), { autocomplete: 'new-password' }),
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
      say('access.change-password'),
      controls(sent?.problems),
      sent?.problems ?? [],
    );
    return c.html(
      site.page(
        'own-account',
        { title: say('access.your-account'), section: 'account' },
        {
          heading: account.shown,
          lead: c.req.query('changed') === undefined ? '' : say('access.changed'),
          facts: [
            { term: say('access.name-label'), text: account.name, href: '' },
            {
              term: say('access.roles'),
              text: account.roles.map((role) => ROLE_NAMES[role]).join(', '),
              href: '',
            },
            { term: say('access.made'), text: whenBy(account.madeAt, account.madeBy), href: '' },
          ],
          links: accessLinks(),
          passwordForm: account.hasPassword ? form : undefined,
          passwordNote: account.hasPassword ? say('access.ends-others') : say('access.elsewhere'),
          sessions: sessions.map((one) => ({
            id: one.id,
            text: say('access.session', {
              place: one.address === '' ? say('access.this-computer') : one.address,
              when: sayMoment(one.madeAt),
            }),
            note: say('access.last-used', { when: sayMoment(one.seenAt), agent: one.agent }),
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
            problems.push({ name: 'again', message: say('access.new-not-same'), allowed: '' });
          await requireGoodPassword(value('password'), [account.name, account.shown]);
          if (problems.length > 0) return show(c, journal, person, { problems, status: 422 });
          // Counted like a sign-in: somebody at a tablet left open must not guess on.
          const typedNow = { name: account.name, password: value('current') };
          const checked = await checkSignIn(journal, typedNow, currentActor().address);
          if (!checked.ok || (await findForSignIn(journal, account.name)) === undefined) {
            const wait = checked.ok ? 0 : Math.ceil(checked.waitMs / 1000);
            const message =
              wait > 0
                ? say('access.too-many-short', { wait: say('access.seconds', { n: wait }) })
                : say('access.present-wrong');
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
