import type { Context, MiddlewareHandler } from 'hono';
import { type Actor, actAs, noteAudit } from '../../journal/index.js';
import { say } from '../../language/say.js';
import { API_BASE } from '../api/base.js';
import { ApiError } from '../api/errors.js';
import { refuseCall } from '../api/refuse.js';
import { errorPage } from '../errors.js';
import { awayPage } from '../journal/desk.js';
import type { JournalState } from '../journal/keeper.js';
import type { Site } from '../site.js';
import { clientAddress, readProxies } from './address.js';
import { accountsIn, startIdentifying } from './identify.js';
import { type LimitKind, type Limits, startLimits } from './limits.js';
import { asRequester, OPEN, type Requester, STRANGER, satisfies, sayLack } from './requester.js';
import { type Need, ruleFor } from './route-table.js';
import type { AccessSettings } from './settings.js';
import { askToSignIn } from './sign-in-answer.js';

/** Routes that a monitor asks every few seconds and that say nothing of anybody. */
const ALWAYS_OPEN = /^\/(healthz|readyz|livez|assets\/[^/]+)$/;

/**
 * Lets a request through when the table of routes says so; runs what follows on behalf of whoever sent it. A route
 * without an entry is refused. Refusals of people and clients are noted in the audit log.
 */
export function guardAccess(
  site: Site,
  settings: AccessSettings,
  limits: Limits = startLimits(),
): MiddlewareHandler {
  const { identify } = startIdentifying(settings);
  const isProxy = readProxies(settings.proxies);
  return async (c, next) => {
    const { path, method } = c.req;
    const rule = ruleFor(method, path);
    if (rule?.need === 'anybody' && ALWAYS_OPEN.test(path)) return next();
    const api = path === API_BASE || path.startsWith(`${API_BASE}/`);
    const address = clientAddress(c, isProxy);
    const state = await site.journal.state();
    // What is only computed needs no token where the journal that holds the tokens is away.
    const takesToken = api && !(rule?.tokenless === true && accountsIn(state) === undefined);
    const identity = await identify(c, state, takesToken);
    const requester = identity.known ?? STRANGER;
    const journal = accountsIn(state);

    const wait = await tooMany(limits, requester, identity.known === undefined, address);
    if (wait > 0) return asRequester(requester, () => slowDown(c, site, wait, api));

    return actAs(actorOf(requester, address), () =>
      asRequester(requester, async () => {
        const refused = (need: Need, words: string) => {
          if (journal !== undefined && requester.kind !== 'stranger')
            void noteAudit(journal, {
              kind: 'request',
              subject: `${method} ${path}`.slice(0, 200),
              action: 'refused',
              outcome: 'refused',
              data: { need },
            }).catch((error: unknown) => site.log(`audit: ${String(error)}`));
          return api
            ? refuseCall(c, new ApiError(403, 'right', words))
            : errorPage(
                c,
                site,
                403,
                '',
                words,
                say(requester.kind === 'open' ? 'access.needs-account' : 'access.not-yours'),
              );
        };
        if (identity.known === undefined) {
          if (identity.why === 'host') return wrongHost(c, site, api);
          // Without the journal nobody can be told from anybody else.
          if (identity.why === 'away' && rule?.need !== 'anybody') {
            if (identity.state.kind === 'closed') site.log(`journal: ${identity.state.why}`);
            const shown = withoutPlace(identity.state, settings);
            if (api) return refuseCall(c, journalAway(shown));
            return awayPage(c, site, shown as Parameters<typeof awayPage>[2]);
          }
          if (identity.why === 'token')
            return refuseCall(
              c,
              new ApiError(401, 'token-unknown', 'The token is unknown or has been revoked.'),
            );
        }
        if (rule === undefined) {
          if (requester.kind === 'stranger') return askToSignIn(c, site, settings, api);
          return api ? next() : errorPage(c, site, 404);
        }
        if (rule.need === 'anybody') return next();
        // A token is asked for where one was asked for before there were accounts.
        if (api && requester.kind === 'open' && !rule.tokenless) return askToSignIn(c, site, settings, api);
        if (!satisfies(requester, rule.need)) {
          if (requester.kind === 'stranger') return askToSignIn(c, site, settings, api);
          return refused(rule.need, sayRefusal(requester, rule.need));
        }
        // A browser sends its cookie along with whatever a page elsewhere makes it send.
        if (
          api &&
          requester.kind === 'person' &&
          method !== 'GET' &&
          method !== 'HEAD' &&
          !isOwn(c, settings)
        )
          return refused(rule.need, say('access.own-pages'));
        await next();
        if (rule.export && c.res.status === 200 && journal !== undefined)
          await noteAudit(
            journal,
            {
              kind: 'export',
              subject: path,
              action: 'taken-along',
              data: { query: c.req.url.split('?')[1] ?? '' },
            },
            'not signed in',
          ).catch((error: unknown) => site.log(`audit: ${String(error)}`));
      }),
    );
  };
}

const actorOf = (requester: Requester, address: string): Actor => {
  switch (requester.kind) {
    case 'person':
      return { via: 'session', name: requester.account.shown, account: requester.account.id, address };
    case 'client':
      return { via: 'token', name: requester.name, account: requester.id, address };
    default:
      return { via: 'open', account: null, address };
  }
};

async function tooMany(
  limits: Limits,
  requester: Requester,
  unknown: boolean,
  address: string,
): Promise<number> {
  const [kind, key]: [LimitKind | undefined, string] =
    requester.kind === 'person'
      ? ['person', requester.session]
      : requester.kind === 'client'
        ? ['client', requester.id]
        : requester === OPEN
          ? [undefined, '']
          : [unknown ? 'wrong-token' : 'stranger', address];
  return kind === undefined ? 0 : limits.take(kind, key);
}

function slowDown(c: Context, site: Site, wait: number, api: boolean): Response {
  c.header('Retry-After', String(wait));
  const words = say('access.too-many-requests', { wait: say('access.seconds', { n: wait }) });
  return api ? refuseCall(c, new ApiError(429, 'too-many', words)) : errorPage(c, site, 429, '', words);
}

function wrongHost(c: Context, site: Site, api: boolean): Response {
  const words = say('access.wrong-address-text');
  return api
    ? refuseCall(c, new ApiError(403, 'host', words))
    : errorPage(c, site, 403, '', words, say('access.wrong-address'));
}

function sayRefusal(requester: Requester, need: Need): string {
  if (requester.kind === 'client') return `This token has no right “${need}”. Make one that has it.`;
  if (requester.kind === 'open') return say('access.none-yet');
  return sayLack(need);
}

/** Whether a request comes from a page of this server, as the browser says. */
function isOwn(c: Context, { publicOrigin }: AccessSettings): boolean {
  if (c.req.header('sec-fetch-site') === 'same-origin') return true;
  const origin = c.req.header('origin');
  return origin !== undefined && origin === (publicOrigin ?? new URL(c.req.url).origin);
}

/** To who is not known, no word of where the journal lies: that stands in the log. */
const withoutPlace = (state: JournalState, settings: AccessSettings): JournalState =>
  state.kind === 'closed' && settings.openTo === 'nobody'
    ? { ...state, why: () => say('access.journal-away') }
    : state;

const journalAway = (state: JournalState): ApiError =>
  state.kind === 'closed'
    ? new ApiError(503, state.fault, state.why())
    : new ApiError(503, 'no-journal', 'The server was started without a journal.');
