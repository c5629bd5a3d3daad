import { randomBytes } from 'node:crypto';
import { addAudit } from '../audit/add-audit.js';
import { unlessAway } from '../errors.js';
import { type Journal, read, write } from '../store.js';
import { type AccountRecord, toAccount } from './accounts.js';
import { digestOf, newSecret } from './secrets.js';

/** How long a session lives. */
export interface SessionTimes {
  /** Without a request it ends after this long, ms. */
  readonly idleMs: number;
  /** It ends after this long in any case, ms. */
  readonly longestMs: number;
}

/** A session as its owner sees it. */
export interface SessionRecord {
  readonly id: string;
  readonly madeAt: string;
  /** When it was last used, to the minute. */
  readonly seenAt: string;
  readonly endsAt: string;
  readonly address: string;
  /** What the browser calls itself, shortened. */
  readonly agent: string;
}

/** The time of last use is kept this coarse, so that looking at pages does not mean writing each time. */
const SEEN_STEP_MS = 60_000;

/**
 * Starts a session for somebody who has proved who they are, and ends the one they came with.
 * @param old secret of that one
 * @returns the new secret; the journal keeps its SHA-256 alone
 */
export async function startSession(
  journal: Journal,
  account: AccountRecord,
  from: {
    readonly address: string;
    readonly agent: string;
    readonly old?: string | undefined;
    readonly how: string;
  },
  times: SessionTimes,
): Promise<string> {
  const secret = newSecret();
  await write(journal, { who: account.shown }, { startSession: account.id }, async (writing) => {
    const { trx, recorded } = writing;
    const now = Date.parse(recorded);
    if (from.old !== undefined)
      await trx.deleteFrom('sessions').where('digest', '=', digestOf(from.old)).execute();
    await trx
      .deleteFrom('sessions')
      .where((eb) =>
        eb.or([eb('ends_at', '<', recorded), eb('seen_at', '<', new Date(now - times.idleMs).toISOString())]),
      )
      .execute();
    await trx
      .insertInto('sessions')
      .values({
        digest: digestOf(secret),
        id: `session-${randomBytes(8).toString('hex')}`,
        account: account.id,
        made_at: recorded,
        seen_at: recorded,
        ends_at: new Date(now + times.longestMs).toISOString(),
        address: from.address,
        agent: from.agent.slice(0, 120),
      })
      .execute();
    await trx.updateTable('accounts').set({ signed_in_at: recorded }).where('id', '=', account.id).execute();
    await addAudit(writing, {
      kind: 'sign-in',
      subject: account.id,
      action: 'signed-in',
      data: { name: account.name, how: from.how },
    });
  });
  return secret;
}

/** Whose session a secret belongs to; undefined when it is unknown, over, or its account is blocked. */
export async function findSession(
  journal: Journal,
  secret: string,
  times: SessionTimes,
  now = Date.now(),
): Promise<{ readonly session: string; readonly account: AccountRecord } | undefined> {
  const digest = digestOf(secret);
  const row = await read(journal, (db) =>
    db
      .selectFrom('sessions')
      .innerJoin('accounts', 'accounts.id', 'sessions.account')
      .selectAll('accounts')
      .select(['sessions.id as session', 'sessions.seen_at', 'sessions.ends_at'])
      .where('sessions.digest', '=', digest)
      .executeTakeFirst(),
  );
  if (row === undefined || row.state !== 'active') return undefined;
  if (Date.parse(row.ends_at) <= now || Date.parse(row.seen_at) + times.idleMs <= now) return undefined;
  // A clock that was set back must not write on each request.
  if (Math.abs(now - Date.parse(row.seen_at)) > SEEN_STEP_MS)
    await read(journal, (db) =>
      db
        .updateTable('sessions')
        .set({ seen_at: new Date(now).toISOString() })
        .where('digest', '=', digest)
        .execute(),
    ).catch(unlessAway);
  return { session: row.session, account: toAccount(row) };
}

/** The sessions of an account that are not over, the one used last first. */
export async function listSessions(
  journal: Journal,
  account: string,
  times: SessionTimes,
  now = Date.now(),
): Promise<SessionRecord[]> {
  const rows = await read(journal, (db) =>
    db
      .selectFrom('sessions')
      .selectAll()
      .where('account', '=', account)
      .where('ends_at', '>', new Date(now).toISOString())
      .where('seen_at', '>', new Date(now - times.idleMs).toISOString())
      .orderBy('seen_at', 'desc')
      .orderBy('id')
      .execute(),
  );
  return rows.map((row) => ({
    id: row.id,
    madeAt: row.made_at,
    seenAt: row.seen_at,
    endsAt: row.ends_at,
    address: row.address,
    agent: row.agent,
  }));
}

/** Which sessions of an account end. */
export type WhichSessions = { readonly only: string } | { readonly except: string } | 'all';

/** Ends sessions of an account. @returns how many */
export async function endSessions(
  journal: Journal,
  account: Pick<AccountRecord, 'id' | 'shown'>,
  which: WhichSessions,
): Promise<number> {
  return write(journal, { who: account.shown }, { endSessions: account.id }, async (writing) => {
    let ending = writing.trx.deleteFrom('sessions').where('account', '=', account.id);
    if (which !== 'all')
      ending = 'only' in which ? ending.where('id', '=', which.only) : ending.where('id', '!=', which.except);
    const ended = Number((await ending.executeTakeFirst()).numDeletedRows);
    await addAudit(writing, {
      kind: 'sign-in',
      subject: account.id,
      action: which === 'all' || 'except' in which ? 'signed-out-everywhere' : 'signed-out',
      data: { sessions: ended },
    });
    return ended;
  });
}

/** Ends all sessions and links of everybody: a backup must not bring back what was ended after it. */
export async function endEverySession(journal: Journal): Promise<void> {
  await read(journal, async (db) => {
    for (const table of ['sessions', 'sign_in_links', 'sign_in_flows'] as const)
      await db.deleteFrom(table).execute();
  });
}
