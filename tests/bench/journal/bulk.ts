import { type Kysely, type RawBuilder, sql } from 'kysely';
import type { Store } from '../../../src/journal/store.js';
import type { Tables } from '../../../src/journal/tables.js';
import { putRows, type Row, type TableName } from '../../../src/journal/upkeep/row-pages.js';

/** The whole numbers from one up to below another, as a table of `n`. */
export const numbers = (engine: Store['engine'], from: number, until: number): RawBuilder<unknown> =>
  engine === 'sqlite'
    ? sql`(with recursive numbers (n) as (select ${sql.lit(from)} union all select n + 1 from numbers where n + 1 < ${sql.lit(until)}) select n from numbers) as numbered`
    : sql`generate_series(${sql.lit(from)}::bigint, ${sql.lit(until - 1)}::bigint) as numbered (n)`;

/** A transaction without a limit of time, and without looking up whether what each row hangs on is there. */
export async function unhurried<T>(
  { db, engine }: Store,
  work: (trx: Kysely<Tables>) => Promise<T>,
): Promise<T> {
  if (engine === 'sqlite') await sql`pragma foreign_keys = off`.execute(db);
  try {
    return await db.transaction().execute(async (trx) => {
      if (engine === 'postgresql') {
        await sql`set local statement_timeout = 0`.execute(trx);
        await sql`set local session_replication_role = replica`.execute(trx);
      }
      return work(trx);
    });
  } finally {
    if (engine === 'sqlite') await sql`pragma foreign_keys = on`.execute(db);
  }
}

/** Puts rows in. PostgreSQL gets them as one value: thousands of values of a statement are dear to hand over. */
export async function putMany(store: Store, table: TableName, rows: readonly Row[]): Promise<void> {
  await unhurried(store, async (trx) => {
    if (store.engine === 'sqlite') await putRows(trx, table, rows);
    else
      await sql`insert into ${sql.table(table)}
        select * from json_populate_recordset(null::${sql.table(table)}, ${JSON.stringify(rows)}::json)`.execute(
        trx,
      );
  });
}
