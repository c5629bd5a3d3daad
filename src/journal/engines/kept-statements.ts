import type Database from 'better-sqlite3';
import type { SqliteDatabase, SqliteStatement } from 'kysely';

/** Statements kept ready; the pages and the API together have about two hundred. */
const MOST = 400;
/** Longer ones come from lists whose length differs each time. */
const LONGEST = 6000;
/** What is the same each time it is asked. Changes of the schema and settings of the connection are not. */
const KEPT = /^\s*(select|with|insert|update|delete)\b/i;

/**
 * A database whose statements stay ready to be run again: to read one anew takes SQLite longer than to answer most of
 * them. One that was kept over a change of the schema is read anew by SQLite itself. Those asked for last are kept.
 */
export function keepStatements(database: Database.Database, most = MOST): SqliteDatabase {
  const kept = new Map<string, SqliteStatement>();
  return {
    prepare(sql) {
      const known = kept.get(sql);
      if (known !== undefined) {
        kept.delete(sql);
        kept.set(sql, known);
        return known;
      }
      const statement = database.prepare<unknown[]>(sql);
      const wrapped: SqliteStatement = {
        reader: statement.reader,
        all: (values) => statement.all(values),
        run: (values) => statement.run(values),
        // One that is being read row by row cannot be run beside that.
        iterate: (values) => database.prepare<unknown[]>(sql).iterate(values) as IterableIterator<unknown>,
      };
      if (sql.length > LONGEST || !KEPT.test(sql)) return wrapped;
      kept.set(sql, wrapped);
      for (const oldest of kept.keys()) {
        if (kept.size <= most) break;
        kept.delete(oldest);
      }
      return wrapped;
    },
    close() {
      kept.clear();
      database.close();
    },
  };
}
