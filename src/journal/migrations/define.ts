import { type Kysely, sql } from 'kysely';
import type { Engine } from '../store.js';

/**
 * Column types by engine. Text sorts by code point on both (PostgreSQL would else follow the language of the
 * database), and SQLite tables are strict, so that neither engine takes a text for a number.
 */
const WORDS: Record<Engine, Readonly<Record<string, string>>> = {
  sqlite: {
    text: 'text',
    int: 'integer',
    real: 'real',
    bytes: 'blob',
    table: 'strict',
    clustered: 'strict, without rowid',
    quarter_of_at: "cast(strftime('%s', at) as integer) / 900",
    take_your_time: 'select 1',
  },
  postgresql: {
    text: 'text collate "C"',
    int: 'bigint',
    real: 'double precision',
    bytes: 'bytea',
    table: '',
    clustered: '',
    quarter_of_at: 'cast(floor(extract(epoch from at::timestamptz) / 900) as bigint)',
    take_your_time: 'set local statement_timeout = 0',
  },
};

/** A numbered step of the schema. Steps only go forward. */
export interface SchemaStep {
  /** SQL with `{take_your_time}` (a statement of its own, before long work), `{quarter_of_at}`, `{text}`, `{int}`, `{real}`, `{bytes}`, `{table}` and `{clustered}` in place of the engine's own words. */
  readonly statements: readonly string[];
  /** What only one of the engines can be told, such as triggers; carried out afterwards. */
  readonly own?: Readonly<Record<Engine, readonly string[]>>;
}

/** Carries out the statements of a step. */
export async function define(db: Kysely<unknown>, engine: Engine, step: SchemaStep): Promise<void> {
  for (const statement of [...step.statements, ...(step.own?.[engine] ?? [])])
    await sql
      .raw(statement.replace(/\{(\w+)\}/g, (_, word: string) => WORDS[engine][word] ?? ''))
      .execute(db);
}
