import { z } from 'zod';
import { addEntry, nextNumber, notFound, takeVersion } from '../entries.js';
import { type By, idSchema, lineSchema, plainText, readInput } from '../input.js';
import { type Journal, read, write } from '../store.js';
import type { Tables } from '../tables.js';

/** A practice case as it is kept: a case file with its answer key. */
export const practiceCaseSchema = z.strictObject({
  title: lineSchema,
  text: plainText(60_000).min(1),
  /** Written by a trainer, or made from a case of the journal. */
  origin: z.enum(['written', 'journal']),
  fromCase: idSchema.nullable().default(null),
  /** Whether the product agreed with the key when it was kept, and with which knowledge. */
  agrees: z.boolean(),
  knowledge: lineSchema,
  retired: z.boolean().default(false),
});
export type PracticeCaseInput = z.input<typeof practiceCaseSchema>;
type PracticeCaseFields = z.output<typeof practiceCaseSchema>;

export interface PracticeCaseRecord extends PracticeCaseFields {
  readonly id: string;
  readonly number: number;
  readonly version: number;
  readonly changedAt: string;
}

/** Keeps a new practice case. @throws JournalInputError */
export async function addPracticeCase(
  journal: Journal,
  practiceCase: PracticeCaseInput,
  by: By,
): Promise<PracticeCaseRecord> {
  const input = readInput(practiceCaseSchema, practiceCase, 'practiceCase');
  return write(journal, by, { addPracticeCase: input }, async (writing) => {
    const number = await nextNumber(writing, 'practice-case');
    const id = `own-${number}`;
    const changed_at = writing.recorded;
    await writing.trx
      .insertInto('practice_cases')
      .values({ id, number, version: 1, ...toRow(input), changed_at })
      .execute();
    await addEntry(writing, 'practice-case', id, 1, { step: 'added', data: input });
    return { ...input, id, number, version: 1, changedAt: changed_at };
  });
}

/** Changes a practice case; what it was before stays, for the attempts made on it. @throws StaleError */
export async function changePracticeCase(
  journal: Journal,
  id: string,
  seen: number,
  practiceCase: PracticeCaseInput,
  by: By,
): Promise<number> {
  const input = readInput(practiceCaseSchema, practiceCase, 'practiceCase');
  return write(journal, by, { changePracticeCase: input, id, seen }, async (writing) => {
    const version = await takeVersion(writing, 'practice-case', id, seen);
    await writing.trx
      .updateTable('practice_cases')
      .set({ ...toRow(input), changed_at: writing.recorded })
      .where('id', '=', id)
      .execute();
    await addEntry(writing, 'practice-case', id, version, { step: 'changed', data: input });
    return version;
  });
}

/** All practice cases, those in use first, then by number. */
export async function listPracticeCases(journal: Journal): Promise<PracticeCaseRecord[]> {
  const rows = await read(journal, (db) =>
    db.selectFrom('practice_cases').selectAll().orderBy('retired').orderBy('number').execute(),
  );
  return rows.map(toPracticeCase);
}

/**
 * A practice case, as it is or as it was at a version.
 * @throws JournalError `not-found`
 */
export async function findPracticeCase(
  journal: Journal,
  id: string,
  version?: number,
): Promise<PracticeCaseRecord> {
  return read(journal, async (db) => {
    const row = await db.selectFrom('practice_cases').selectAll().where('id', '=', id).executeTakeFirst();
    if (row === undefined) throw notFound('practice case', id);
    const now = toPracticeCase(row);
    if (version === undefined || version === now.version) return now;
    const entry = await db
      .selectFrom('entries')
      .select(['data', 'recorded'])
      .where('kind', '=', 'practice-case')
      .where('subject', '=', id)
      .where('version', '=', version)
      .executeTakeFirst();
    if (entry === undefined) throw notFound('version of the practice case', `${id}.${version}`);
    const was = practiceCaseSchema.parse(JSON.parse(entry.data));
    return { ...was, id, number: now.number, version, changedAt: entry.recorded };
  });
}

const toRow = (fields: PracticeCaseFields) => ({
  title: fields.title,
  origin: fields.origin,
  case_text: fields.text,
  from_case: fields.fromCase,
  agrees: fields.agrees ? 1 : 0,
  knowledge: fields.knowledge,
  retired: fields.retired ? 1 : 0,
});

const toPracticeCase = (row: Tables['practice_cases']): PracticeCaseRecord => ({
  id: row.id,
  number: row.number,
  version: row.version,
  title: row.title,
  origin: row.origin === 'journal' ? 'journal' : 'written',
  text: row.case_text,
  fromCase: row.from_case,
  agrees: row.agrees === 1,
  knowledge: row.knowledge,
  retired: row.retired === 1,
  changedAt: row.changed_at,
});
