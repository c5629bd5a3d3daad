import { type Context, Hono } from 'hono';
import {
  type AccountRecord,
  actAs,
  currentActor,
  endSessions,
  hasAdministrator,
  type Journal,
  readMillZone,
  startSession,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { giveSession, sessionSecret, takeSession } from '../../access/cookie.js';
import { accountsIn } from '../../access/identify.js';
import type { Limits } from '../../access/limits.js';
import { localPath } from '../../access/local-path.js';
import { MOST_LENGTH, TooBusyError } from '../../access/passwords.js';
import { currentRequester } from '../../access/requester.js';
import type { AccessSettings } from '../../access/settings.js';
import { checkSignIn } from '../../access/sign-in.js';
import { answerJournalError, awayPage, readSent } from '../../journal/desk.js';
import { withMillZone } from '../../journal/mill-clock.js';
import type { Site } from '../../site.js';
import { viewSignIn } from '../../views/access/sign-in.js';
import { type FormProblem, readTyped, type Typed } from '../../views/journal/form.js';

/** A handler that gets the journal with the accounts, also while the demonstration mill is being written into it. */
export const atAccounts =
  (
    site: Site,
    handle: (c: Context, journal: Journal) => Promise<Response>,
  ): ((c: Context) => Promise<Response>) =>
  async (c) => {
    const state = await site.journal.state();
    const journal = accountsIn(state);
    if (journal === undefined) return awayPage(c, site, state as Parameters<typeof awayPage>[2]);
    try {
      return await withMillZone(await readMillZone(journal), async () => await handle(c, journal));
    } catch (error) {
      return answerJournalError(c, site, error);
    }
  };

/** Starts a session and gives its cookie. */
export async function signIn(
  c: Context,
  journal: Journal,
  settings: AccessSettings,
  account: AccountRecord,
  how: string,
): Promise<void> {
  const { address } = currentActor();
  const from = {
    address,
    agent: c.req.header('user-agent') ?? '',
    old: sessionSecret(c, settings),
    how,
  };
  const secret = await actAs({ via: 'session', name: account.shown, account: account.id, address }, () =>
    startSession(journal, account, from, settings.times),
  );
  giveSession(c, settings, secret);
}

/** Signing in and out. */
export function signInPages(site: Site, settings: AccessSettings, limits: Limits): Hono {
  const show = (
    c: Context,
    parts: Omit<Parameters<typeof viewSignIn>[0], 'provider'>,
    status: 200 | 422 | 429 | 503 = 200,
  ): Response =>
    c.html(
      site.page(
        'sign-in',
        { title: say('access.sign-in'), section: 'account' },
        viewSignIn({ ...parts, provider: settings.provider }),
      ),
      status,
    );

  const keptIn = (typed: Typed) => {
    const action = localPath(typed.get('kept-action')?.at(-1), '');
    const fields = typed.get('kept-fields')?.at(-1) ?? '';
    return action === '' ? undefined : { action, fields };
  };

  return new Hono()
    .get(
      '/sign-in',
      atAccounts(site, async (c, journal) => {
        const next = localPath(c.req.query('next'));
        const { kind } = currentRequester();
        // Signed in already, or nobody has to.
        if (kind === 'person' || kind === 'open') return c.redirect(next, 303);
        const lead = (await hasAdministrator(journal))
          ? say('access.tell-who')
          : say('access.no-administrator');
        return show(c, { lead, next });
      }),
    )
    .post(
      '/sign-in',
      atAccounts(site, async (c, journal) => {
        const { typed } = await readSent(c);
        const reader = readTyped(typed);
        const next = localPath(reader.text('next'));
        const kept = keptIn(typed);
        const again = (problems: readonly FormProblem[], status: 422 | 429 | 503) =>
          show(c, { lead: '', next, typed, problems, kept }, status);
        const { address } = currentActor();
        const wait = await limits.take('sign-in', address);
        if (wait > 0) return tooMany(c, again, wait);
        const name = reader.needed('name', say('access.name-label'));
        const password = typed.get('password')?.at(-1) ?? '';
        if (password === '')
          reader.problems.push({ name: 'password', message: say('access.password-missing'), allowed: '' });
        if (password.length > MOST_LENGTH * 4)
          reader.problems.push({ name: 'password', message: say('access.wrong'), allowed: '' });
        if (reader.problems.length > 0) return again(reader.problems, 422);
        try {
          const result = await checkSignIn(journal, { name, password }, address);
          if (!result.ok)
            return result.waitMs > 0
              ? tooMany(c, again, Math.ceil(result.waitMs / 1000))
              : again([{ name: 'name', message: say('access.wrong'), allowed: '' }], 422);
          await signIn(c, journal, settings, result.account, 'password');
        } catch (error) {
          if (!(error instanceof TooBusyError)) throw error;
          c.header('Retry-After', '5');
          return again([{ name: 'name', message: error.message, allowed: '' }], 503);
        }
        return kept === undefined ? c.redirect(next, 303) : showKept(c, site, kept);
      }),
    )
    .post(
      '/sign-out',
      atAccounts(site, async (c, journal) => {
        const requester = currentRequester();
        if (requester.kind === 'person')
          await endSessions(journal, requester.account, { only: requester.session });
        takeSession(c, settings);
        return c.redirect('/sign-in', 303);
      }),
    );
}

function tooMany(
  c: Context,
  again: (problems: readonly FormProblem[], status: 429) => Response,
  seconds: number,
): Response {
  c.header('Retry-After', String(seconds));
  const wait =
    seconds < 90
      ? say('access.seconds', { n: seconds })
      : say('access.minutes', { n: Math.ceil(seconds / 60) });
  const message = say('access.too-many-tries', { wait });
  return again([{ name: 'name', message, allowed: '' }], 429);
}

/** Most fields of a form that are shown again. */
const MOST_FIELDS = 2000;

/** What was typed before the session ended, ready to be sent. */
function showKept(
  c: Context,
  site: Site,
  kept: { readonly action: string; readonly fields: string },
): Response {
  const fields = [...new URLSearchParams(kept.fields)].slice(0, MOST_FIELDS);
  return c.html(
    site.page(
      'kept-form',
      { title: say('access.signed-in'), section: 'account' },
      {
        heading: say('access.send-typed'),
        lead: say('access.send-typed-lead'),
        action: kept.action,
        fields: fields.map(([name, value]) => ({ name, value })),
        shown: fields
          .filter(([name, value]) => !['key', 'seen', 'who'].includes(name) && value.trim() !== '')
          .map(([, value]) => (value.length > 300 ? `${value.slice(0, 299)}…` : value)),
      },
    ),
  );
}
