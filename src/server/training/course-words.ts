import type { CourseItemRecord, CourseState, PracticeCaseRecord } from '../../journal/index.js';
import { say, wordTable } from '../../language/say.js';
import { inSentence } from '../../language/words.js';
import { LEVELS_OF_PRACTICE, readPracticeCode } from '../../rules/training/index.js';
import type { TrainingHall } from './hall.js';

/** What a part of a course is called, and of what kind it is. */
export interface PartWords {
  readonly title: string;
  readonly kind: string;
}

/**
 * Words for the parts of a course, in their order; `cases` are the kept practice cases it may name. No two have the same
 * title: a lesson that stands twice is gone through first and asked about last, anything else is numbered.
 */
export function sayParts<Item extends CourseItemRecord>(
  items: readonly Item[],
  hall: Pick<TrainingHall, 'room'>,
  cases: readonly Pick<PracticeCaseRecord, 'id' | 'title'>[],
): (PartWords & { readonly item: Item })[] {
  const parts = items.map((item) => ({ item, ...sayPart(item, hall, cases) }));
  const places = new Map<string, number[]>();
  parts.forEach(({ title }, n) => {
    places.set(title, [...(places.get(title) ?? []), n]);
  });
  return parts.map((part, n) => {
    const same = places.get(part.title) ?? [];
    if (same.length < 2) return part;
    const { title } = part;
    const time = same.indexOf(n) + 1;
    const taught = part.item.kind === 'lesson';
    if (taught && time === same.length) return { ...part, title: say('course.its-questions', { title }) };
    if (taught && same.length === 2) return { ...part, title: say('course.gone-through', { title }) };
    return { ...part, title: say('course.nth', { title, n: time }) };
  });
}

function sayPart(
  item: CourseItemRecord,
  hall: Pick<TrainingHall, 'room'>,
  cases: readonly Pick<PracticeCaseRecord, 'id' | 'title'>[],
): PartWords {
  switch (item.kind) {
    case 'lesson': {
      const lesson = hall.room.material.lessons.find((one) => one.id === item.lesson);
      return { title: lesson?.title ?? item.lesson, kind: say('course.k-lesson') };
    }
    case 'own': {
      const own = cases.find((one) => one.id === item.practiceCase);
      return { title: own?.title ?? item.practiceCase, kind: say('course.k-case') };
    }
    case 'replay':
      return { title: say('course.on-wall', { code: item.code }), kind: say('course.k-replay') };
    case 'case': {
      const number = readPracticeCode(item.code);
      return {
        title: say('course.practice', { code: item.code }),
        kind:
          number === undefined || number.mixed === true
            ? say('course.k-case')
            : say('course.k-case-level', { level: inSentence(LEVELS_OF_PRACTICE[number.level]) }),
      };
    }
  }
}

/** Causes that a group meets in a course are counted for these kinds of part. */
export const isPractice = (item: CourseItemRecord): boolean => item.kind === 'case' || item.kind === 'own';

/** States of a course in words. */
export const STATE_WORDS: Readonly<Record<CourseState, string>> = wordTable('course', [
  'draft',
  'open',
  'closed',
]);

/** The address of a course. */
export const courseHref = (id: string, more = ''): string => `/training/courses/${id}${more}`;

/** Minutes of a course in all. */
export const totalMinutes = (items: readonly CourseItemRecord[]): number =>
  items.reduce((sum, item) => sum + item.minutes, 0);
