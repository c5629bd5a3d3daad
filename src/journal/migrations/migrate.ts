import { type Kysely, Migrator, sql } from 'kysely';
import { say } from '../../language/say.js';
import { JournalError } from '../errors.js';
import type { Engine } from '../store.js';
import type { Tables } from '../tables.js';
import { define } from './define.js';
import { SCHEMA_STEPS } from './steps.js';

const STEPS_TABLE = 'schema_steps';
const LOCK_TABLE = 'schema_lock';

/**
 * Brings the schema up to date under a lock, all steps in one transaction; processes that start together take turns.
 * @param until the step to stop at, for tests of the upgrade path; left out: the last
 * @throws JournalError `newer` when the database has a step this program does not know
 */
export async function migrate(
  db: Kysely<Tables>,
  engine: Engine,
  place: string,
  until?: string,
): Promise<readonly string[]> {
  await refuseNewer(db, engine, place);
  const migrator = new Migrator({
    db,
    migrationTableName: STEPS_TABLE,
    migrationLockTableName: LOCK_TABLE,
    provider: {
      getMigrations: async () =>
        Object.fromEntries(
          Object.entries(SCHEMA_STEPS).map(([name, step]) => [
            name,
            { up: (inner: Kysely<unknown>) => define(inner, engine, step) },
          ]),
        ),
    },
  });
  const { error, results } =
    until === undefined ? await migrator.migrateToLatest() : await migrator.migrateTo(until);
  if (error !== undefined) {
    // Another process may have taken a step this program does not know between the question and the lock.
    await refuseNewer(db, engine, place);
    throw error;
  }
  return (results ?? []).map((result) => result.migrationName);
}

/** Names of the steps the database has taken, oldest first; none when it is new. */
export async function takenSteps(db: Kysely<Tables>, engine: Engine): Promise<readonly string[]> {
  const found =
    engine === 'sqlite'
      ? await sql`select name from sqlite_master where type = 'table' and name = ${STEPS_TABLE}`.execute(db)
      : await sql`select 1 as found where to_regclass(${STEPS_TABLE}) is not null`.execute(db);
  if (found.rows.length === 0) return [];
  const { rows } = await sql<{ name: string }>`select name from ${sql.table(STEPS_TABLE)}`.execute(db);
  return rows.map((row) => row.name).sort();
}

async function refuseNewer(db: Kysely<Tables>, engine: Engine, place: string): Promise<void> {
  const known = Object.keys(SCHEMA_STEPS);
  const unknown = (await takenSteps(db, engine)).filter((name) => !known.includes(name));
  if (unknown.length === 0) return;
  throw new JournalError('newer', () =>
    say('away.newer', { place, steps: unknown.join(', '), known: known.at(-1) ?? '' }),
  );
}

/** Names of the tables that the database holds, those of the schema's own bookkeeping apart. */
export async function presentTables(db: Kysely<Tables>, engine: Engine): Promise<readonly string[]> {
  const { rows } =
    engine === 'sqlite'
      ? await sql<{ name: string }>`select name from sqlite_master where type = 'table'`.execute(db)
      : await sql<{ name: string }>`select table_name as name from information_schema.tables
          where table_schema = current_schema()`.execute(db);
  return rows.map(({ name }) => name).filter((name) => !/^(schema|sqlite)_/.test(name));
}
