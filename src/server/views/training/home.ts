import {
  LEVELS_OF_PRACTICE,
  mixedNumber,
  type PracticeLevel,
  practiceCode,
  type TrainingRoom,
} from '../../../rules/training/index.js';
import type { GlossaryPage, TrainingPage } from '../../../templates/training-models.js';

const TELLS: Readonly<Record<PracticeLevel, string>> = {
  1: 'The signs point one way. Practise going it without detours.',
  2: 'Several causes show the same. Which look tells them apart?',
  3: 'Two things are wrong at once, and either one explains only part.',
  4: 'A count that frightens, and perhaps nothing behind it.',
  5: 'A change that has nothing to do with it, and signs that point elsewhere.',
};

/** The way into the training room. @param seed the number that the levels are linked with */
export function viewTraining(
  room: TrainingRoom,
  seed: number,
  code: { readonly typed: string; readonly error: string },
): TrainingPage {
  return {
    levels: [
      ...(Object.keys(LEVELS_OF_PRACTICE).map(Number) as PracticeLevel[]).map((level) => ({
        title: `${level}. ${LEVELS_OF_PRACTICE[level]}`,
        tells: TELLS[level],
        href: `/training/practice?case=${practiceCode({ level, seed })}`,
      })),
      {
        title: 'Any of them',
        tells: 'As on the floor: nobody tells you which kind it is.',
        href: `/training/practice?case=${practiceCode(mixedNumber(seed))}`,
      },
    ],
    lessons: room.material.lessons.map((lesson) => ({
      href: `/training/lessons/${lesson.id}`,
      title: lesson.title,
      lead: lesson.lead,
    })),
    code: code.typed,
    codeError: code.error,
    replayHref: '/training/replay?frame=frame-3',
    terms: Object.keys(room.material.glossary).length,
  };
}

/** Every trade term with beginners' words. */
export function viewGlossary({ material }: TrainingRoom): GlossaryPage {
  return {
    terms: Object.entries(material.glossary)
      .sort(([, a], [, b]) => a.term.localeCompare(b.term))
      .map(([id, entry]) => ({
        id,
        term: entry.term,
        plain: entry.plain,
        more: entry.more,
        see: (entry.see ?? []).map((other) => ({
          href: `#${other}`,
          text: material.glossary[other]?.term ?? other,
        })),
      })),
  };
}
