import type { CompiledQuery, Kysely } from 'kysely';
import type { Tables } from './tables.js';

/**
 * A question that is the same each time: it is put into SQL once for each journal that it is asked of. For those that
 * every page asks, which is most of what asking them costs.
 */
export function keepQuery<Row>(
  build: (db: Kysely<Tables>) => { compile(): CompiledQuery<Row> },
): (db: Kysely<Tables>) => Promise<Row[]> {
  const kept = new WeakMap<Kysely<Tables>, CompiledQuery<Row>>();
  return async (db) => {
    let query = kept.get(db);
    if (query === undefined) {
      query = build(db).compile();
      kept.set(db, query);
    }
    return (await db.executeQuery(query)).rows;
  };
}
