import { say } from '../../language/say.js';
import type { CauseResult, CheckResult } from './types.js';

/**
 * Up to two sentences on what would raise or lower a cause most: the answers of checks, not yet made, that would
 * leave it among the first three, and the check that speaks most about it.
 */
export function sayWhatWouldChange(cause: CauseResult, checks: readonly CheckResult[]): string[] {
  let up: { text: () => string; gain: number } | undefined;
  let down: { text: () => string; gain: number } | undefined;
  for (const check of checks) {
    for (const outcome of check.outcomes) {
      if (outcome.probability < 0.02) continue;
      const then = outcome.leads.find((lead) => lead.cause === cause.id)?.probability;
      const percent = (p: number) => `${Math.round(100 * p)} %`;
      const answer = () => say('reasoning.is', { what: check.label, how: outcome.label });
      if (then !== undefined && then > cause.probability + 0.03) {
        const gain = then - cause.probability;
        if (up === undefined || gain > up.gain)
          up = { gain, text: () => say('reasoning.raise-to', { answer: answer(), percent: percent(then) }) };
      } else if (then === undefined && outcome.leads.length > 0 && cause.probability > 0.05) {
        // It would fall below the third cause then; how far below is not kept.
        const third = outcome.leads.at(-1)?.probability ?? 0;
        const gain = cause.probability - third;
        if (gain > 0.03 && (down === undefined || gain > down.gain))
          down = {
            gain,
            text: () => say('reasoning.lower-below', { answer: answer(), percent: percent(third) }),
          };
      }
    }
  }
  return [up?.text(), down?.text()].filter((text) => text !== undefined);
}
