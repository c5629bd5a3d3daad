import { say } from '../../language/say.js';
import type { CauseResult, Ranking } from '../../rules/index.js';
import { withoutStop } from '../../rules/words.js';

/** Causes shown before the rest is folded away, and most of the rest. */
export const MOST_SHOWN = 5;
export const MOST_LISTED = 15;

/** A cause as the list of the answer shows it. */
export interface CauseInBrief
  extends Pick<CauseResult, 'id' | 'label' | 'family' | 'familyLabel' | 'probability'> {
  readonly reason: string;
}

/** A ranking as far as the answer shows it: a fiftieth of the whole. */
export interface AnswerInBrief
  extends Pick<Ranking, 'summary' | 'severalCauses' | 'unexplained' | 'assumed' | 'warnings'> {
  /** The likeliest of those not ruled out, likeliest first. */
  readonly causes: readonly CauseInBrief[];
}

/** What the answer shows of a ranking, with reasons in the language of the caller. */
export function briefAnswer(ranking: Ranking): AnswerInBrief {
  const { summary, severalCauses, unexplained, assumed, warnings } = ranking;
  const causes = ranking.causes
    .filter((cause) => cause.ruledOut === undefined)
    .slice(0, MOST_SHOWN + MOST_LISTED)
    .map((cause) => {
      const { id, label, family, familyLabel, probability } = cause;
      return { id, label, family, familyLabel, probability, reason: strongestReason(cause) };
    });
  return { summary, severalCauses, unexplained, assumed, warnings, causes };
}

/** The entry that speaks most for the cause; the one that speaks least against it where nothing speaks for it. */
export function strongestEntry(
  cause: Pick<CauseResult, 'ledger'>,
): CauseResult['ledger'][number] | undefined {
  const entries = cause.ledger.filter((entry) => entry.kind !== 'base');
  return entries.reduce<(typeof entries)[number] | undefined>(
    (most, entry) => (most === undefined || entry.decibans > most.decibans ? entry : most),
    undefined,
  );
}

/** {@link strongestEntry} with its weight in words. */
export function strongestReason(cause: Pick<CauseResult, 'ledger'>): string {
  const best = strongestEntry(cause);
  if (best === undefined || Math.abs(best.decibans) < 0.5) return say('answer.only-base');
  return `${withoutStop(best.label)} – ${best.words}.`;
}
