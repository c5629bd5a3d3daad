import { z } from 'zod';
import { nextNumber, notFound } from '../entries.js';
import { type By, idSchema, lineSchema, readInput } from '../input.js';
import { packJson, unpackJson } from '../json.js';
import { type Journal, read, write } from '../store.js';
import type { Tables } from '../tables.js';

const attemptSchema = z.strictObject({
  course: idSchema,
  /** The part of the course. */
  item: idSchema,
  kind: z.enum(['case', 'lesson']),
  trainee: lineSchema,
  /** Version of the knowledge it was marked with. */
  knowledge: lineSchema,
  /** What the course counts. */
  result: z.record(z.string(), z.unknown()),
  /** Everything that is needed to show it, and to mark it anew: the case as dealt, the moves, the marking. */
  sheet: z.record(z.string(), z.unknown()).nullable().default(null),
});
export type AttemptInput = z.input<typeof attemptSchema>;

/** What a trainee did on one part of a course; written once and never changed. */
export interface KeptAttempt {
  readonly id: string;
  readonly course: string;
  readonly number: number;
  readonly item: string;
  readonly kind: 'case' | 'lesson';
  readonly trainee: string;
  readonly at: string;
  readonly knowledge: string;
  readonly result: unknown;
}

/** Keeps an attempt; whoever made it takes part from then on. @throws JournalError `not-found` */
export async function keepAttempt(journal: Journal, attempt: AttemptInput, by: By): Promise<KeptAttempt> {
  const input = readInput(attemptSchema, attempt, 'attempt');
  return write(journal, by, { keepAttempt: input }, async (writing) => {
    const { trx, at, recorded } = writing;
    const course = await trx
      .selectFrom('courses')
      .select('id')
      .where('id', '=', input.course)
      .executeTakeFirst();
    if (course === undefined) throw notFound('course', input.course);
    const number = await nextNumber(writing, `attempts of ${input.course}`);
    const { sheet, result, ...fields } = input;
    const row = { id: `${input.course}.${number}`, number, at, ...fields };
    await trx
      .insertInto('attempts')
      .values({
        ...row,
        result: JSON.stringify(result),
        sheet: sheet === null ? null : packJson(sheet),
      })
      .execute();
    await trx
      .insertInto('course_members')
      .values({ course: input.course, trainee: input.trainee, joined_at: recorded })
      .onConflict((conflict) => conflict.columns(['course', 'trainee']).doNothing())
      .execute();
    return { ...row, result };
  });
}

const PLAIN = ['id', 'course', 'number', 'item', 'kind', 'trainee', 'at', 'knowledge', 'result'] as const;

/** Attempts of a course, oldest first; of one trainee where a name is given. */
export async function listAttempts(
  journal: Journal,
  course: string,
  trainee?: string,
): Promise<KeptAttempt[]> {
  return read(journal, async (db) => {
    let query = db.selectFrom('attempts').select(PLAIN).where('course', '=', course);
    if (trainee !== undefined) query = query.where('trainee', '=', trainee);
    return (await query.orderBy('number').execute()).map(toAttempt);
  });
}

/** One attempt with its sheet. @throws JournalError `not-found` */
export async function findAttempt(
  journal: Journal,
  course: string,
  number: number,
): Promise<KeptAttempt & { readonly sheet: unknown }> {
  return read(journal, async (db) => {
    const row = await db
      .selectFrom('attempts')
      .selectAll()
      .where('course', '=', course)
      .where('number', '=', number)
      .executeTakeFirst();
    if (row === undefined) throw notFound('attempt', `${course}.${number}`);
    return { ...toAttempt(row), sheet: row.sheet === null ? null : unpackJson(row.sheet) };
  });
}

const toAttempt = (row: Omit<Tables['attempts'], 'sheet'>): KeptAttempt => ({
  id: row.id,
  course: row.course,
  number: row.number,
  item: row.item,
  kind: row.kind === 'lesson' ? 'lesson' : 'case',
  trainee: row.trainee,
  at: row.at,
  knowledge: row.knowledge,
  result: JSON.parse(row.result) as unknown,
});
