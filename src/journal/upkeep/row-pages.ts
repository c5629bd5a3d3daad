import { type Kysely, type SqlBool, sql } from 'kysely';
import { PASSING_TABLES, TABLE_KEYS, type Tables } from '../tables.js';

export type TableName = keyof Tables;
export type Row = Record<string, string | number | Uint8Array | null>;

/** All tables whose rows are kept for good, in an order in which they can be put in. */
export const TABLE_NAMES = (Object.keys(TABLE_KEYS) as TableName[]).filter(
  (name) => !PASSING_TABLES.includes(name),
);

/** Rows of a page; photos and diagnoses are large, so theirs are smaller. */
const PAGE: Partial<Record<TableName, number>> = { photos: 4, diagnoses: 100 };
const USUAL_PAGE = 2000;

/** All rows of a table in the order of its key, some at a time. */
export async function* rowPages(db: Kysely<Tables>, table: TableName): AsyncGenerator<Row[]> {
  const size = PAGE[table] ?? USUAL_PAGE;
  const keys: readonly string[] = TABLE_KEYS[table];
  const columns = sql.join(keys.map((key) => sql.ref(key)));
  let last: Row | undefined;
  for (;;) {
    let query = db.selectFrom(table as 'frames').selectAll();
    if (last !== undefined) {
      const behind: Row = last;
      const values = sql.join(keys.map((key) => sql`${behind[key]}`));
      query = query.where(sql<SqlBool>`(${columns}) > (${values})`);
    }
    for (const key of keys) query = query.orderBy(sql.ref(key));
    const rows = (await query.limit(size).execute()) as unknown as Row[];
    if (rows.length > 0) yield rows;
    if (rows.length < size) return;
    last = rows.at(-1);
  }
}

/** Most values of one insert that both engines take. */
const MOST_VALUES = 20_000;

/** Puts rows into a table as they are. */
export async function putRows(db: Kysely<Tables>, table: TableName, rows: readonly Row[]): Promise<void> {
  const [first] = rows;
  if (first === undefined) return;
  const most = Math.max(1, Math.floor(MOST_VALUES / Object.keys(first).length));
  for (let start = 0; start < rows.length; start += most)
    await db
      .insertInto(table as 'frames')
      .values(rows.slice(start, start + most) as never)
      .execute();
}

/** Number of rows by table. */
export type RowCounts = Readonly<Record<string, number>>;

/** Counts the rows of every table, or of those named. */
export async function countRows(
  db: Kysely<Tables>,
  tables: readonly string[] = TABLE_NAMES,
): Promise<RowCounts> {
  const counts: Record<string, number> = {};
  for (const table of tables) {
    const { count } = await db
      .selectFrom(table as 'frames')
      .select((eb) => eb.fn.countAll<number>().as('count'))
      .executeTakeFirstOrThrow();
    counts[table] = count;
  }
  return counts;
}

/** Tables whose counts differ, in words; empty when all agree. */
export function differingCounts(expected: RowCounts, found: RowCounts): string[] {
  return [...new Set([...Object.keys(expected), ...Object.keys(found)])]
    .filter((table) => (expected[table] ?? 0) !== (found[table] ?? 0))
    .map((table) => `${table}: ${found[table] ?? 0} of ${expected[table] ?? 0}`);
}
