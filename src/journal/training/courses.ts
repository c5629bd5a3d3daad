import { randomBytes } from 'node:crypto';
import { z } from 'zod';
import { say } from '../../language/say.js';
import {
  addEntry,
  type Entry,
  entriesOf,
  nextNumber,
  notFound,
  takeNextVersion,
  takeVersion,
} from '../entries.js';
import { JournalError } from '../errors.js';
import { type By, idSchema, lineSchema, readInput, textSchema } from '../input.js';
import { type Journal, read, write } from '../store.js';
import type { Tables } from '../tables.js';

/** Whether trainees see a course and may work in it. */
export const COURSE_STATES = ['draft', 'open', 'closed'] as const;
export type CourseState = (typeof COURSE_STATES)[number];

const common = {
  /** Stays with the part for good; attempts refer to it. */
  id: idSchema,
  /** Minutes planned for it in class. */
  minutes: z.number().int().min(1).max(600),
  /** What the trainer means to say or ask. */
  note: textSchema.default(''),
};

/** A part of a course: a lesson, a dealt case, a case of the trainer's own, or a replay to show. */
export const courseItemSchema = z.discriminatedUnion('kind', [
  z.strictObject({ ...common, kind: z.literal('lesson'), lesson: idSchema }),
  z.strictObject({ ...common, kind: z.literal('case'), code: idSchema }),
  z.strictObject({ ...common, kind: z.literal('own'), practiceCase: idSchema }),
  z.strictObject({
    ...common,
    kind: z.literal('replay'),
    code: idSchema,
    checks: z.array(idSchema).max(10).default([]),
  }),
]);
export type CourseItemRecord = z.output<typeof courseItemSchema>;

const MOST_ITEMS = 40;

/** What a trainer says of a course. */
export const courseSchema = z.strictObject({
  title: lineSchema,
  /** Whom it is for; may be empty. */
  group: z.string().trim().max(200).default(''),
  note: textSchema.default(''),
  items: z
    .array(courseItemSchema)
    .max(MOST_ITEMS)
    .refine((items) => new Set(items.map((item) => item.id)).size === items.length, {
      error: () => say('input.different-ids'),
    })
    .default([]),
});
export type CourseInput = z.input<typeof courseSchema>;
type CourseFields = z.output<typeof courseSchema>;

export interface CourseRecord extends CourseFields {
  readonly id: string;
  readonly number: number;
  readonly version: number;
  readonly state: CourseState;
  readonly madeAt: string;
  readonly changedAt: string;
}

/** Somebody who takes part. */
export interface MemberRecord {
  readonly trainee: string;
  readonly joinedAt: string;
}

/** A new id for a part of a course. */
export const newItemId = (): string => `part-${randomBytes(4).toString('hex')}`;

/** Makes a course; trainees see it once it is opened. @throws JournalInputError */
export async function addCourse(journal: Journal, course: CourseInput, by: By): Promise<CourseRecord> {
  const input = readInput(courseSchema, course, 'course');
  return write(journal, by, { addCourse: input }, async (writing) => {
    const number = await nextNumber(writing, 'course');
    const id = `course-${number}`;
    const times = { made_at: writing.recorded, changed_at: writing.recorded };
    await writing.trx
      .insertInto('courses')
      .values({ id, number, version: 1, state: 'draft', ...toRow(input), ...times })
      .execute();
    await addEntry(writing, 'course', id, 1, { step: 'added', data: input });
    return {
      ...input,
      id,
      number,
      version: 1,
      state: 'draft' as const,
      madeAt: writing.recorded,
      changedAt: writing.recorded,
    };
  });
}

/** Changes a course: all of its fields are given anew. @throws StaleError when it was changed meanwhile */
export async function changeCourse(
  journal: Journal,
  id: string,
  seen: number,
  course: CourseInput,
  by: By,
): Promise<void> {
  const input = readInput(courseSchema, course, 'course');
  await write(journal, by, { changeCourse: input, id, seen }, async (writing) => {
    const version = await takeVersion(writing, 'course', id, seen);
    await writing.trx
      .updateTable('courses')
      .set({ ...toRow(input), changed_at: writing.recorded })
      .where('id', '=', id)
      .execute();
    await addEntry(writing, 'course', id, version, { step: 'changed', data: input });
  });
}

/** Opens a course to trainees, or closes it; nothing is lost by either. @throws JournalError `not-found` */
export async function setCourseState(
  journal: Journal,
  id: string,
  state: CourseState,
  by: By,
): Promise<void> {
  const wanted = readInput(z.enum(COURSE_STATES), state, 'state');
  await write(journal, by, { setCourseState: wanted, id }, async (writing) => {
    const version = await takeNextVersion(writing, 'course', id);
    await writing.trx
      .updateTable('courses')
      .set({ state: wanted, changed_at: writing.recorded })
      .where('id', '=', id)
      .execute();
    await addEntry(writing, 'course', id, version, { step: 'state', data: { state: wanted } });
  });
}

/**
 * Lets somebody take part; doing so twice changes nothing.
 * @throws JournalError `refused` when the course is not open
 */
export async function joinCourse(journal: Journal, id: string, trainee: string, by: By): Promise<void> {
  const name = readInput(lineSchema, trainee, 'trainee');
  await write(journal, by, { joinCourse: id, name }, async ({ trx, recorded }) => {
    const course = await trx.selectFrom('courses').select('state').where('id', '=', id).executeTakeFirst();
    if (course === undefined) throw notFound('course', id);
    if (course.state !== 'open') throw new JournalError('refused', say('refused.course-not-open'));
    await trx
      .insertInto('course_members')
      .values({ course: id, trainee: name, joined_at: recorded })
      .onConflict((conflict) => conflict.columns(['course', 'trainee']).doNothing())
      .execute();
    return null;
  });
}

/** All courses, open ones first, then the newest. */
export async function listCourses(journal: Journal): Promise<CourseRecord[]> {
  const rows = await read(journal, (db) =>
    db.selectFrom('courses').selectAll().orderBy('number', 'desc').execute(),
  );
  const order: Readonly<Record<CourseState, number>> = { open: 0, draft: 1, closed: 2 };
  return rows.map(toCourse).sort((a, b) => order[a.state] - order[b.state]);
}

/** One course. @throws JournalError `not-found` */
export async function findCourse(journal: Journal, id: string): Promise<CourseRecord> {
  return read(journal, async (db) => {
    const row = await db.selectFrom('courses').selectAll().where('id', '=', id).executeTakeFirst();
    if (row === undefined) throw notFound('course', id);
    return toCourse(row);
  });
}

/** Who takes part, by name. */
export async function listMembers(journal: Journal, id: string): Promise<MemberRecord[]> {
  const rows = await read(journal, (db) =>
    db.selectFrom('course_members').selectAll().where('course', '=', id).orderBy('trainee').execute(),
  );
  return rows.map((row) => ({ trainee: row.trainee, joinedAt: row.joined_at }));
}

/** How a course came to be what it is, oldest first. */
export const historyOfCourse = (journal: Journal, id: string): Promise<Entry[]> =>
  read(journal, (db) => entriesOf(db, 'course', id));

const toRow = ({ title, group, note, items }: CourseFields) => ({
  title,
  class_group: group,
  note,
  items: JSON.stringify(items),
});

const toCourse = (row: Tables['courses']): CourseRecord => ({
  id: row.id,
  number: row.number,
  version: row.version,
  title: row.title,
  group: row.class_group,
  state: row.state as CourseState,
  note: row.note,
  items: JSON.parse(row.items) as CourseItemRecord[],
  madeAt: row.made_at,
  changedAt: row.changed_at,
});
