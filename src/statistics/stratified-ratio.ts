import { requireFraction, requireMembers } from './checks.js';
import { normalQuantile } from './distributions.js';
import { StatisticsError } from './errors.js';
import { type CountOverHours, requireExposure } from './exposure.js';
import type { Interval } from './interval.js';

/** Two counts taken under the same conditions: the same lot, shift, material or position. */
export interface Stratum {
  readonly first: CountOverHours;
  readonly second: CountOverHours;
}

/**
 * Mantel–Haenszel ratio of two rates over strata: compares like with like when lots or materials differ in level.
 * Interval: log scale with the Greenland & Robins 1985 variance. Needs at least one event on each side in all.
 */
export function stratifiedRatio(
  strata: readonly Stratum[],
  confidence = 0.95,
): { readonly ratio: number; readonly interval: Interval } {
  requireMembers('strata', strata, 1);
  requireFraction('confidence', confidence);
  let top = 0;
  let bottom = 0;
  let spread = 0;
  strata.forEach((stratum, index) => {
    requireExposure(`strata[${index}].first`, stratum.first);
    requireExposure(`strata[${index}].second`, stratum.second);
    const { count: x1, rotorHours: t1 } = stratum.first;
    const { count: x2, rotorHours: t2 } = stratum.second;
    const hours = t1 + t2;
    top += (x1 * t2) / hours;
    bottom += (x2 * t1) / hours;
    spread += ((x1 + x2) * t1 * t2) / hours ** 2;
  });
  if (top === 0 || bottom === 0) {
    throw new StatisticsError('strata', strata, 'at least one event on each side, taken together');
  }
  const ratio = top / bottom;
  const halfWidth = normalQuantile(0.5 + confidence / 2) * Math.sqrt(spread / (top * bottom));
  return {
    ratio,
    interval: { lower: ratio * Math.exp(-halfWidth), upper: ratio * Math.exp(halfWidth), confidence },
  };
}
