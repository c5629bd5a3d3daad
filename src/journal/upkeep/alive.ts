import { sql } from 'kysely';
import type { Connections } from '../engines/postgresql.js';
import { type Journal, read, storeOf } from '../store.js';

/** Asks the database for one row. @throws JournalError when it does not answer */
export async function pingJournal(journal: Journal): Promise<void> {
  await read(journal, (db) => sql`select 1 from meta limit 1`.execute(db));
}

/** Connections to the database server; undefined for SQLite. */
export const journalConnections = (journal: Journal): Connections | undefined =>
  storeOf(journal).connections?.();
