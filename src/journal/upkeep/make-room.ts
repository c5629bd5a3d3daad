import type { Kysely } from 'kysely';
import { JournalError } from '../errors.js';
import type { Tables } from '../tables.js';
import { countRows } from './row-pages.js';

/** A journal into which another is to be read must hold nothing but what the program itself set when it was made. */
export async function requireEmpty(db: Kysely<Tables>, place: string): Promise<void> {
  const counts = { ...(await countRows(db)) };
  const settings = await db.selectFrom('settings').select('key').execute();
  if (settings.every(({ key }) => key === 'time-zone')) delete counts.settings;
  const filled = Object.entries(counts).filter(([, count]) => count > 0);
  if (filled.length > 0)
    throw new JournalError(
      'refused',
      `The journal at ${place} is not empty (${filled.map(([table, count]) => `${table}: ${count}`).join(', ')}). Choose an empty data folder or database.`,
    );
}

/** Makes room for another journal: takes out what {@link requireEmpty} lets stand. */
export async function makeRoom(db: Kysely<Tables>, place: string): Promise<void> {
  await requireEmpty(db, place);
  await db.deleteFrom('settings').execute();
}
