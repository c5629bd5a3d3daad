import padjust from '@stdlib/stats-padjust';
import { requireWithin } from './checks.js';

/** `bh`: false discovery rate (Benjamini & Hochberg 1995); `holm`: chance of any false alarm (Holm 1979). */
export type AdjustmentRule = 'bh' | 'holm';

/**
 * p-values corrected for having looked many times, in the order given. `bh` for screening (a tenth of the flagged may be
 * innocent), `holm` where a single false alarm is costly. Each p in 0–1; an empty list gives an empty list.
 */
export function adjustPValues(pValues: readonly number[], rule: AdjustmentRule): number[] {
  pValues.forEach((p, index) => {
    requireWithin(`pValues[${index}]`, p, 0, 1);
  });
  return pValues.length === 0 ? [] : padjust([...pValues], rule);
}
