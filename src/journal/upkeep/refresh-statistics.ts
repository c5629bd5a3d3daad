import { type Kysely, sql } from 'kysely';
import type { Store } from '../store.js';
import type { Tables } from '../tables.js';

/**
 * Has PostgreSQL look at its tables anew after many rows came in at once: it chooses its ways by what it last saw, and
 * would else go by empty tables until it looks by itself. SQLite chooses by the indexes alone.
 */
export async function refreshStatistics({
  db,
  engine,
}: {
  db: Kysely<Tables>;
  engine: Store['engine'];
}): Promise<void> {
  if (engine === 'postgresql') await sql`analyze`.execute(db);
}
