import { describe, expect, it } from 'vitest';
import { brierScore, logScore } from '../../src/rules/training/index.js';

/*
 * Brier 1950, "Verification of forecasts expressed in terms of probability", Monthly Weather Review 78: for one occasion the
 * sum over the classes of (forecast - outcome) squared, between 0 and 2. Good 1952, "Rational decisions", Journal of the
 * Royal Statistical Society B 14: the logarithm of the probability given to what happened. Both definitions from memory.
 */
describe('scores of confidence against their published definitions', () => {
  const four = new Map([
    ['a', 0.7],
    ['b', 0.2],
    ['c', 0.1],
    ['d', 0],
  ]);

  it('Brier 1950: four exclusive answers', () => {
    expect(brierScore(four, ['a'])).toBeCloseTo(0.09 + 0.04 + 0.01, 12);
    expect(brierScore(four, ['b'])).toBeCloseTo(0.49 + 0.64 + 0.01, 12);
    expect(brierScore(new Map([['a', 1]]), ['b'])).toBe(2);
  });

  it('Brier 1950: the mean over occasions of a yes-or-no forecast, in its later one-sided form', () => {
    const [said, came] = [
      [0.1, 0.9, 0.8, 0.3],
      [false, true, true, false],
    ];
    const mean =
      said.reduce((sum, p, i) => sum + brierScore(new Map([['rain', p]]), came[i] ? ['rain'] : []), 0) / 4;
    expect(mean).toBeCloseTo(0.0375, 12);
  });

  it('Good 1952: minus the logarithm of what was given to the event that happened', () => {
    expect(logScore(new Map([['a', 0.7]]), ['a'])).toBeCloseTo(0.356674943938732, 12);
    expect(logScore(new Map([['b', 0.2]]), ['b'])).toBeCloseTo(1.6094379124341, 12);
    expect(logScore(new Map([['c', 0.2]]), [])).toBeCloseTo(-Math.log(0.8), 12);
  });
});
