import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  StatisticsError,
  summariseReadings,
  weighImperfections,
  weighMeasured,
  weighRise,
} from '../../src/statistics/index.js';

describe('evidence of a rise against a norm', () => {
  const base = { rotorHours: 240, normPer1000: 90 };
  const log10 = (input: Parameters<typeof weighRise>[0]) => weighRise(input).log10LikelihoodRatio;

  it('speaks for a rise at twice the norm, against it at the norm, and grows with the hours', () => {
    expect(weighRise({ ...base, count: 41 }).strength).toBe('clearly-for');
    expect(log10({ ...base, count: 21 })).toBeLessThan(-0.3);
    expect(log10({ count: 410, rotorHours: 2400, normPer1000: 90 })).toBeGreaterThan(5);
    expect(Math.abs(log10({ count: 1, rotorHours: 12, normPer1000: 90 }))).toBeLessThan(0.3);
  });

  it('never falls when a break is added', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 150 }),
        fc.double({ min: 0.5, max: 60, noNaN: true }),
        fc.constantFrom(1, 1.7, 4),
        fc.constantFrom(undefined, 12, 288),
        (count, expected, dispersion, pickedFrom) => {
          const picked = pickedFrom === undefined ? {} : { pickedFrom };
          const input = { rotorHours: 1000, normPer1000: expected, dispersion, ...picked };
          // Against one count; for the worst of many the ratio may dip where the largest is unusually small, so only from there on.
          if (pickedFrom !== undefined && count < expected + 2 * Math.sqrt(dispersion * expected)) return;
          expect(log10({ ...input, count: count + 1 })).toBeGreaterThan(log10({ ...input, count }) - 1e-9);
        },
      ),
      { numRuns: 80 },
    );
  });

  it('weighs less when the position was picked as the worst of many', () => {
    const input = { count: 5, rotorHours: 100, normPer1000: 12 };
    expect(log10(input)).toBeGreaterThan(0.9);
    expect(log10({ ...input, pickedFrom: 48 })).toBeLessThan(log10(input));
    // The largest of 288 such counts is 5 or more in most frames without any fault.
    expect(weighRise({ ...input, pickedFrom: 288 }).strength).toBe('undecided');
    expect(log10({ ...input, count: 12, pickedFrom: 288 })).toBeGreaterThan(2);
  });

  it('weighs less when the breaks come in bunches', () => {
    const input = { ...base, count: 41 };
    expect(log10({ ...input, dispersion: 3 })).toBeLessThan(log10(input) / 1.8);
    expect(log10({ ...input, dispersion: 1 })).toBe(log10(input));
  });

  it('stays finite for absurd counts', () => {
    for (const count of [0, 5000]) {
      const evidence = weighRise({ count, rotorHours: 10_000, normPer1000: 90, pickedFrom: 288 });
      expect(Number.isFinite(evidence.log10LikelihoodRatio)).toBe(true);
      expect(Number.isFinite(evidence.likelihoodRatio)).toBe(true);
    }
  });

  it.each([
    [{ ...base, count: 3, pickedFrom: 0 }, 'pickedFrom'],
    [{ ...base, count: 3, dispersion: 0.4 }, 'dispersion'],
    [{ ...base, count: 3, normPer1000: 0 }, 'normPer1000'],
    [{ a: { count: 1, rotorHours: 1 }, b: { count: 1, rotorHours: -1 } }, 'b.rotorHours'],
  ])('names what is wrong in %j', (input, field) => {
    expect(() => weighRise(input)).toThrow(field);
    expect(() => weighRise(input)).toThrow(StatisticsError);
  });
});

describe('evidence of a difference between two groups', () => {
  it('is undecided for few events and clear for many', () => {
    const few = weighRise({ a: { count: 3, rotorHours: 64 }, b: { count: 7, rotorHours: 64 } });
    expect(few.strength).toBe('undecided');
    const many = weighRise({
      a: { count: 30, rotorHours: 640 },
      b: { count: 70, rotorHours: 640 },
      suspect: 'b',
    });
    expect(many.log10LikelihoodRatio).toBeGreaterThan(2);
    expect(many.ratio).toBeCloseTo(7 / 3, 12);
  });

  it('does not change when the groups change places', () => {
    fc.assert(
      fc.property(fc.nat(60), fc.nat(60), fc.constantFrom(1, 2.5), (x, y, dispersion) => {
        const one = { count: x, rotorHours: 50 };
        const other = { count: y, rotorHours: 80 };
        const forward = weighRise({ a: one, b: other, suspect: 'a', dispersion });
        const back = weighRise({ a: other, b: one, suspect: 'b', dispersion });
        expect(forward.log10LikelihoodRatio).toBeCloseTo(back.log10LikelihoodRatio, 9);
        const either = weighRise({ a: one, b: other, dispersion }).likelihoodRatio;
        const against = weighRise({ a: one, b: other, suspect: 'b', dispersion }).likelihoodRatio;
        expect(either / (0.5 * forward.likelihoodRatio + 0.5 * against)).toBeCloseTo(1, 9);
      }),
      { numRuns: 40 },
    );
  });

  it('says nothing without events', () => {
    const none = weighRise({ a: { count: 0, rotorHours: 5 }, b: { count: 0, rotorHours: 5 } });
    expect(none.log10LikelihoodRatio).toBeCloseTo(0, 12);
  });
});

describe('evidence from measured properties', () => {
  const tenacity = { mean: 11.2, cvPercent: 9, tests: 100 };

  it('gives the t interval and speaks for weaker yarn', () => {
    const result = weighMeasured(tenacity, { target: 12.5, worse: 'lower' });
    expect(result.interval.lower).toBeCloseTo(11.2 - 1.98422 * 0.1008, 4);
    expect(result.strength).toBe('strongly-for');
    expect(result.deviation).toBeCloseTo(-0.104, 12);
  });

  it('speaks against when the mean is on target or on the good side', () => {
    expect(
      weighMeasured({ ...tenacity, mean: 12.5 }, { target: 12.5, worse: 'lower' }).log10LikelihoodRatio,
    ).toBeLessThan(-0.8);
    expect(
      weighMeasured({ ...tenacity, mean: 12.9 }, { target: 12.5, worse: 'lower' }).log10LikelihoodRatio,
    ).toBeLessThan(-1);
    expect(
      weighMeasured({ ...tenacity, mean: 12.9 }, { target: 12.5, worse: 'higher' }).log10LikelihoodRatio,
    ).toBeGreaterThan(0);
  });

  it('weighs little for few tests and for tests from one package', () => {
    const strong = weighMeasured(tenacity, { target: 12.5, worse: 'lower' }).log10LikelihoodRatio;
    const few = weighMeasured(
      { ...tenacity, tests: 3 },
      { target: 12.5, worse: 'lower' },
    ).log10LikelihoodRatio;
    const nested = weighMeasured(tenacity, {
      target: 12.5,
      worse: 'lower',
      designEffect: 10,
    }).log10LikelihoodRatio;
    expect(Math.abs(few)).toBeLessThan(0.7);
    expect(nested).toBeLessThan(strong / 3);
  });

  it('is the same for readings as for their figures, and in any unit', () => {
    const readings = [19.8, 20.1, 20.6, 19.9, 20.4, 20.9];
    const target = { target: 19.7, worse: 'either' as const, worthwhile: 0.03 };
    const direct = weighMeasured(readings, target);
    expect(weighMeasured(summariseReadings(readings), target).log10LikelihoodRatio).toBeCloseTo(
      direct.log10LikelihoodRatio,
      12,
    );
    const scaled = weighMeasured(
      readings.map((value) => value * 590.5),
      { ...target, target: 19.7 * 590.5 },
    );
    expect(scaled.log10LikelihoodRatio).toBeCloseTo(direct.log10LikelihoodRatio, 8);
  });

  it('grows as the mean moves further to the worse side', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 0.12, noNaN: true }), (fall) => {
        const at = (relative: number) =>
          weighMeasured(
            { mean: 12.5 * (1 - relative), cvPercent: 9, tests: 200 },
            { target: 12.5, worse: 'lower' },
          );
        expect(at(fall + 0.01).log10LikelihoodRatio).toBeGreaterThan(at(fall).log10LikelihoodRatio);
      }),
      { numRuns: 30 },
    );
  });

  it.each([
    [{ mean: 1, cvPercent: 5, tests: 1 }, 'tests'],
    [{ mean: 1, cvPercent: 0, tests: 10 }, 'cvPercent'],
    [[3, 3, 3], 'readings'],
    [[3], 'readings'],
  ])('refuses %j', (series, field) => {
    expect(() => weighMeasured(series, { target: 2, worse: 'lower' })).toThrow(field);
  });

  it('weighs imperfections per kilometre', () => {
    const many = weighImperfections({ count: 180, km: 4, targetPerKm: 25 });
    expect(many.strength).toBe('strongly-for');
    expect(many.ratio).toBeCloseTo(1.8, 12);
    const bunched = weighImperfections({ count: 180, km: 4, targetPerKm: 25, dispersion: 5 });
    expect(bunched.log10LikelihoodRatio).toBeLessThan(many.log10LikelihoodRatio);
    expect(weighImperfections({ count: 98, km: 4, targetPerKm: 25 }).log10LikelihoodRatio).toBeLessThan(0);
  });
});
