import { type CourseRecord, type Journal, type KeptAttempt, listAttempts } from '../../journal/index.js';
import {
  type AttemptRecord,
  type AttemptResult,
  attemptResultSchema,
  type LessonResult,
  lessonResultSchema,
  recordOf,
} from '../../rules/training/index.js';

/** A case handed in, as the course counts it. */
export interface HandedCase {
  readonly attempt: KeptAttempt;
  readonly result: AttemptResult;
  readonly record: AttemptRecord;
}

/** A lesson's questions handed in. */
export interface HandedLesson {
  readonly attempt: KeptAttempt;
  readonly result: LessonResult;
}

/** Everything handed in for a course, oldest first. */
export interface Handed {
  readonly cases: readonly HandedCase[];
  readonly lessons: readonly HandedLesson[];
}

/** Reads what was handed in, of everybody or of one trainee. */
export async function readHanded(journal: Journal, course: string, trainee?: string): Promise<Handed> {
  const cases: HandedCase[] = [];
  const lessons: HandedLesson[] = [];
  for (const attempt of await listAttempts(journal, course, trainee)) {
    if (attempt.kind === 'lesson') {
      const read = lessonResultSchema.safeParse(attempt.result);
      if (read.success) lessons.push({ attempt, result: read.data });
      continue;
    }
    const read = attemptResultSchema.safeParse(attempt.result);
    if (read.success) cases.push({ attempt, result: read.data, record: recordOf(read.data, attempt) });
  }
  return { cases, lessons };
}

/** The last attempt of each trainee at each part. */
export const lastOfEach = (cases: readonly HandedCase[]): HandedCase[] => [
  ...new Map(cases.map((one) => [`${one.attempt.trainee}\n${one.attempt.item}`, one])).values(),
];

/** The first attempt of each trainee at each part: made without knowing how it ends. */
export const firstOfEach = (cases: readonly HandedCase[]): HandedCase[] =>
  lastOfEach([...cases].reverse()).reverse();

/** What somebody handed in for a part of a course, the last one. */
export function lastFor(
  handed: Handed,
  item: CourseRecord['items'][number],
): HandedCase | HandedLesson | undefined {
  if (item.kind === 'lesson') return handed.lessons.findLast((one) => one.result.lesson === item.lesson);
  return handed.cases.findLast((one) => one.attempt.item === item.id);
}
