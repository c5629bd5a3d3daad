import type { Kysely } from 'kysely';
import { say } from '../../language/say.js';
import { notFound } from '../entries.js';
import { JournalInputError } from '../errors.js';
import type { Tables } from '../tables.js';

/** Things of the mill that something refers to. */
export interface Linked {
  readonly frame?: string | null | undefined;
  readonly position?: number | null | undefined;
  readonly lot?: string | null | undefined;
  readonly yarn?: string | null | undefined;
}

/**
 * Checks that what is referred to exists, and that the position is one of the frame's.
 * @throws JournalError `not-found`; JournalInputError for a position
 */
export async function requireLinked(db: Kysely<Tables>, linked: Linked): Promise<void> {
  const { frame, position, lot, yarn } = linked;
  if (typeof lot === 'string') await requireRow(db, 'lots', 'lot', lot);
  if (typeof yarn === 'string') await requireRow(db, 'yarns', 'yarn', yarn);
  if (typeof frame === 'string') {
    const row = await db.selectFrom('frames').select('positions').where('id', '=', frame).executeTakeFirst();
    if (row === undefined) throw notFound('frame', frame);
    if (typeof position === 'number' && position > row.positions)
      throw new JournalInputError([
        {
          field: 'position',
          value: String(position),
          allowed: say('input.position-on-frame', { positions: row.positions }),
        },
      ]);
  } else if (typeof position === 'number')
    throw new JournalInputError([
      { field: 'position', value: String(position), allowed: say('input.position-with-frame') },
    ]);
}

/**
 * Checks that positions are those of a frame; those of no frame are not known and pass.
 * @param field the field that is named in the error
 * @throws JournalInputError naming the first position that the frame does not have
 */
export async function requirePositions(
  db: Kysely<Tables>,
  frame: string | null,
  positions: readonly number[],
  field: string,
): Promise<void> {
  if (frame === null) return;
  const row = await db.selectFrom('frames').select('positions').where('id', '=', frame).executeTakeFirst();
  const beyond = row === undefined ? undefined : positions.find((position) => position > row.positions);
  if (row === undefined || beyond === undefined) return;
  throw new JournalInputError([
    { field, value: String(beyond), allowed: say('input.position-on-frame', { positions: row.positions }) },
  ]);
}

async function requireRow(
  db: Kysely<Tables>,
  table: 'lots' | 'yarns',
  kind: 'lot' | 'yarn',
  id: string,
): Promise<void> {
  const row = await db.selectFrom(table).select('id').where('id', '=', id).executeTakeFirst();
  if (row === undefined) throw notFound(kind, id);
}
