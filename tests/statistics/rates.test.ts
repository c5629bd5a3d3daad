import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  adjustPValues,
  compareRates,
  compareWithNorm,
  computeRate,
  fitNegativeBinomial,
  funnelLimits,
  measureDispersion,
  poissonInterval,
  rankRates,
  ratioInterval,
  StatisticsError,
  shrinkRate,
  stratifiedRatio,
  widenedRate,
} from '../../src/statistics/index.js';

const hours = fc.double({ min: 1, max: 1e4, noNaN: true });
const count = fc.integer({ min: 0, max: 400 });
const p = fc.double({ min: 0, max: 1, noNaN: true });

describe('one rate', () => {
  it('counts per 1000 rotor-hours, with a finite interval for no events', () => {
    const rate = computeRate({ count: 0, rotorHours: 500 });
    expect(rate.per1000).toBe(0);
    expect(rate.interval.lower).toBe(0);
    expect(rate.interval.upper).toBeCloseTo(2 * 3.689, 3);
  });

  it('has an interval that inverts the exact central test', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 3000 }), fc.constantFrom(0.8, 0.95, 0.99), (n, confidence) => {
        const { lower, upper } = poissonInterval(n, confidence);
        const events = { count: n, rotorHours: 1000 };
        expect(compareWithNorm(events, lower).test.exact.twoSided).toBeCloseTo(1 - confidence, 9);
        expect(compareWithNorm(events, upper).test.exact.twoSided).toBeCloseTo(1 - confidence, 9);
      }),
      { numRuns: 60 },
    );
  });

  it('calls a rate above the norm only when the counts carry it', () => {
    expect(compareWithNorm({ count: 41, rotorHours: 240 }, 90).verdict).toBe('above');
    expect(compareWithNorm({ count: 4, rotorHours: 24 }, 90).verdict).toBe('not-shown');
    expect(compareWithNorm({ count: 5, rotorHours: 240 }, 90).verdict).toBe('below');
  });

  it('keeps tiny tails', () => {
    const { test } = compareWithNorm({ count: 200, rotorHours: 1000 }, 20);
    expect(test.exact.high).toBeGreaterThan(0);
    expect(test.exact.high).toBeLessThan(1e-100);
  });

  it.each([
    [{ count: -1, rotorHours: 5 }, 'rate.count', -1],
    [{ count: 1.5, rotorHours: 5 }, 'rate.count', 1.5],
    [{ count: 1, rotorHours: 0 }, 'rate.rotorHours', 0],
    [{ count: 1, rotorHours: Number.NaN }, 'rate.rotorHours', Number.NaN],
  ])('names field and value of bad input %j', (events, field, value) => {
    try {
      computeRate(events);
      expect.unreachable();
    } catch (error) {
      expect(error).toBeInstanceOf(StatisticsError);
      expect(error).toMatchObject({ field, value });
      expect((error as StatisticsError).message).toContain('allowed');
    }
  });
});

describe('two rates', () => {
  it('has an interval that inverts the exact central test', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 400 }),
        hours,
        fc.integer({ min: 1, max: 400 }),
        hours,
        (x, t, y, u) => {
          const first = { count: x, rotorHours: t };
          const second = { count: y, rotorHours: u };
          const { lower, upper } = ratioInterval(first, second);
          for (const nullRatio of [lower, upper]) {
            expect(compareRates(first, second, { nullRatio }).test.exact.twoSided).toBeCloseTo(0.05, 8);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('gives the same answer with the groups exchanged', () => {
    fc.assert(
      fc.property(count, hours, count, hours, (x, t, y, u) => {
        const one = compareRates({ count: x, rotorHours: t }, { count: y, rotorHours: u });
        const other = compareRates({ count: y, rotorHours: u }, { count: x, rotorHours: t });
        expect(one.test.exact.twoSided).toBeCloseTo(other.test.exact.twoSided, 9);
        expect(one.test.midP.low).toBeCloseTo(other.test.midP.high, 9);
        if (x > 0 && y > 0) expect(one.interval.lower * other.interval.upper).toBeCloseTo(1, 8);
      }),
      { numRuns: 100 },
    );
  });

  it('does not let the verdict contradict the mid-p value', () => {
    const result = compareRates({ count: 20, rotorHours: 300 }, { count: 7, rotorHours: 300 });
    expect(result.verdict).toBe('first-higher');
    expect(result.words).toContain('higher');
    expect(compareRates({ count: 0, rotorHours: 10 }, { count: 0, rotorHours: 10 }).words).toContain(
      'nothing',
    );
    expect(compareRates({ count: 9, rotorHours: 10 }, { count: 0, rotorHours: 10 }).words).toContain(
      'at least',
    );
  });

  it('compares like with like over strata', () => {
    // Within each lot the rates are equal; the pooled rates are not.
    const strata = [
      { first: { count: 90, rotorHours: 900 }, second: { count: 10, rotorHours: 100 } },
      { first: { count: 1, rotorHours: 100 }, second: { count: 9, rotorHours: 900 } },
    ];
    expect(stratifiedRatio(strata).ratio).toBeCloseTo(1, 12);
    expect(compareRates({ count: 91, rotorHours: 1000 }, { count: 19, rotorHours: 1000 }).verdict).toBe(
      'first-higher',
    );
    expect(() =>
      stratifiedRatio([{ first: { count: 0, rotorHours: 1 }, second: { count: 0, rotorHours: 1 } }]),
    ).toThrow(StatisticsError);
  });
});

describe('many rates', () => {
  it('ranks by rate and flags the one that stands out', () => {
    const frames = [
      { id: 'A', count: 20, rotorHours: 240 },
      { id: 'B', count: 61, rotorHours: 240 },
      { id: 'C', count: 22, rotorHours: 240 },
      { id: 'D', count: 1, rotorHours: 8 },
    ];
    const ranked = rankRates(frames);
    expect(ranked.map((line) => line.id)).toEqual(['B', 'D', 'C', 'A']);
    expect(ranked[0]?.verdict).toBe('above');
    expect(ranked[1]?.verdict).toBe('not-shown');
  });

  it('corrects p-values without changing their order, never below the raw ones', () => {
    fc.assert(
      fc.property(
        fc.array(p, { minLength: 1, maxLength: 40 }),
        fc.constantFrom('bh' as const, 'holm' as const),
        (ps, rule) => {
          const adjusted = adjustPValues(ps, rule);
          ps.forEach((one, i) => {
            expect(adjusted[i]).toBeGreaterThanOrEqual(one - 1e-12);
            expect(adjusted[i]).toBeLessThanOrEqual(1);
            ps.forEach((other, j) => {
              if (one < other) expect(adjusted[i]).toBeLessThanOrEqual((adjusted[j] ?? 0) + 1e-12);
            });
          });
          const bh = adjustPValues(ps, 'bh');
          adjustPValues(ps, 'holm').forEach((value, i) => {
            expect(value).toBeGreaterThanOrEqual((bh[i] ?? 0) - 1e-12);
          });
        },
      ),
      { numRuns: 60 },
    );
    expect(adjustPValues([], 'bh')).toEqual([]);
    expect(() => adjustPValues([0.2, 1.2], 'bh')).toThrow('pValues[1]');
  });
});

describe('dispersion', () => {
  it('tells bunched counts from even ones and widens only for the former', () => {
    const even = [4, 5, 6, 5, 4, 6, 5, 5].map((n) => ({ count: n, rotorHours: 50 }));
    const bunched = [0, 15, 1, 0, 12, 2, 9, 1].map((n) => ({ count: n, rotorHours: 50 }));
    expect(measureDispersion(even).overdispersed).toBe(false);
    expect(measureDispersion(bunched).overdispersed).toBe(true);
    const width = (units: typeof even) => {
      const { interval } = widenedRate(units);
      return interval.upper / interval.lower;
    };
    expect(width(bunched)).toBeGreaterThan(1.5 * width(even));
    expect(fitNegativeBinomial([5, 5, 5]).shape).toBe(Number.POSITIVE_INFINITY);
    expect(() =>
      measureDispersion([
        { count: 0, rotorHours: 1 },
        { count: 0, rotorHours: 1 },
      ]),
    ).toThrow('at least one event');
  });

  it('draws a rate towards the mean, the more so the shorter it ran', () => {
    const spread = { mean: 0.1, shape: 2 };
    const short = shrinkRate({ count: 3, rotorHours: 10 }, spread);
    const long = shrinkRate({ count: 30, rotorHours: 100 }, spread);
    expect(short).toBeGreaterThan(0.1);
    expect(short).toBeLessThan(long);
    expect(long).toBeLessThan(0.3);
  });

  it('sets funnel limits whose outside has the stated chance at most', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 500, noNaN: true }),
        fc.constantFrom(0.95, 0.998),
        (expected, cover) => {
          const { low, high } = funnelLimits(expected, cover);
          const tail = (1 - cover) / 2;
          const at = (n: number) => compareWithNorm({ count: n, rotorHours: 1000 }, expected).test.exact;
          if (low > 0) expect(at(low - 1).low).toBeLessThanOrEqual(tail);
          expect(at(low).low).toBeGreaterThan(tail);
          expect(at(high + 1).high).toBeLessThanOrEqual(tail);
          expect(at(high).high).toBeGreaterThan(tail);
        },
      ),
      { numRuns: 60 },
    );
  });
});
