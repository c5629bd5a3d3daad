import type { Kysely } from 'kysely';
import { z } from 'zod';
import { say } from '../../language/say.js';
import { addEntry, type Entry, entriesOf, notFound, takeVersion } from '../entries.js';
import { JournalError, JournalInputError } from '../errors.js';
import { type By, idSchema, lineSchema, plainText, readInput, textSchema } from '../input.js';
import { keepQuery } from '../kept-query.js';
import { type Journal, read, write } from '../store.js';
import type { Tables } from '../tables.js';

/** A run of neighbouring positions that share a duct, a belt or a service zone. */
export const sectionSchema = z.strictObject({
  name: lineSchema,
  first: z.number().int().min(1),
  last: z.number().int().min(1),
});

/** A frame as it is entered. */
export const frameSchema = z.strictObject({
  id: idSchema,
  name: lineSchema,
  /** Where it stands, in the mill's words. */
  place: plainText(200).default(''),
  positions: z.number().int().min(1).max(2000),
  sections: z.array(sectionSchema).max(200).default([]),
  note: textSchema.default(''),
  /** No longer in use; its history stays. */
  retired: z.boolean().default(false),
});
export type FrameInput = z.input<typeof frameSchema>;

/** A frame of the mill. */
export interface FrameRecord extends z.output<typeof frameSchema> {
  readonly version: number;
}

/** Adds a frame. @throws JournalInputError; JournalError `refused` when the id is taken */
export async function addFrame(journal: Journal, frame: FrameInput, by: By): Promise<FrameRecord> {
  const input = readFrame(frame);
  return write(journal, by, { addFrame: input }, async (writing) => {
    const { sections, ...row } = input;
    const added = await writing.trx
      .insertInto('frames')
      .values({ ...row, retired: input.retired ? 1 : 0, version: 1 })
      .onConflict((conflict) => conflict.column('id').doNothing())
      .executeTakeFirst();
    if (added.numInsertedOrUpdatedRows === 0n) throw taken('frame', input.id);
    await putSections(writing.trx, input.id, sections);
    await addEntry(writing, 'frame', input.id, 1, { step: 'added', data: input });
    return { ...input, version: 1 };
  });
}

/** Changes a frame: all of its fields are given anew. @throws StaleError when it was changed meanwhile */
export async function changeFrame(
  journal: Journal,
  seen: number,
  frame: FrameInput,
  by: By,
): Promise<FrameRecord> {
  const input = readFrame(frame);
  return write(journal, by, { changeFrame: input, seen }, async (writing) => {
    const version = await takeVersion(writing, 'frame', input.id, seen);
    const { sections, id, ...row } = input;
    await writing.trx
      .updateTable('frames')
      .set({ ...row, retired: input.retired ? 1 : 0 })
      .where('id', '=', id)
      .execute();
    await putSections(writing.trx, id, sections);
    await addEntry(writing, 'frame', id, version, { step: 'changed', data: input });
    return { ...input, version };
  });
}

/** All frames, those in use first, then by name. */
export async function listFrames(journal: Journal): Promise<FrameRecord[]> {
  return read(journal, async (db) => {
    const rows = await allFrames(db);
    const sections = await allSections(db);
    return rows.map((row) =>
      toFrame(
        row,
        sections.filter((section) => section.frame === row.id),
      ),
    );
  });
}

const allFrames = keepQuery((db) =>
  db.selectFrom('frames').selectAll().orderBy('retired').orderBy('name').orderBy('id'),
);
const allSections = keepQuery((db) =>
  db.selectFrom('sections').selectAll().orderBy('frame').orderBy('first'),
);

/** One frame. @throws JournalError `not-found` */
export async function findFrame(journal: Journal, id: string): Promise<FrameRecord> {
  return read(journal, (db) => loadFrame(db, id));
}

/** The history of a frame's own record, oldest first. */
export async function historyOfFrame(journal: Journal, id: string): Promise<Entry[]> {
  return read(journal, (db) => entriesOf(db, 'frame', id));
}

/** One frame, inside a transaction or not. */
export async function loadFrame(db: Kysely<Tables>, id: string): Promise<FrameRecord> {
  const row = await db.selectFrom('frames').selectAll().where('id', '=', id).executeTakeFirst();
  if (row === undefined) throw notFound('frame', id);
  const sections = await db
    .selectFrom('sections')
    .selectAll()
    .where('frame', '=', id)
    .orderBy('first')
    .execute();
  return toFrame(row, sections);
}

/** The error for an id that is in use. */
export const taken = (kind: 'frame' | 'lot' | 'yarn', id: string): JournalError =>
  new JournalError('refused', say('refused.taken', { kind: say(`kept-kind.${kind}`), id }));

function readFrame(frame: FrameInput): z.output<typeof frameSchema> {
  const input = readInput(frameSchema, frame, 'frame');
  const sections = [...input.sections].sort((a, b) => a.first - b.first);
  sections.forEach((section, n) => {
    const before = sections[n - 1];
    const low = before === undefined ? 1 : before.last + 1;
    if (section.first < low || section.last < section.first || section.last > input.positions)
      throw new JournalInputError([
        {
          field: `frame.sections ${section.name}`,
          value: say('input.range', { first: section.first, last: section.last }),
          allowed: say('input.sections', { positions: input.positions }),
        },
      ]);
  });
  return { ...input, sections };
}

async function putSections(
  db: Kysely<Tables>,
  frame: string,
  sections: z.output<typeof frameSchema>['sections'],
): Promise<void> {
  await db.deleteFrom('sections').where('frame', '=', frame).execute();
  if (sections.length > 0)
    await db
      .insertInto('sections')
      .values(sections.map((section) => ({ frame, ...section })))
      .execute();
}

function toFrame(row: Tables['frames'], sections: readonly Tables['sections'][]): FrameRecord {
  return {
    ...row,
    retired: row.retired === 1,
    sections: sections.map(({ name, first, last }) => ({ name, first, last })),
  };
}
