import { Kysely } from 'kysely';
import { openSqliteFile, sqliteDialect } from '../engines/sqlite.js';
import { translateError } from '../engines/translate-error.js';
import { type Journal, storeOf } from '../store.js';
import type { Tables } from '../tables.js';

/**
 * Reads the whole journal as it is at one moment while others go on writing: SQLite through a connection of its own
 * (the journal's own would be held up), PostgreSQL in a repeatable-read transaction.
 */
export async function readSnapshot<T>(
  journal: Journal,
  work: (db: Kysely<Tables>) => Promise<T>,
): Promise<T> {
  const store = storeOf(journal);
  const own =
    store.file === undefined
      ? undefined
      : new Kysely<Tables>({ dialect: sqliteDialect(openSqliteFile(store.file, { readOnly: true })) });
  try {
    const begin = (own ?? store.db).transaction().setAccessMode('read only');
    return await (own === undefined ? begin.setIsolationLevel('repeatable read') : begin).execute(work);
  } catch (error) {
    throw translateError(error, store.place);
  } finally {
    await own?.destroy();
  }
}
