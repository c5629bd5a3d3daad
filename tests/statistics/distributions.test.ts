import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  logCountAtMost,
  logCountProbability,
  logLargestEquals,
  logSplitProbability,
} from '../../src/statistics/count-likelihood.js';
import {
  binomialAtLeast,
  binomialAtMost,
  binomialPmf,
  poissonAtMost,
} from '../../src/statistics/distributions.js';
import { gammaLower, gammaQuantile, gammaUpper } from '../../src/statistics/incomplete-gamma.js';
import { accumulate, createRandom, scatterEvents } from '../../src/statistics/random.js';

describe('incomplete gamma', () => {
  it('has tails that sum to 1 and a quantile that inverts it, on both sides of the change of method', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 20000, noNaN: true }),
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        (shape, probability) => {
          const x = gammaQuantile(shape, probability);
          expect(gammaLower(shape, x)).toBeCloseTo(probability, 9);
          expect(gammaLower(shape, x) + gammaUpper(shape, x)).toBeCloseTo(1, 10);
        },
      ),
      { numRuns: 150 },
    );
  });

  it('joins without a step where the method changes', () => {
    for (const shape of [90, 400, 900, 990, 999]) {
      expect(gammaUpper(shape, 1000 + 1e-9) / gammaUpper(shape, 1000)).toBeCloseTo(1, 8);
      expect(gammaLower(shape, 1000 + 1e-9) / gammaLower(shape, 1000)).toBeCloseTo(1, 8);
    }
    for (const x of [700, 950, 1000]) {
      expect(gammaLower(1000 + 1e-9, x) / gammaLower(1000, x)).toBeCloseTo(1, 8);
    }
  });
});

describe('binomial tails', () => {
  it('overlap in exactly the observed count', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 2000 }),
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        (n, share) => {
          const k = Math.floor(n * share);
          expect(
            binomialAtMost(k, n, share) + binomialAtLeast(k, n, share) - binomialPmf(k, n, share),
          ).toBeCloseTo(1, 9);
        },
      ),
      { numRuns: 100 },
    );
  });
});

describe('count likelihoods', () => {
  const mean = fc.double({ min: 0.1, max: 300, noNaN: true });

  it('agree with the Poisson distribution at dispersion 1', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 400 }), mean, (count, mu) => {
        const direct = poissonAtMost(count, mu);
        if (direct > 1e-250) expect(logCountAtMost(count, mu, 1)).toBeCloseTo(Math.log(direct), 7);
      }),
      { numRuns: 150 },
    );
  });

  it('sum to 1 with the stated mean and variance when bunched', () => {
    for (const [mu, phi] of [
      [3, 1.5],
      [20, 4],
    ] as const) {
      let total = 0;
      let first = 0;
      let second = 0;
      for (let n = 0; n < 600; n++) {
        const probability = Math.exp(logCountProbability(n, mu, phi));
        total += probability;
        first += n * probability;
        second += n * n * probability;
        if (n % 7 === 0) expect(Math.exp(logCountAtMost(n, mu, phi))).toBeCloseTo(total, 9);
      }
      expect(total).toBeCloseTo(1, 9);
      expect(first).toBeCloseTo(mu, 7);
      expect(second - first ** 2).toBeCloseTo(phi * mu, 6);
    }
  });

  it('give the largest of k a distribution', () => {
    for (const others of [1, 2, 48, 288]) {
      let total = 0;
      for (let n = 0; n < 80; n++) {
        total += Math.exp(logLargestEquals(n, 2.4, 1, others));
        expect(total).toBeCloseTo(poissonAtMost(n, 2.4) ** others, 8);
      }
      expect(total).toBeCloseTo(1, 9);
    }
  });

  it('stay finite far out', () => {
    expect(logLargestEquals(5000, 3, 1, 288)).toBeLessThan(-1000);
    expect(Number.isFinite(logLargestEquals(5000, 3, 1, 288))).toBe(true);
    expect(Number.isFinite(logLargestEquals(0, 2000, 1, 288))).toBe(true);
    expect(Number.isFinite(logCountAtMost(10, 3000, 2))).toBe(true);
  });

  it('split a total with the beta-binomial variance when bunched', () => {
    const [n, share, phi] = [40, 0.3, 3];
    let first = 0;
    let second = 0;
    let total = 0;
    for (let k = 0; k <= n; k++) {
      const probability = Math.exp(logSplitProbability(k, n, share, phi));
      total += probability;
      first += k * probability;
      second += k * k * probability;
    }
    expect(total).toBeCloseTo(1, 10);
    expect(first).toBeCloseTo(n * share, 9);
    const weight = n / (phi - 1);
    expect(second - first ** 2).toBeCloseTo((n * share * (1 - share) * (weight + n)) / (weight + 1), 7);
    // With a total equal to its expectation the inflation is close to phi.
    expect((weight + n) / (weight + 1)).toBeGreaterThan(0.9 * phi);
  });
});

describe('random numbers', () => {
  it('repeat for a seed, differ between seeds and fill the unit interval evenly', () => {
    const draw = (seed: number, n: number) => {
      const random = createRandom(seed);
      return Array.from({ length: n }, random);
    };
    expect(draw(5, 10)).toEqual(draw(5, 10));
    expect(draw(5, 10)).not.toEqual(draw(6, 10));
    const bins = new Array<number>(20).fill(0);
    for (const value of draw(1, 40_000)) {
      const bin = Math.floor(value * 20);
      bins[bin] = (bins[bin] ?? 0) + 1;
    }
    const chiSquare = bins.reduce((sum, n) => sum + (n - 2000) ** 2 / 2000, 0);
    // 99.99 % point of chi-square on 19 degrees.
    expect(chiSquare).toBeLessThan(50.8);
  });

  it('scatter all events, in proportion to the weights, none on a weight of zero', () => {
    const random = createRandom(3);
    const into = new Int32Array(4);
    const sums = [0, 0, 0, 0];
    for (let i = 0; i < 500; i++) {
      const drawn = scatterEvents(40, accumulate([1, 0, 2, 5]), random, into);
      drawn.forEach((n, cell) => {
        sums[cell] = (sums[cell] ?? 0) + n;
      });
    }
    expect(sums.reduce((a, b) => a + b, 0)).toBe(20_000);
    expect(sums[1]).toBe(0);
    expect(Math.abs((sums[3] ?? 0) / 20_000 - 5 / 8)).toBeLessThan(0.02);
  });
});
