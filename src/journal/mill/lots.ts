import { z } from 'zod';
import { addEntry, notFound, takeVersion } from '../entries.js';
import { type By, idSchema, lineSchema, plainText, readInput, textSchema } from '../input.js';
import { keepQuery } from '../kept-query.js';
import { type Journal, read, write } from '../store.js';
import type { Tables } from '../tables.js';
import { instantSchema } from '../time.js';
import { taken } from './frames.js';
import { requireLinked } from './linked.js';

/** A lot: material that is spun together and sold under one number. */
export const lotSchema = z.strictObject({
  id: idSchema,
  name: lineSchema,
  yarn: idSchema.nullable().default(null),
  /** What it is made of, in the mill's words. */
  material: plainText(500).default(''),
  receivedAt: instantSchema.nullable().default(null),
  note: textSchema.default(''),
  retired: z.boolean().default(false),
});
export type LotInput = z.input<typeof lotSchema>;
type LotFields = z.output<typeof lotSchema>;

export interface LotRecord extends LotFields {
  readonly version: number;
}

/** Adds a lot. @throws JournalInputError; JournalError `refused` when the id is taken, `not-found` for its yarn */
export async function addLot(journal: Journal, lot: LotInput, by: By): Promise<LotRecord> {
  const input = readInput(lotSchema, lot, 'lot');
  return write(journal, by, { addLot: input }, async (writing) => {
    await requireLinked(writing.trx, { yarn: input.yarn });
    const added = await writing.trx
      .insertInto('lots')
      .values({ id: input.id, version: 1, ...toRow(input) })
      .onConflict((conflict) => conflict.column('id').doNothing())
      .executeTakeFirst();
    if (added.numInsertedOrUpdatedRows === 0n) throw taken('lot', input.id);
    await addEntry(writing, 'lot', input.id, 1, { step: 'added', data: input });
    return { ...input, version: 1 };
  });
}

/** Changes a lot: all of its fields are given anew. @throws StaleError when it was changed meanwhile */
export async function changeLot(journal: Journal, seen: number, lot: LotInput, by: By): Promise<LotRecord> {
  const input = readInput(lotSchema, lot, 'lot');
  return write(journal, by, { changeLot: input, seen }, async (writing) => {
    await requireLinked(writing.trx, { yarn: input.yarn });
    const version = await takeVersion(writing, 'lot', input.id, seen);
    await writing.trx.updateTable('lots').set(toRow(input)).where('id', '=', input.id).execute();
    await addEntry(writing, 'lot', input.id, version, { step: 'changed', data: input });
    return { ...input, version };
  });
}

/** All lots, those in use first, then by name. */
export async function listLots(journal: Journal): Promise<LotRecord[]> {
  return read(journal, async (db) => (await allLots(db)).map(toLot));
}

const allLots = keepQuery((db) =>
  db.selectFrom('lots').selectAll().orderBy('retired').orderBy('name').orderBy('id'),
);

/** One lot. @throws JournalError `not-found` */
export async function findLot(journal: Journal, id: string): Promise<LotRecord> {
  return read(journal, async (db) => {
    const row = await db.selectFrom('lots').selectAll().where('id', '=', id).executeTakeFirst();
    if (row === undefined) throw notFound('lot', id);
    return toLot(row);
  });
}

const toRow = ({ name, yarn, material, receivedAt, note, retired }: LotFields) => ({
  name,
  yarn,
  material,
  received_at: receivedAt,
  note,
  retired: retired ? 1 : 0,
});

const toLot = (row: Tables['lots']): LotRecord => ({
  id: row.id,
  version: row.version,
  name: row.name,
  yarn: row.yarn,
  material: row.material,
  receivedAt: row.received_at,
  note: row.note,
  retired: row.retired === 1,
});
