/** How hard a practice case is, and in what way. */
export const LEVELS_OF_PRACTICE = {
  1: 'One clear fault',
  2: 'Look-alikes',
  3: 'Two faults',
  4: 'No fault at all',
  5: 'Data that mislead',
} as const;
export type PracticeLevel = keyof typeof LEVELS_OF_PRACTICE;

/** Seeds a practice case may have. */
export const MOST_SEED = 999_999;

/** Which case: the same number always gives the same case from the same knowledge base. */
export interface PracticeNumber {
  readonly level: PracticeLevel;
  /** Whole number, 1 to {@link MOST_SEED}. */
  readonly seed: number;
}

/** The number of a case as it is written down: `2-7`. */
export const practiceCode = ({ level, seed }: PracticeNumber): string => `${level}-${seed}`;

/** Reads a code; undefined when it is none. */
export function readPracticeCode(text: string): PracticeNumber | undefined {
  const match = /^\s*([1-5])\s*-\s*([1-9]\d{0,5})\s*$/.exec(text);
  if (match === null) return undefined;
  return { level: Number(match[1]) as PracticeLevel, seed: Number(match[2]) };
}
