import { requireMembers, requirePositive, requireWithin } from './checks.js';
import { chiSquareAtLeast, chiSquareAtMost, normalAtMost } from './distributions.js';
import { StatisticsError } from './errors.js';
import { type CountOverHours, pool, requireExposure } from './exposure.js';

/** Result of a trend test. */
export interface Trend {
  /** Standardised statistic: above 0 when events come more often as time goes on. */
  readonly z: number;
  /** One-sided p for "getting worse". */
  readonly pWorsening: number;
  /** One-sided p for "getting better". */
  readonly pImproving: number;
  readonly pTwoSided: number;
}

/**
 * When the watching ended: `{ end }` at a time fixed beforehand (time-truncated, every event counts), or `'at-last-event'`
 * (failure-truncated: the last event is the end itself and is left out of the statistic). Mixing the two up biases the test.
 */
export type Truncation = { readonly end: number } | 'at-last-event';

/**
 * Laplace test for a trend in the times of events of one unit, times in running hours from the start, rising.
 * z compares the mean event time with the middle of the watch. Published: Laplace; Cox & Lewis 1966.
 */
export function testLaplaceTrend(times: readonly number[], truncation: Truncation): Trend {
  const { used, end } = usedTimes(times, truncation);
  const mean = used.reduce((sum, time) => sum + time, 0) / used.length;
  return fromZ((mean - end / 2) / (end * Math.sqrt(1 / (12 * used.length))));
}

/** Power-law trend of events in time. */
export interface PowerTrend {
  readonly chiSquare: number;
  readonly degrees: number;
  /** P(chi-square this low or lower): small when things get worse. */
  readonly pWorsening: number;
  /** P(chi-square this high or higher): small when things get better. */
  readonly pImproving: number;
  /** Maximum-likelihood growth exponent: above 1 when events come more often as time goes on. */
  readonly exponent: number;
}

/** Chi-square test for a trend by the power-law model (MIL-HDBK-189), 2·Σ ln(end/time) on 2n degrees (2(n - 1) failure-truncated). */
export function testPowerTrend(times: readonly number[], truncation: Truncation): PowerTrend {
  const { used, end } = usedTimes(times, truncation);
  const sum = used.reduce((total, time) => total + Math.log(end / time), 0);
  const degrees = 2 * used.length;
  return {
    chiSquare: 2 * sum,
    degrees,
    pWorsening: chiSquareAtMost(2 * sum, degrees),
    pImproving: chiSquareAtLeast(2 * sum, degrees),
    exponent: times.length / sum,
  };
}

/**
 * Trend over counts per period, in order, with unequal rotor-hours: the score test for a log-linear rate over cumulated
 * rotor-hours (the Laplace test for grouped data). Needs 3 or more periods and at least one event.
 */
export function testPeriodTrend(periods: readonly CountOverHours[]): Trend {
  const { total, middles, mean } = periodAxis(periods);
  let score = 0;
  let information = 0;
  periods.forEach((period, index) => {
    const away = (middles[index] ?? 0) - mean;
    score += period.count * away;
    information += (period.rotorHours / total.rotorHours) * away ** 2;
  });
  return fromZ(score / Math.sqrt(total.count * information));
}

/** Middles of the periods on the cumulated-hours axis scaled to 0–1, their hour-weighted mean, and the totals. */
export function periodAxis(periods: readonly CountOverHours[]): {
  readonly total: CountOverHours;
  readonly middles: readonly number[];
  readonly mean: number;
} {
  requireMembers('periods', periods, 3);
  periods.forEach((period, index) => {
    requireExposure(`periods[${index}]`, period);
  });
  const total = pool(periods);
  if (total.count === 0) throw new StatisticsError('periods', periods, 'at least one event, taken together');
  let passed = 0;
  const middles = periods.map((period) => {
    const middle = (passed + period.rotorHours / 2) / total.rotorHours;
    passed += period.rotorHours;
    return middle;
  });
  const mean = periods.reduce(
    (sum, period, index) => sum + (period.rotorHours / total.rotorHours) * (middles[index] ?? 0),
    0,
  );
  return { total, middles, mean };
}

function fromZ(z: number): Trend {
  const pWorsening = normalAtMost(-z);
  const pImproving = normalAtMost(z);
  return { z, pWorsening, pImproving, pTwoSided: Math.min(1, 2 * Math.min(pWorsening, pImproving)) };
}

function usedTimes(times: readonly number[], truncation: Truncation) {
  const failureTruncated = truncation === 'at-last-event';
  requireMembers('times', times, failureTruncated ? 2 : 1);
  let previous = 0;
  times.forEach((time, index) => {
    requirePositive(`times[${index}]`, time);
    if (time < previous) throw new StatisticsError(`times[${index}]`, time, 'rising times');
    previous = time;
  });
  if (failureTruncated) return { used: times.slice(0, -1), end: previous };
  return { used: times, end: requireWithin('end', truncation.end, previous, Number.POSITIVE_INFINITY) };
}
