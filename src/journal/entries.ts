import type { Kysely } from 'kysely';
import { type KeysOf, say } from '../language/say.js';
import { currentActor } from './acting.js';
import { JournalError, StaleError } from './errors.js';
import type { Writing } from './store.js';
import type { Tables } from './tables.js';

/** Things with a history and a version. */
export type SubjectKind =
  | 'frame'
  | 'yarn'
  | 'lot'
  | 'case'
  | 'complaint'
  | 'course'
  | 'practice-case'
  | 'knowledge';

const TABLE_OF = {
  frame: 'frames',
  yarn: 'yarns',
  lot: 'lots',
  case: 'cases',
  complaint: 'complaints',
  course: 'courses',
  'practice-case': 'practice_cases',
  knowledge: 'knowledge_versions',
} as const satisfies Record<SubjectKind, keyof Tables>;

/** One entry of a history as it was written. */
export interface Entry {
  readonly version: number;
  readonly at: string;
  readonly recorded: string;
  readonly who: string;
  readonly step: string;
  readonly data: unknown;
  readonly supersedes: number | null;
}

/** Entries of a subject after a version, oldest first. */
export async function entriesOf(
  db: Kysely<Tables>,
  kind: SubjectKind,
  subject: string,
  after = 0,
): Promise<Entry[]> {
  const rows = await db
    .selectFrom('entries')
    .select(['version', 'at', 'recorded', 'who', 'step', 'data', 'supersedes'])
    .where('kind', '=', kind)
    .where('subject', '=', subject)
    .where('version', '>', after)
    .orderBy('version')
    .execute();
  return rows.map((row) => ({ ...row, data: JSON.parse(row.data) as unknown }));
}

/** A step about to be written. */
export interface NewEntry {
  readonly step: string;
  readonly data: unknown;
  readonly supersedes?: number;
}

/** Writes an entry as the given version of its subject. */
export async function addEntry(
  writing: Writing,
  kind: SubjectKind,
  subject: string,
  version: number,
  entry: NewEntry,
): Promise<Entry> {
  const { trx, who, at, recorded } = writing;
  const actor = currentActor();
  writing.said = true;
  await trx
    .insertInto('entries')
    .values({
      kind,
      subject,
      version,
      at,
      recorded,
      who,
      step: entry.step,
      data: JSON.stringify(entry.data ?? null),
      supersedes: entry.supersedes ?? null,
      via: actor.via,
      account: actor.account,
      address: actor.address,
    })
    .execute();
  return {
    version,
    at,
    recorded,
    who,
    step: entry.step,
    data: entry.data ?? null,
    supersedes: entry.supersedes ?? null,
  };
}

/**
 * Takes the next version of a subject for this transaction, if the version the writer saw is still the present one.
 * On PostgreSQL the row stays locked until the end, so that two writers take turns.
 * @throws StaleError with what has changed since; JournalError `not-found`
 */
export async function takeVersion(
  writing: Writing,
  kind: SubjectKind,
  subject: string,
  seen: number,
): Promise<number> {
  const { trx } = writing;
  const table = TABLE_OF[kind] as 'cases';
  const taken = await trx
    .updateTable(table)
    .set({ version: seen + 1 })
    .where('id', '=', subject)
    .where('version', '=', seen)
    .executeTakeFirst();
  if (taken.numUpdatedRows === 1n) return seen + 1;
  const row = await trx.selectFrom(table).select('version').where('id', '=', subject).executeTakeFirst();
  if (row === undefined) throw notFound(kind, subject);
  const since = await entriesOf(trx, kind, subject, seen);
  throw new StaleError(kind, subject, seen, row.version, since);
}

/** Takes the next version whatever the present one is, for additions that cannot contradict anything. */
export async function takeNextVersion({ trx }: Writing, kind: SubjectKind, subject: string): Promise<number> {
  const row = await trx
    .updateTable(TABLE_OF[kind] as 'cases')
    .set((eb) => ({ version: eb('version', '+', 1) }))
    .where('id', '=', subject)
    .returning('version')
    .executeTakeFirst();
  if (row === undefined) throw notFound(kind, subject);
  return row.version;
}

/** The error for a thing that is not there. */
export const notFound = (kind: KeysOf<'kept-kind'>, id: string): JournalError =>
  new JournalError('not-found', say('refused.not-there', { kind: say(`kept-kind.${kind}`), id }));

/** The next number of a counter, from 1; taken back when the transaction fails. */
export async function nextNumber(writing: Writing, name: string): Promise<number> {
  await writing.trx
    .insertInto('counters')
    .values({ name, value: 0 })
    .onConflict((conflict) => conflict.column('name').doNothing())
    .execute();
  const row = await writing.trx
    .updateTable('counters')
    .set((eb) => ({ value: eb('value', '+', 1) }))
    .where('name', '=', name)
    .returning('value')
    .executeTakeFirstOrThrow();
  return row.value;
}
