import { requireFraction, requirePositive } from './checks.js';
import { poissonAtLeast, poissonAtMost, poissonLogPmf } from './distributions.js';
import { type CountOverHours, requireExposure } from './exposure.js';
import type { Interval } from './interval.js';
import { poissonInterval } from './poisson-interval.js';
import { type CountTest, countTest } from './tails.js';
import { sayNumber, sayP, sayRange } from './words.js';

/** How a counted rate stands to a norm. */
export interface NormComparison {
  readonly expected: number;
  /** Observed rate divided by the norm. */
  readonly ratio: number;
  readonly ratioInterval: Interval;
  readonly test: CountTest;
  readonly verdict: 'above' | 'below' | 'not-shown';
  readonly words: string;
}

/**
 * Holds a counted break rate against a known norm (breaks per 1000 rotor-hours) by the exact Poisson test.
 * Rule: two-sided, central (twice the smaller tail), so that it agrees with the Garwood interval shown beside it; the
 * verdict is taken from the mid-p value, because the exact p is too cautious at mill counts (true size 1–3 % instead of 5 %).
 * The norm is taken as exactly known. Published: Garwood 1936 (interval), Lancaster 1961 (mid-p).
 */
export function compareWithNorm(events: CountOverHours, normPer1000: number, alpha = 0.05): NormComparison {
  requireExposure('events', events);
  requirePositive('normPer1000', normPer1000);
  requireFraction('alpha', alpha);
  const expected = (normPer1000 * events.rotorHours) / 1000;
  const test = countTest(
    poissonAtMost(events.count, expected),
    poissonAtLeast(events.count, expected),
    Math.exp(poissonLogPmf(events.count, expected)),
  );
  const limits = poissonInterval(events.count, 1 - alpha);
  const ratioInterval = {
    lower: limits.lower / expected,
    upper: limits.upper / expected,
    confidence: 1 - alpha,
  };
  const ratio = events.count / expected;
  const verdict = test.midP.twoSided > alpha ? 'not-shown' : ratio > 1 ? 'above' : 'below';
  const found = `${events.count} breaks where the norm expects ${sayNumber(expected)} (mid-p ${sayP(test.midP.twoSided)})`;
  const range = `the true rate is ${sayRange(ratioInterval)} times the norm`;
  const words = {
    above: `Above the norm: ${found}; ${range}.`,
    below: `Below the norm: ${found}; ${range}.`,
    'not-shown': `No difference from the norm is shown: ${found}; ${range}.`,
  }[verdict];
  return { expected, ratio, ratioInterval, test, verdict, words };
}
