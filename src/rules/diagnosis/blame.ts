import type { FaultRows } from './fault-rows.js';
import type { Sign } from './signs.js';
import { type Reach, strengthsOf } from './single-cause-reach.js';

/** How the complaint is shared out, sample by sample, among the causes at work in it and something unlisted. */
export interface Blame {
  /** Share of each entry of `rows.members`. */
  readonly shares: Float64Array;
  /** Share of something not listed, per row. */
  readonly unlisted: Float64Array;
}

/**
 * Shares the complaint of each sample out: every sign goes to the causes at work in proportion to the chance that each
 * alone brings it about, and to its leak; signs count by their weight. A cause at work that explains nothing that is seen
 * gets nothing. Summed over samples this is the chance that a cause is *the* one to find.
 *
 * @param reach chance that a cause alone brings a symptom about
 */
export function shareBlame(rows: FaultRows, signs: readonly Sign[], reach: Reach): Blame {
  const shares = new Float64Array(rows.members.length);
  const unlisted = new Float64Array(rows.count);
  const strengths = signs.map((sign) => strengthsOf(rows.causes, sign.symptom, reach));
  const total = signs.reduce((sum, sign) => sum + sign.weight, 0);
  for (let row = 0; row < rows.count; row++) {
    const from = rows.starts[row] as number;
    const to = rows.starts[row + 1] as number;
    if (signs.length === 0) {
      for (let at = from; at < to; at++) shares[at] = 1 / (to - from);
      if (from === to) unlisted[row] = 1;
      continue;
    }
    for (let s = 0; s < signs.length; s++) {
      const { leak, weight } = signs[s] as Sign;
      const strength = strengths[s] as Float64Array;
      let sum = leak;
      for (let at = from; at < to; at++) sum += strength[rows.members[at] as number] as number;
      const scale = weight / (total * sum);
      for (let at = from; at < to; at++)
        shares[at] = (shares[at] as number) + scale * (strength[rows.members[at] as number] as number);
      unlisted[row] = (unlisted[row] as number) + scale * leak;
    }
  }
  return { shares, unlisted };
}
