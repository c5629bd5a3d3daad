/**
 * Our tails and intervals against a general-purpose library (@stdlib/stats-base-dists-*) on random inputs. Counts stay
 * below 500: beyond about 1000 the library's incomplete gamma function is itself off (see `incomplete-gamma.ts`).
 */
import binomialCdf from '@stdlib/stats-base-dists-binomial-cdf';
import chisquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile';
import poissonCdf from '@stdlib/stats-base-dists-poisson-cdf';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareRates, compareWithNorm, poissonInterval } from '../../src/statistics/index.js';

const close = (ours: number, theirs: number, relative = 1e-7) =>
  expect(Math.abs(ours - theirs)).toBeLessThanOrEqual(relative * Math.max(1e-9, Math.abs(theirs)));

describe('against a general-purpose library', () => {
  it('Garwood limits are quantiles of chi-square', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 500 }),
        fc.constantFrom(0.8, 0.9, 0.95, 0.99),
        (count, confidence) => {
          const { lower, upper } = poissonInterval(count, confidence);
          const alpha = 1 - confidence;
          close(lower, count === 0 ? 0 : chisquareQuantile(alpha / 2, 2 * count) / 2);
          close(upper, chisquareQuantile(1 - alpha / 2, 2 * count + 2) / 2);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('the exact test against a norm doubles the smaller Poisson tail', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 300 }),
        fc.double({ min: 1, max: 300, noNaN: true }),
        (count, expected) => {
          const { test } = compareWithNorm({ count, rotorHours: expected }, 1000);
          const below = poissonCdf(count, expected);
          const above = count === 0 ? 1 : 1 - poissonCdf(count - 1, expected);
          const theirs = Math.min(1, 2 * Math.min(below, above));
          // The library gives the lower tail only; 1 - P loses digits where the upper tail is tiny.
          if (theirs > 1e-6) close(test.exact.twoSided, theirs, 1e-6);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('the exact test of two rates doubles the smaller binomial tail', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 200 }),
        fc.integer({ min: 0, max: 200 }),
        fc.double({ min: 10, max: 1000, noNaN: true }),
        fc.double({ min: 10, max: 1000, noNaN: true }),
        (x, y, hoursX, hoursY) => {
          fc.pre(x + y > 0);
          const { test } = compareRates({ count: x, rotorHours: hoursX }, { count: y, rotorHours: hoursY });
          const p = hoursX / (hoursX + hoursY);
          const below = binomialCdf(x, x + y, p);
          const above = x === 0 ? 1 : 1 - binomialCdf(x - 1, x + y, p);
          const theirs = Math.min(1, 2 * Math.min(below, above));
          if (theirs > 1e-6) close(test.exact.twoSided, theirs, 1e-6);
        },
      ),
      { numRuns: 300 },
    );
  });
});
