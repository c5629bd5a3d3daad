import Database from 'better-sqlite3';
import {
  CompiledQuery,
  type DatabaseConnection,
  type Dialect,
  type Driver,
  SqliteAdapter,
  SqliteDialect,
} from 'kysely';

/** How long a process waits for another one that writes, ms. */
const BUSY_MILLISECONDS = 10_000;

/** SQLite rolls schema changes back like any other, so all steps of a migration can share one transaction. */
class TransactionalSqliteAdapter extends SqliteAdapter {
  override get supportsTransactionalDdl(): boolean {
    return true;
  }
}

/**
 * The SQLite dialect, writing transactions taking the write lock when they begin: one that reads first and writes later
 * would else be thrown out as soon as another process wrote in between.
 */
export function sqliteDialect(database: Database.Database): Dialect {
  const base = new SqliteDialect({ database });
  return {
    createAdapter: () => new TransactionalSqliteAdapter(),
    createIntrospector: (db) => base.createIntrospector(db),
    createQueryCompiler: () => base.createQueryCompiler(),
    createDriver: () => {
      const driver: Driver = base.createDriver();
      driver.beginTransaction = async (connection: DatabaseConnection, settings) => {
        const begin = settings.accessMode === 'read only' ? 'begin deferred' : 'begin immediate';
        await connection.executeQuery(CompiledQuery.raw(begin));
      };
      return driver;
    },
  };
}

/** Opens a database file: write-ahead log, every commit on the disk before it is acknowledged, foreign keys checked. */
export function openSqliteFile(
  file: string,
  options: { readonly readOnly?: boolean } = {},
): Database.Database {
  const database = new Database(file, {
    timeout: BUSY_MILLISECONDS,
    readonly: options.readOnly === true,
    fileMustExist: options.readOnly === true,
  });
  try {
    if (options.readOnly !== true) {
      // Asking first spares the exclusive lock that setting it takes.
      if (database.pragma('journal_mode', { simple: true }) !== 'wal') database.pragma('journal_mode = WAL');
      database.pragma('synchronous = FULL');
    }
    database.pragma('foreign_keys = ON');
    database.pragma('cache_size = -65536');
    return database;
  } catch (error) {
    database.close();
    throw error;
  }
}
