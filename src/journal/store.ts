import { setTimeout as sleep } from 'node:timers/promises';
import type { Kysely, Transaction } from 'kysely';
import { say } from '../language/say.js';
import { currentActor } from './acting.js';
import { addAudit, type NewAudit } from './audit/add-audit.js';
import type { Connections } from './engines/postgresql.js';
import { codeOf, translateError } from './engines/translate-error.js';
import { JournalError } from './errors.js';
import { type By, bySchema, readInput } from './input.js';
import { fingerprint } from './json.js';
import type { Tables } from './tables.js';
import { presentInstant } from './time.js';

/** The two databases a journal can lie in. */
export type Engine = 'sqlite' | 'postgresql';

/** An open journal. Functions take it as their first argument; what lies behind it stays inside this folder. */
export interface Journal {
  readonly engine: Engine;
  /** The file, or the address without its password. */
  readonly place: string;
  /** The copy that was made because this opening brought the journal up to date; undefined when it was so already. */
  readonly copyBefore: string | undefined;
  close(): Promise<void>;
}

/** What lies behind a journal. */
export interface Store {
  readonly engine: Engine;
  readonly place: string;
  readonly db: Kysely<Tables>;
  /** Path of the SQLite file. */
  readonly file: string | undefined;
  /** Which file lay there when it was opened, see {@link fileMark}. */
  readonly fileMark?: string;
  /** Connections to the database server; SQLite has none to count. */
  readonly connections?: () => Connections;
  /** Set inside {@link inOneTransaction}: writes join this transaction. */
  readonly joined?: Transaction<Tables>;
}

const stores = new WeakMap<Journal, Store>();

/** A journal over a store. */
export function journalOver(store: Store, copyBefore?: string): Journal {
  const journal: Journal = {
    engine: store.engine,
    place: store.place,
    copyBefore,
    close: async () => {
      if (!stores.delete(journal)) return;
      await store.db.destroy();
    },
  };
  stores.set(journal, store);
  return journal;
}

/** The store behind a journal. @throws JournalError `closed` */
export function storeOf(journal: Journal): Store {
  const store = stores.get(journal);
  if (store === undefined)
    throw new JournalError('closed', () => say('away.closed', { place: journal.place }));
  return store;
}

/** Whether the journal has not been closed. */
export const isOpen = (journal: Journal): boolean => stores.has(journal);

/** Asks the journal something. A lost connection is tried again for a moment: asking twice does no harm. */
export async function read<T>(journal: Journal, ask: (db: Kysely<Tables>) => Promise<T>): Promise<T> {
  const store = storeOf(journal);
  for (let attempt = 0; ; attempt++) {
    try {
      return await ask(store.db);
    } catch (error) {
      const translated = translateError(error, store.place);
      const wait = isUnreachable(translated) ? RETRY_AFTER_MS[attempt] : undefined;
      if (wait === undefined) throw translated;
      await sleep(wait);
    }
  }
}

const isUnreachable = (error: unknown): boolean =>
  error instanceof JournalError && error.fault === 'unreachable';

/** Waits before a question to a database server that was lost is asked again, ms: a restart takes about a second. */
const RETRY_AFTER_MS: readonly number[] = [0, 300, 1000];

/** What a write knows about itself. */
export interface Writing {
  readonly trx: Transaction<Tables>;
  readonly who: string;
  /** When it happened. */
  readonly at: string;
  /** When it is written down. */
  readonly recorded: string;
  /** Set by whatever says what was done: an entry of a history, or a line of the audit log. */
  said: boolean;
}

/** Times a write is tried when PostgreSQL had to break a tie between two of them. */
const TIES = 5;

/**
 * Writes in one transaction: all of it or nothing, and on the disk when this returns. With a key in `by` the same
 * request is carried out once only; a repeat gets the first answer. What is done for somebody who is known (signed in, or
 * a client with its token) stands under that name, whatever name was typed. A write that adds to no history leaves a line
 * in the audit log.
 * @param request what makes this request the same as another
 */
export async function write<T>(
  journal: Journal,
  by: By,
  request: unknown,
  work: (writing: Writing) => Promise<T>,
): Promise<T> {
  const store = storeOf(journal);
  const { name } = currentActor();
  const { who, at, key } = readInput(bySchema, name === undefined ? by : { ...by, who: name }, 'by');
  const recorded = presentInstant();
  const { joined } = store;
  const carryOut = async (trx: Transaction<Tables>): Promise<T> => {
    const writing: Writing = { trx, who, at: at ?? recorded, recorded, said: false };
    const result = await work(writing);
    if (!writing.said) await addAudit(writing, sayRequest(request));
    return result;
  };
  if (joined !== undefined) return once(joined, key, request, () => carryOut(joined));
  for (let attempt = 1; ; attempt++) {
    try {
      return await store.db.transaction().execute((trx) => once(trx, key, request, () => carryOut(trx)));
    } catch (error) {
      const translated = translateError(error, store.place);
      const tie = ['40001', '40P01'].includes(codeOf(error)) && attempt < TIES;
      // Whether a commit was carried out before the connection was lost nobody knows; with a key it is not done twice.
      const wait = key !== undefined && isUnreachable(translated) ? RETRY_AFTER_MS[attempt - 1] : undefined;
      if (!tie && wait === undefined) throw translated;
      await sleep(wait ?? 0);
    }
  }
}

/**
 * Runs many writes as one: all of them or none, and one wait for the disk instead of one each. The journal handed to
 * `work` must not be used once it has returned, nor the outer one inside it.
 */
export async function inOneTransaction<T>(
  journal: Journal,
  work: (inner: Journal) => Promise<T>,
): Promise<T> {
  const store = storeOf(journal);
  try {
    return await store.db.transaction().execute(async (trx) => {
      const inner = journalOver({ ...store, db: trx, joined: trx });
      try {
        return await work(inner);
      } finally {
        stores.delete(inner);
      }
    });
  } catch (error) {
    throw translateError(error, store.place);
  }
}

/** What a request says of itself: its first key is what was to be done, `id` the thing it was done to. */
function sayRequest(request: unknown): NewAudit {
  const asked = typeof request === 'object' && request !== null ? request : {};
  const [action = 'write'] = Object.keys(asked);
  const subject: unknown = Reflect.get(asked, 'id') ?? Reflect.get(asked, action);
  return {
    kind: 'other',
    action: action.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`),
    subject: typeof subject === 'string' ? subject.slice(0, 120) : '',
  };
}

/** Carries out work unless its key was used before; then gives the first answer. */
async function once<T>(
  trx: Transaction<Tables>,
  key: string | undefined,
  request: unknown,
  work: () => Promise<T>,
): Promise<T> {
  if (key === undefined) return work();
  const mark = fingerprint(request);
  const added = await trx
    .insertInto('posts')
    .values({ key, at: presentInstant(), fingerprint: mark, result: 'null' })
    .onConflict((conflict) => conflict.column('key').doNothing())
    .executeTakeFirst();
  if ((added.numInsertedOrUpdatedRows ?? 0n) === 0n) {
    const first = await trx.selectFrom('posts').selectAll().where('key', '=', key).executeTakeFirstOrThrow();
    if (first.fingerprint !== mark)
      throw new JournalError('reused-key', say('refused.key-used', { key, at: first.at }));
    return JSON.parse(first.result) as T;
  }
  const result = await work();
  await trx
    .updateTable('posts')
    .set({ result: JSON.stringify(result) ?? 'null' })
    .where('key', '=', key)
    .execute();
  return result;
}
