import { say } from '../../language/say.js';
import type { CauseResult, CheckResult } from './types.js';

/** An answer that would move a cause: to, or below, so many. */
interface Move {
  readonly check: string;
  readonly outcome: string;
  readonly to: number;
  readonly gain: number;
}

/** A change of belief smaller than this is not worth a sentence. */
const LEAST_GAIN = 0.03;
/** Answers rarer than this are not spoken of. */
const RAREST_ANSWER = 0.02;
/** Causes below this have nowhere to fall. */
const LEAST_TO_LOWER = 0.05;

/**
 * Up to two sentences for every cause on what would raise or lower it most: the answers of checks, not yet made, that
 * would leave it among the first three, and the check that speaks most about it.
 *
 * @returns by cause; causes that no answer moves are not in it
 */
export function sayWhatWouldChange(
  causes: readonly Pick<CauseResult, 'id' | 'probability'>[],
  checks: readonly CheckResult[],
): ReadonlyMap<string, string[]> {
  const now = new Map(causes.map((cause) => [cause.id, cause.probability]));
  const likely = causes.filter((cause) => cause.probability > LEAST_TO_LOWER);
  const up = new Map<string, Move>();
  const down = new Map<string, Move>();
  const note = (moves: Map<string, Move>, cause: string, move: Move): void => {
    if (move.gain > Math.max(LEAST_GAIN, moves.get(cause)?.gain ?? 0)) moves.set(cause, move);
  };
  for (const { label: check, outcomes } of checks)
    for (const { label: outcome, probability, leads } of outcomes) {
      if (probability < RAREST_ANSWER) continue;
      for (const { cause, probability: to } of leads)
        note(up, cause, { check, outcome, to, gain: to - (now.get(cause) ?? 1) });
      // Another cause would fall below the third one then; how far below is not kept.
      const third = leads.at(-1)?.probability;
      if (third === undefined) continue;
      for (const { id, probability: before } of likely)
        if (before - third > LEAST_GAIN && !leads.some((lead) => lead.cause === id))
          note(down, id, { check, outcome, to: third, gain: before - third });
    }
  const sayMove = (key: 'reasoning.raise-to' | 'reasoning.lower-below', move: Move): string =>
    say(key, {
      answer: say('reasoning.is', { what: move.check, how: move.outcome }),
      percent: `${Math.round(100 * move.to)} %`,
    });
  const said = new Map<string, string[]>();
  for (const id of now.keys()) {
    const [raise, lower] = [up.get(id), down.get(id)];
    const sentences = [
      ...(raise === undefined ? [] : [sayMove('reasoning.raise-to', raise)]),
      ...(lower === undefined ? [] : [sayMove('reasoning.lower-below', lower)]),
    ];
    if (sentences.length > 0) said.set(id, sentences);
  }
  return said;
}
