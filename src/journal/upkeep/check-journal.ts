import { type Kysely, type Selectable, sql } from 'kysely';
import { countedSteps, replayCase } from '../cases/replay.js';
import { translateError } from '../engines/translate-error.js';
import { entriesOf } from '../entries.js';
import { JournalError } from '../errors.js';
import { readInstant } from '../input.js';
import { type Journal, read, storeOf } from '../store.js';
import type { Tables } from '../tables.js';

/** What a look through the journal found. */
export interface JournalCheck {
  readonly ok: boolean;
  /** One sentence a finding. */
  readonly findings: readonly string[];
  readonly casesChecked: number;
}

/**
 * Looks the journal through: the engine's own check (SQLite), and for cases, newest first, whether row and history say
 * the same.
 * @param most cases looked at; default 1000
 */
export async function checkJournal(journal: Journal, most = 1000): Promise<JournalCheck> {
  const { engine } = storeOf(journal);
  return read(journal, async (db) => {
    const findings: string[] = [];
    if (engine === 'sqlite') {
      const integrity = await sql<{ quick_check: string }>`pragma quick_check`.execute(db);
      for (const row of integrity.rows)
        if (row.quick_check !== 'ok') findings.push(`The database file is damaged: ${row.quick_check}`);
      const loose = await sql<{ table: string }>`pragma foreign_key_check`.execute(db);
      for (const row of loose.rows)
        findings.push(`A row of ${row.table} refers to something that is not there.`);
    }
    const cases = await db
      .selectFrom('cases')
      .select(['id', 'version', 'state', 'cause'])
      .orderBy('opened_at', 'desc')
      .orderBy('id', 'desc')
      .limit(most)
      .execute();
    for (const row of cases) {
      const finding = await checkCase(db, row).catch((error: unknown) => {
        const told = translateError(error, journal.place);
        if (!(told instanceof JournalError && told.fault === 'corrupt')) throw told;
        return `The history of ${row.id} cannot be read: ${told.message}`;
      });
      if (finding !== undefined) findings.push(finding);
    }
    return { ok: findings.length === 0, findings, casesChecked: cases.length };
  });
}

/** What is wrong with a case, if anything. */
async function checkCase(
  db: Kysely<Tables>,
  row: Pick<Selectable<Tables['cases']>, 'id' | 'version' | 'state' | 'cause'>,
): Promise<string | undefined> {
  const entries = (await entriesOf(db, 'case', row.id)).filter((entry) => entry.version <= row.version);
  const complete = entries.length === row.version && entries.every((entry, n) => entry.version === n + 1);
  if (!complete) return `The history of ${row.id} has ${entries.length} of ${row.version} entries.`;
  const { state, closure } = replayCase(countedSteps(entries));
  return state === row.state && (closure?.cause ?? null) === row.cause
    ? undefined
    : `The row of ${row.id} says ${row.state}, its history ${state}.`;
}

/** Forgets keys of posts older than an instant; a repeat after that is a new post. @returns how many */
export async function forgetOldPosts(journal: Journal, before: string): Promise<number> {
  return read(journal, async (db) => {
    const gone = await db
      .deleteFrom('posts')
      .where('at', '<', readInstant('before', before))
      .executeTakeFirst();
    return Number(gone.numDeletedRows);
  });
}
