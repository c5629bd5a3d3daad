import type { CourseRecord, PracticeCaseRecord } from '../../journal/index.js';
import type { CsvCell } from '../../statistics/tables/write-csv.js';
import type { Handed } from './course-results.js';
import { sayParts } from './course-words.js';
import type { TrainingHall } from './hall.js';

/** One thing handed in, for programs and spreadsheets. */
export interface ExportedResult {
  readonly number: number;
  readonly at: string;
  readonly trainee: string;
  readonly part: string;
  readonly kind: 'case' | 'lesson';
  readonly knowledge: string;
  readonly passed: boolean | null;
  readonly truth: readonly string[];
  readonly proposed: readonly { readonly cause: string; readonly confidence: number }[];
  readonly minutes: number | null;
  readonly bestMinutes: number | null;
  readonly brier: number | null;
  readonly log: number | null;
  readonly unsafe: number | null;
  readonly right: number | null;
  readonly of: number | null;
  readonly advice: readonly string[];
}

/** Everything handed in for a course, in the order in which it came. Minutes count as in the marking; scores: less is better. */
export function exportResults(
  hall: Pick<TrainingHall, 'room'>,
  course: CourseRecord,
  handed: Handed,
  cases: readonly PracticeCaseRecord[],
): ExportedResult[] {
  const titles = new Map(sayParts(course.items, hall, cases).map(({ item, title }) => [item.id, title]));
  const cased = handed.cases.map(
    ({ attempt, result }): ExportedResult => ({
      number: attempt.number,
      at: attempt.at,
      trainee: attempt.trainee,
      part: titles.get(attempt.item) ?? result.title,
      kind: 'case',
      knowledge: attempt.knowledge,
      passed: result.passed,
      truth: result.truth,
      proposed: result.proposed,
      minutes: result.minutes,
      bestMinutes: result.bestMinutes,
      brier: result.brier,
      log: result.log,
      unsafe: result.unsafe.length,
      right: null,
      of: null,
      advice: result.advice,
    }),
  );
  const lessons = handed.lessons.map(
    ({ attempt, result }): ExportedResult => ({
      number: attempt.number,
      at: attempt.at,
      trainee: attempt.trainee,
      part: titles.get(attempt.item) ?? result.title,
      kind: 'lesson',
      knowledge: attempt.knowledge,
      passed: null,
      truth: [],
      proposed: [],
      minutes: null,
      bestMinutes: null,
      brier: null,
      log: null,
      unsafe: null,
      right: result.right,
      of: result.of,
      advice: [],
    }),
  );
  return [...cased, ...lessons].sort((a, b) => a.number - b.number);
}

/** Columns of the table form. */
export const RESULT_COLUMNS = [
  'number',
  'at',
  'trainee',
  'part',
  'kind',
  'knowledge',
  'passed',
  'at work',
  'put forward',
  'minutes',
  'best minutes',
  'brier',
  'log score',
  'unsafe steps',
  'right',
  'of',
  'what to do differently',
] as const;

/** A row of the table form. */
export const resultRow = (one: ExportedResult): CsvCell[] => [
  one.number,
  one.at,
  one.trainee,
  one.part,
  one.kind,
  one.knowledge,
  one.passed === null ? undefined : one.passed ? 'yes' : 'no',
  one.truth.join(' '),
  one.proposed.map((cause) => `${cause.cause} ${Math.round(100 * cause.confidence)} %`).join('; '),
  rounded(one.minutes),
  rounded(one.bestMinutes),
  rounded(one.brier),
  rounded(one.log),
  one.unsafe ?? undefined,
  one.right ?? undefined,
  one.of ?? undefined,
  one.advice.join(' '),
];

const rounded = (value: number | null): number | undefined =>
  value === null ? undefined : Math.round(value * 1000) / 1000;
