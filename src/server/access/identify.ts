import type { Context } from 'hono';
import {
  findClient,
  findSession,
  hasAccounts,
  type Journal,
  JournalError,
  type JournalFault,
  rightsOf,
} from '../../journal/index.js';
import type { JournalState } from '../journal/keeper.js';
import { sessionSecret } from './cookie.js';
import { OPEN, type Requester, STRANGER } from './requester.js';
import { type AccessSettings, hasLoopbackHost } from './settings.js';

/** Who sent a request, or why that cannot be told. */
export type Identity =
  | { readonly known: Requester }
  /** A token was sent that is unknown or revoked. */
  | { readonly known: undefined; readonly why: 'token' }
  /** Nobody has to sign in here, but the request names a host that is not this computer. */
  | { readonly known: undefined; readonly why: 'host' }
  /** Accounts are kept in a journal that cannot be read just now. */
  | { readonly known: undefined; readonly why: 'away'; readonly state: JournalState };

/** The journal that holds the accounts; also while it is being filled with the demonstration mill. */
export const accountsIn = (state: JournalState): Journal | undefined =>
  state.kind === 'open' || state.kind === 'filling' ? state.journal : undefined;

/** Tells who sends requests, by the accounts of a journal. */
export function startIdentifying(settings: AccessSettings): {
  identify(c: Context, state: JournalState, takesToken: boolean): Promise<Identity>;
} {
  // Accounts are blocked, never deleted: once there is one, sign-in stays needed.
  let accounts: 'unknown' | 'none' | 'some' = 'unknown';
  const identify = async (c: Context, state: JournalState, takesToken: boolean): Promise<Identity> => {
    const journal = accountsIn(state);
    if (journal !== undefined && accounts !== 'some')
      accounts = (await hasAccounts(journal)) ? 'some' : 'none';
    const signInNeeded = accounts === 'some' || settings.openTo === 'nobody';
    // What can be reached without a journal is computed on the spot and holds nothing of the mill.
    if (journal === undefined && signInNeeded) return { known: undefined, why: 'away', state };
    if (!signInNeeded && settings.openTo === 'loopback' && !hasLoopbackHost(c.req.header('host')))
      return { known: undefined, why: 'host' };
    const [, token] = /^Bearer\s+(\S+)$/i.exec(c.req.header('authorization') ?? '') ?? [];
    if (takesToken && token !== undefined) {
      if (journal === undefined) return { known: undefined, why: 'away', state };
      const client = await findClient(journal, token);
      if (client === undefined) return { known: undefined, why: 'token' };
      const { id, name, rights } = client;
      return { known: { kind: 'client', id, name, rights: new Set(rights) } };
    }
    if (!signInNeeded || journal === undefined) return { known: OPEN };
    const secret = sessionSecret(c, settings);
    const found = secret === undefined ? undefined : await findSession(journal, secret, settings.times);
    if (found === undefined) return { known: STRANGER };
    const { account, session } = found;
    return { known: { kind: 'person', account, session, rights: rightsOf(account.roles) } };
  };
  return {
    async identify(c, state, takesToken) {
      try {
        return await identify(c, state, takesToken);
      } catch (error) {
        if (!(error instanceof JournalError)) throw error;
        const closed = { kind: 'closed', fault: error.fault, why: () => error.words } as const;
        // A journal that was not there to be asked a moment ago may hold accounts; one that is gone holds nothing to see.
        const nothingToSee = accounts === 'none' || (accounts === 'unknown' && GONE.includes(error.fault));
        return nothingToSee
          ? identify(c, closed, takesToken)
          : { known: undefined, why: 'away', state: closed };
      }
    },
  };
}

/** Faults after which nothing can be read from the journal either. */
const GONE: readonly JournalFault[] = ['closed', 'corrupt', 'missing'];
