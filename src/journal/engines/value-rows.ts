import { type RawBuilder, sql } from 'kysely';

/** Rows of texts and whole numbers for `with name (columns) as (…)`, on both engines. At least one row. */
export const valueRows = (rows: readonly (readonly (string | number)[])[]): RawBuilder<unknown> =>
  sql`values ${sql.join(
    rows.map(
      (row) =>
        sql`(${sql.join(row.map((value) => (typeof value === 'number' ? sql`cast(${value} as bigint)` : sql`${value}`)))})`,
    ),
  )}`;

/** Rows that go into one question, well below the number of values both engines take. */
export const MOST_ROWS = 1000;
