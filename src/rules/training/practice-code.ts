import { say } from '../../language/say.js';
import { randomFor } from './seeded.js';

/** How hard a practice case is, and in what way; in the language of the moment. */
export const LEVELS_OF_PRACTICE = {
  get 1() {
    return say('training.level-1');
  },
  get 2() {
    return say('training.level-2');
  },
  get 3() {
    return say('training.level-3');
  },
  get 4() {
    return say('training.level-4');
  },
  get 5() {
    return say('training.level-5');
  },
};
export type PracticeLevel = keyof typeof LEVELS_OF_PRACTICE;

/** Seeds a practice case may have. */
export const MOST_SEED = 999_999;

/** Which case: the same number always gives the same case from the same knowledge base. */
export interface PracticeNumber {
  readonly level: PracticeLevel;
  /** Whole number, 1 to {@link MOST_SEED}. */
  readonly seed: number;
  /** The level follows from the seed and is not told to the trainee. */
  readonly mixed?: true;
}

/** The number of a case as it is written down: `2-7`, or `x-7` where the level is not told. */
export const practiceCode = ({ level, seed, mixed }: PracticeNumber): string =>
  `${mixed === true ? 'x' : level}-${seed}`;

/** A case whose level is not told: every seed has its own. */
export function mixedNumber(seed: number): PracticeNumber {
  const level = 1 + Math.floor(5 * randomFor('level', seed)());
  return { level: level as PracticeLevel, seed, mixed: true };
}

/** Reads a code; undefined when it is none. */
export function readPracticeCode(text: string): PracticeNumber | undefined {
  const match = /^\s*([1-5x])\s*-\s*([1-9]\d{0,5})\s*$/i.exec(text);
  if (match === null) return undefined;
  const seed = Number(match[2]);
  if (match[1]?.toLowerCase() === 'x') return mixedNumber(seed);
  return { level: Number(match[1]) as PracticeLevel, seed };
}
