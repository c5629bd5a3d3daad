import type { CourseItemRecord, CourseState, PracticeCaseRecord } from '../../journal/index.js';
import { LEVELS_OF_PRACTICE, readPracticeCode } from '../../rules/training/index.js';
import type { TrainingHall } from './hall.js';

/** What a part of a course is called, and of what kind it is. */
export interface PartWords {
  readonly title: string;
  readonly kind: string;
}

/** Words for the parts of a course; `cases` are the kept practice cases it may name. */
export function sayPart(
  item: CourseItemRecord,
  hall: Pick<TrainingHall, 'room'>,
  cases: readonly Pick<PracticeCaseRecord, 'id' | 'title'>[],
): PartWords {
  switch (item.kind) {
    case 'lesson': {
      const lesson = hall.room.material.lessons.find((one) => one.id === item.lesson);
      return { title: lesson?.title ?? item.lesson, kind: 'Lesson with three questions' };
    }
    case 'own': {
      const own = cases.find((one) => one.id === item.practiceCase);
      return { title: own?.title ?? item.practiceCase, kind: 'Practice case' };
    }
    case 'replay':
      return { title: `Case ${item.code} on the wall`, kind: 'Replay, step by step' };
    case 'case': {
      const number = readPracticeCode(item.code);
      const level =
        number === undefined || number.mixed === true ? '' : ` (${LEVELS_OF_PRACTICE[number.level]})`;
      return { title: `Practice ${item.code}`, kind: `Practice case${level.toLowerCase()}` };
    }
  }
}

/** Causes that a group meets in a course are counted for these kinds of part. */
export const isPractice = (item: CourseItemRecord): boolean => item.kind === 'case' || item.kind === 'own';

export const STATE_WORDS: Readonly<Record<CourseState, string>> = {
  draft: 'Being made',
  open: 'Open',
  closed: 'Closed',
};

/** The address of a course. */
export const courseHref = (id: string, more = ''): string => `/training/courses/${id}${more}`;

/** Minutes of a course in all. */
export const totalMinutes = (items: readonly CourseItemRecord[]): number =>
  items.reduce((sum, item) => sum + item.minutes, 0);
