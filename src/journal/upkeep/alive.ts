import { statSync } from 'node:fs';
import { sql } from 'kysely';
import type { Connections } from '../engines/postgresql.js';
import { isOpen, type Journal, read, storeOf } from '../store.js';

/** Asks the database for one row. @throws JournalError when it does not answer */
export async function pingJournal(journal: Journal): Promise<void> {
  await read(journal, (db) => sql`select 1 from meta limit 1`.execute(db));
}

/** Tells one file from another at the same path; empty when there is none. */
export function fileMark(file: string): string {
  const found = statSync(file, { throwIfNoEntry: false });
  return found === undefined ? '' : `${found.dev} ${found.ino}`;
}

/**
 * Whether the file that was opened still lies where it lay. When it was removed, or another one was put in its place, the
 * open journal would go on reading and writing what nobody can find any more. Always so for a database server,
 * and for a journal that has been closed.
 */
export function findStanding(journal: Journal): 'same' | 'gone' | 'replaced' {
  if (!isOpen(journal)) return 'same';
  const store = storeOf(journal);
  if (store.file === undefined || store.fileMark === undefined) return 'same';
  const now = fileMark(store.file);
  return now === store.fileMark ? 'same' : now === '' ? 'gone' : 'replaced';
}

/** Connections to the database server; undefined for SQLite. */
export const journalConnections = (journal: Journal): Connections | undefined =>
  storeOf(journal).connections?.();
