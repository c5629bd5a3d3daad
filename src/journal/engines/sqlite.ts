import Database from 'better-sqlite3';
import {
  CompiledQuery,
  type DatabaseConnection,
  type Dialect,
  type Driver,
  SqliteAdapter,
  SqliteDialect,
} from 'kysely';
import { keepStatements } from './kept-statements.js';
import { codeOf } from './translate-error.js';

/** How long a write waits for another one to finish, ms. */
const PATIENCE = 10_000;

/** How long any other statement waits, ms: only opening after a crash and the like ever do. */
const BUSY_MILLISECONDS = 3000;

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
  const base = new SqliteDialect({ database: keepStatements(database) });
  return {
    createAdapter: () => new TransactionalSqliteAdapter(),
    createIntrospector: (db) => base.createIntrospector(db),
    createQueryCompiler: () => base.createQueryCompiler(),
    createDriver: () => {
      const driver: Driver = base.createDriver();
      driver.beginTransaction = async (connection: DatabaseConnection, settings) => {
        if (settings.accessMode === 'read only')
          await connection.executeQuery(CompiledQuery.raw('begin deferred'));
        else await beginWriting(connection);
      };
      // On a full disk and the like SQLite takes the transaction back by itself; that it is gone already must not hide why.
      driver.rollbackTransaction = async (connection: DatabaseConnection) => {
        try {
          await connection.executeQuery(CompiledQuery.raw('rollback'));
        } catch (error) {
          if (!(error instanceof Error) || !error.message.includes('no transaction is active')) throw error;
        }
      };
      return driver;
    },
  };
}

/**
 * Takes the write lock. SQLite itself would wait with the whole process standing still, and for ever if the other writer
 * is in the same process; so it is asked again and again with time for others in between.
 */
async function beginWriting(connection: DatabaseConnection): Promise<void> {
  const ask = (text: string) => connection.executeQuery(CompiledQuery.raw(text));
  const end = performance.now() + PATIENCE;
  await ask('pragma busy_timeout = 0');
  try {
    for (let pause = 1; ; pause = Math.min(50, pause * 2)) {
      try {
        await ask('begin immediate');
        return;
      } catch (error) {
        if (!codeOf(error).startsWith('SQLITE_BUSY') || performance.now() >= end) throw error;
      }
      await new Promise((done) => setTimeout(done, pause * (0.5 + Math.random())));
    }
  } finally {
    await ask(`pragma busy_timeout = ${BUSY_MILLISECONDS}`);
  }
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
