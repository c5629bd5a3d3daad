import { z } from 'zod';
import { addEntry, notFound, takeVersion } from '../entries.js';
import { amountSchema, type By, idSchema, lineSchema, readInput, textSchema } from '../input.js';
import { keepQuery } from '../kept-query.js';
import { type Journal, read, write } from '../store.js';
import type { Tables } from '../tables.js';
import { taken } from './frames.js';

const target = amountSchema.nullable().default(null);

/** A yarn the mill sells, with what it should be. Targets not set are null. */
export const yarnSchema = z.strictObject({
  id: idSchema,
  name: lineSchema,
  endUse: idSchema.nullable().default(null),
  targets: z
    .strictObject({
      /** tex */
      count: target,
      /** turns per metre */
      twist: target,
      /** cN/tex */
      tenacity: target,
      /** hairiness index or hairs per metre, as the mill's instrument gives it */
      hairiness: target,
      /** % */
      cvm: target,
      /** end breaks per 1000 rotor-hours */
      breaksPer1000: target,
    })
    .prefault({}),
  note: textSchema.default(''),
  retired: z.boolean().default(false),
});
export type YarnInput = z.input<typeof yarnSchema>;
type YarnFields = z.output<typeof yarnSchema>;

export interface YarnRecord extends YarnFields {
  readonly version: number;
}

/** Adds a yarn. @throws JournalInputError; JournalError `refused` when the id is taken */
export async function addYarn(journal: Journal, yarn: YarnInput, by: By): Promise<YarnRecord> {
  const input = readInput(yarnSchema, yarn, 'yarn');
  return write(journal, by, { addYarn: input }, async (writing) => {
    const added = await writing.trx
      .insertInto('yarns')
      .values({ id: input.id, version: 1, ...toRow(input) })
      .onConflict((conflict) => conflict.column('id').doNothing())
      .executeTakeFirst();
    if (added.numInsertedOrUpdatedRows === 0n) throw taken('yarn', input.id);
    await addEntry(writing, 'yarn', input.id, 1, { step: 'added', data: input });
    return { ...input, version: 1 };
  });
}

/** Changes a yarn: all of its fields are given anew. @throws StaleError when it was changed meanwhile */
export async function changeYarn(
  journal: Journal,
  seen: number,
  yarn: YarnInput,
  by: By,
): Promise<YarnRecord> {
  const input = readInput(yarnSchema, yarn, 'yarn');
  return write(journal, by, { changeYarn: input, seen }, async (writing) => {
    const version = await takeVersion(writing, 'yarn', input.id, seen);
    await writing.trx.updateTable('yarns').set(toRow(input)).where('id', '=', input.id).execute();
    await addEntry(writing, 'yarn', input.id, version, { step: 'changed', data: input });
    return { ...input, version };
  });
}

/** All yarns, those in use first, then by name. */
export async function listYarns(journal: Journal): Promise<YarnRecord[]> {
  return read(journal, async (db) => (await allYarns(db)).map(toYarn));
}

const allYarns = keepQuery((db) =>
  db.selectFrom('yarns').selectAll().orderBy('retired').orderBy('name').orderBy('id'),
);

/** One yarn. @throws JournalError `not-found` */
export async function findYarn(journal: Journal, id: string): Promise<YarnRecord> {
  return read(journal, async (db) => {
    const row = await db.selectFrom('yarns').selectAll().where('id', '=', id).executeTakeFirst();
    if (row === undefined) throw notFound('yarn', id);
    return toYarn(row);
  });
}

const toRow = ({ name, endUse, targets, note, retired }: YarnFields) => ({
  name,
  end_use: endUse,
  count_tex: targets.count,
  twist_per_metre: targets.twist,
  tenacity: targets.tenacity,
  hairiness: targets.hairiness,
  cvm: targets.cvm,
  breaks_norm: targets.breaksPer1000,
  note,
  retired: retired ? 1 : 0,
});

const toYarn = (row: Tables['yarns']): YarnRecord => ({
  id: row.id,
  version: row.version,
  name: row.name,
  endUse: row.end_use,
  targets: {
    count: row.count_tex,
    twist: row.twist_per_metre,
    tenacity: row.tenacity,
    hairiness: row.hairiness,
    cvm: row.cvm,
    breaksPer1000: row.breaks_norm,
  },
  note: row.note,
  retired: row.retired === 1,
});
