import type { Cause } from '../knowledge/schema.js';

/** What a worked case says of a cause. */
export type Expectation = NonNullable<Cause['examples']>[number]['expect'];

/** Below this a cause counts as out of the question. */
export const OUT_OF_THE_QUESTION = 0.02;
/** From this on a cause leads so clearly that the case is decided. */
export const DECIDED = 0.5;

/** A cause as a ranking shows it; rankings come with falling probability. */
export interface Ranked {
  readonly id: string;
  readonly probability: number;
}

/** @returns place of a cause in a ranking, 1 for the first; 0 when it is not there */
export function rankOf(ranking: readonly Ranked[], id: string): number {
  return ranking.findIndex((one) => one.id === id) + 1;
}

/**
 * Whether a ranking says of a cause what is expected. `first` and `first-three` speak of its place,
 * `below-2-percent` of its probability; `undecided` holds when the cause lies between 2 % and 50 % and no cause leads
 * with 50 % or more.
 */
export function meets(expected: Expectation, ranking: readonly Ranked[], cause: string): boolean {
  const rank = rankOf(ranking, cause);
  const own = ranking[rank - 1];
  if (own === undefined) return false;
  switch (expected) {
    case 'first':
      return rank === 1;
    case 'first-three':
      return rank <= 3;
    case 'below-2-percent':
      return own.probability < OUT_OF_THE_QUESTION;
    case 'undecided':
      return (
        own.probability >= OUT_OF_THE_QUESTION &&
        own.probability <= DECIDED &&
        (ranking[0]?.probability ?? 0) < DECIDED
      );
  }
}
