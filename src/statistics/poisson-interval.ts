import { requireCount, requireFraction } from './checks.js';
import { gammaQuantile } from './incomplete-gamma.js';
import type { Interval } from './interval.js';

/**
 * Exact (Garwood) interval for the mean of a Poisson count: each limit is the mean at which a count this far out has a
 * chance of (1 - confidence)/2. With 0 events the lower limit is 0 and the upper one is 3.69 at 95 %.
 * Published: Garwood 1936. This interval is used everywhere for a single rate; it belongs to the central exact test.
 */
export function poissonInterval(count: number, confidence = 0.95): Interval {
  requireCount('count', count);
  requireFraction('confidence', confidence);
  const tail = (1 - confidence) / 2;
  return {
    lower: count === 0 ? 0 : gammaQuantile(count, tail),
    upper: gammaQuantile(count + 1, 1 - tail),
    confidence,
  };
}

/**
 * One-sided upper limit for the mean of a Poisson count, for statements such as "below … with 95 % confidence".
 * With 0 events and 95 % it is 3.00 (Hanley & Lippman-Hand 1983).
 */
export function poissonUpperLimit(count: number, confidence = 0.95): number {
  requireCount('count', count);
  requireFraction('confidence', confidence);
  return gammaQuantile(count + 1, confidence);
}
