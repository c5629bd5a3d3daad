import type { MessageKey } from '../../../language/say.js';
import { say } from '../../../language/say.js';
import { sourceText } from '../../../language/source-text.js';
import { compareTexts } from '../../../language/words.js';
import {
  LEVELS_OF_PRACTICE,
  mixedNumber,
  type PracticeLevel,
  practiceCode,
  type TrainingRoom,
} from '../../../rules/training/index.js';
import type { GlossaryPage, TrainingPage } from '../../../templates/training-models.js';

const TELLS = {
  1: 'training.tells-one-way',
  2: 'training.tells-alike',
  3: 'training.tells-two',
  4: 'training.tells-nothing',
  5: 'training.tells-mislead',
} as const satisfies Record<PracticeLevel, MessageKey>;

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
        tells: say(TELLS[level]),
        href: `/training/practice?case=${practiceCode({ level, seed })}`,
      })),
      {
        title: say('training.any'),
        tells: say('training.any-text'),
        href: `/training/practice?case=${practiceCode(mixedNumber(seed))}`,
      },
    ],
    lessons: room.material.lessons.map((lesson) => ({
      href: `/training/lessons/${lesson.id}`,
      title: sourceText(lesson.title),
      lead: sourceText(lesson.lead),
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
      .sort(([, a], [, b]) => compareTexts(a.term, b.term))
      .map(([id, entry]) => ({
        id,
        term: sourceText(entry.term),
        plain: sourceText(entry.plain),
        more: sourceText(entry.more),
        see: (entry.see ?? []).map((other) => ({
          href: `#${other}`,
          text: sourceText(material.glossary[other]?.term ?? other),
        })),
      })),
  };
}
