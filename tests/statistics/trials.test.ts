import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { binomialPmf, poissonLogPmf } from '../../src/statistics/distributions.js';
import {
  chooseTrialPositions,
  compareBeforeAfter,
  hoursToClaimBelow,
  judgeAgainstNorm,
  judgeTrial,
  logEValueAgainstNorm,
  logEValueOfRatio,
  logEValueOfSplit,
  planTests,
  planTrialHours,
  powerOfRateTest,
  rateConfidenceSequence,
  ratioConfidenceSequence,
  ratioInterval,
  shareConfidenceSequence,
  smallestProvable,
  trialHoursByFormula,
} from '../../src/statistics/index.js';
import { createRandom } from '../../src/statistics/random.js';

const events = (count: number, rotorHours = 500) => ({ count, rotorHours });

describe('size of a trial', () => {
  it('reaches the power asked for, and no hours are wasted', () => {
    const size = planTrialHours({ ratePer1000: 90, ratio: 0.6 });
    expect(size.method).toBe('exact');
    expect(size.power).toBeGreaterThanOrEqual(0.8);
    expect(size.power).toBeLessThan(0.82);
    expect(powerOfRateTest(size.expectedControlCount, size.expectedChangedCount)).toBeCloseTo(size.power, 9);
    expect(
      Math.abs(size.rotorHoursPerSide / trialHoursByFormula({ ratePer1000: 90, ratio: 0.6 }) - 1),
    ).toBeLessThan(0.15);
  });

  it('says when it used the formula, and multiplies by the dispersion', () => {
    const large = planTrialHours({ ratePer1000: 90, ratio: 0.9 });
    expect(large.method).toBe('formula');
    const bunched = planTrialHours({ ratePer1000: 90, ratio: 0.9, dispersion: 2 });
    expect(bunched.rotorHoursPerSide).toBeCloseTo(2 * large.rotorHoursPerSide, 9);
  });

  it('keeps the size of the test near 5 % and the exact rule below it', () => {
    for (const mean of [5, 20, 60]) {
      expect(powerOfRateTest(mean, mean, { rule: 'exact' })).toBeLessThanOrEqual(0.05);
      expect(powerOfRateTest(mean, mean)).toBeLessThan(0.055);
      expect(powerOfRateTest(mean, mean)).toBeGreaterThan(powerOfRateTest(mean, mean, { rule: 'exact' }));
    }
  });

  it('states the hours within which the any-time verdict comes with the power asked for', () => {
    const size = planTrialHours({ ratePer1000: 90, ratio: 0.55 });
    const events = (90 / 1000) * (1 + 0.55) * size.anyTimeRotorHoursPerSide;
    const random = createRandom(8);
    const trials = 300;
    let decided = 0;
    for (let i = 0; i < trials; i++) {
      let changed = 0;
      for (let n = 1; n <= events; n++) {
        if (random() < 0.55 / 1.55) changed++;
        if (n % 3 === 0 && shareConfidenceSequence(changed, n - changed).upper < 0.5) {
          decided++;
          break;
        }
      }
    }
    // Within three standard errors of 80 %, and the factor is rounded.
    expect(decided / trials).toBeGreaterThan(0.72);
    expect(decided / trials).toBeLessThan(0.88);
  });

  it('finds the smallest provable ratio as the inverse of the hours', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.3, max: 0.95, noNaN: true }), (ratio) => {
        const hours = trialHoursByFormula({ ratePer1000: 90, ratio });
        expect(smallestProvable(90, hours).fallRatio).toBeCloseTo(ratio, 6);
        const rise = trialHoursByFormula({ ratePer1000: 90, ratio: 1 / ratio });
        expect(smallestProvable(90, rise).riseRatio).toBeCloseTo(1 / ratio, 6);
      }),
      { numRuns: 30 },
    );
    expect(smallestProvable(90, 30).fallRatio).toBeUndefined();
  });

  it('plans tests and event-free hours', () => {
    expect(planTests(9, 5).testsPerSide).toBe(52);
    expect(planTests(9, 5, { designEffect: 2 }).testsPerSide).toBe(104);
    expect(hoursToClaimBelow(50)).toBeCloseTo(59.91, 2);
    expect(() => planTrialHours({ ratePer1000: 90, ratio: 1 })).toThrow('ratio');
  });
});

describe('choice of positions', () => {
  it('gives pairs of free neighbours inside a section, spread over the frame, always the same', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 24, max: 400 }),
        fc.integer({ min: 4, max: 40 }),
        fc.integer({ min: 1, max: 8 }),
        fc.array(fc.integer({ min: 1, max: 24 }), { maxLength: 4 }),
        (positions, section, pairs, exclude) => {
          const request = { positions, sectionSize: Math.min(section, positions), pairs, exclude };
          let layout: ReturnType<typeof chooseTrialPositions>;
          try {
            layout = chooseTrialPositions(request);
          } catch (error) {
            expect(String(error)).toContain('pairs');
            return;
          }
          const used = layout.pairs.flatMap((pair) => [pair.changed, pair.control]);
          expect(new Set(used).size).toBe(2 * pairs);
          for (const pair of layout.pairs) {
            expect(Math.abs(pair.changed - pair.control)).toBe(1);
            expect(Math.ceil(pair.changed / request.sectionSize)).toBe(pair.section);
            expect(Math.ceil(pair.control / request.sectionSize)).toBe(pair.section);
          }
          for (const position of used) {
            expect(exclude).not.toContain(position);
            expect(position).toBeGreaterThanOrEqual(1);
            expect(position).toBeLessThanOrEqual(positions);
          }
          expect(chooseTrialPositions(request)).toEqual(layout);
        },
      ),
      { numRuns: 80 },
    );
  });

  it('spreads over the frame and exchanges in the order A B B A, with a caution', () => {
    const layout = chooseTrialPositions({ positions: 240, sectionSize: 24, pairs: 10 });
    expect(new Set(layout.pairs.map((pair) => pair.section)).size).toBe(10);
    const [a, b, c, d] = layout.blocks;
    expect(a?.changed).toEqual(b?.control);
    expect(b).toMatchObject({ changed: c?.changed, control: c?.control });
    expect(d?.changed).toEqual(a?.changed);
    expect(layout.words).toContain('stands still');
  });

  it('says how many pairs there are when too many are wanted', () => {
    expect(() => chooseTrialPositions({ positions: 10, sectionSize: 5, pairs: 5 })).toThrow('at most 4');
  });
});

describe('e-values', () => {
  it('have mean 1 under the hypothesis, whatever the share', () => {
    for (const [n, share] of [
      [12, 0.5],
      [60, 0.5],
      [40, 0.3],
    ] as const) {
      let mean = 0;
      for (let x = 0; x <= n; x++)
        mean += binomialPmf(x, n, share) * Math.exp(logEValueOfSplit(x, n - x, share));
      expect(mean).toBeCloseTo(1, 9);
    }
    let mean = 0;
    for (let x = 0; x < 400; x++) {
      mean += Math.exp(poissonLogPmf(x, 30) + logEValueAgainstNorm(x, 30, 1, { shape: 4, rate: 4 }));
    }
    expect(mean).toBeCloseTo(1, 9);
  });

  it('hardly ever reach 20 under the hypothesis, looked at after every event', () => {
    const random = createRandom(31);
    let crossed = 0;
    const trials = 1000;
    for (let i = 0; i < trials; i++) {
      let x = 0;
      for (let n = 1; n <= 250; n++) {
        if (random() < 0.5) x++;
        if (logEValueOfSplit(x, n - x, 0.5) >= Math.log(20)) {
          crossed++;
          break;
        }
      }
    }
    // The bound is 5 %; seven in a hundred would be three standard errors above it.
    expect(crossed / trials).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / trials));
  });

  it('are inverted by the confidence sequences', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 200 }), fc.integer({ min: 1, max: 200 }), (x, y) => {
        const first = events(x, 300);
        const second = events(y, 700);
        const { lower, upper } = ratioConfidenceSequence(first, second);
        expect(Math.exp(logEValueOfRatio(first, second, lower))).toBeCloseTo(20, 2);
        expect(Math.exp(logEValueOfRatio(first, second, upper))).toBeCloseTo(20, 2);
        const fixed = ratioInterval(first, second);
        expect(lower).toBeLessThan(fixed.lower);
        expect(upper).toBeGreaterThan(fixed.upper);
        const rate = rateConfidenceSequence(x, 40, { shape: 4, rate: 4 });
        expect(Math.exp(logEValueAgainstNorm(x, 40, rate.upper, { shape: 4, rate: 4 }))).toBeCloseTo(20, 2);
        expect(Math.exp(logEValueAgainstNorm(x, 40, rate.lower, { shape: 4, rate: 4 }))).toBeCloseTo(20, 2);
      }),
      { numRuns: 60 },
    );
  });

  it('keep the true share inside at all looks', () => {
    const random = createRandom(41);
    let lost = 0;
    for (let i = 0; i < 150; i++) {
      let x = 0;
      for (let n = 1; n <= 120; n++) {
        if (random() < 0.4) x++;
        if (n % 5 > 0) continue;
        const { lower, upper } = shareConfidenceSequence(x, n - x);
        if (lower > 0.4 || upper < 0.4) {
          lost++;
          break;
        }
      }
    }
    // 5 % of 150 is 7.5; 16 is three standard deviations above.
    expect(lost).toBeLessThan(16);
  });

  it('start open before the first event', () => {
    expect(shareConfidenceSequence(0, 0)).toMatchObject({ lower: 0, upper: 1 });
    expect(rateConfidenceSequence(0, 10, { shape: 4, rate: 4 }).lower).toBe(0);
    expect(ratioConfidenceSequence(events(0), events(9)).lower).toBe(0);
  });
});

describe('verdict of a running trial', () => {
  const judge = (changed: number, control: number, rule = {}) =>
    judgeTrial([{ changed: events(changed), control: events(control) }], rule);

  it('knows all five outcomes', () => {
    expect(judge(40, 100).verdict).toBe('better');
    expect(judge(100, 40).verdict).toBe('worse');
    expect(judge(1500, 1480).verdict).toBe('no-worthwhile-effect');
    expect(judge(20, 38).verdict).toBe('no-worse');
    expect(judge(30, 33).verdict).toBe('not-yet-known');
    expect(judge(0, 0).verdict).toBe('not-yet-known');
  });

  it('never reads "not shown" as "no effect"', () => {
    fc.assert(
      fc.property(fc.nat(400), fc.nat(400), (x, y) => {
        const { verdict, interval } = judge(x, y);
        if (verdict === 'no-worthwhile-effect') expect(interval.lower).toBeGreaterThan(0.8);
        if (verdict === 'better') expect(interval.upper).toBeLessThan(1);
        if (verdict === 'not-yet-known') expect(interval.lower).toBeLessThanOrEqual(0.8);
      }),
      { numRuns: 100 },
    );
  });

  it('is decided after about the hours it asked for', () => {
    for (const [x, y] of [
      [30, 33],
      [12, 17],
      [60, 58],
    ] as const) {
      const now = judge(x, y);
      expect(now.verdict).toBe('not-yet-known');
      const more = now.moreRotorHours ?? Number.NaN;
      const scale = 1 + (1.03 * more) / 1000;
      const later = judgeTrial([
        {
          changed: events(Math.round(x * scale), 500 * scale),
          control: events(Math.round(y * scale), 500 * scale),
        },
      ]);
      expect(later.verdict).not.toBe('not-yet-known');
    }
    expect(judge(40, 100).moreRotorHours).toBeUndefined();
  });

  it('adds blocks up, and refuses blocks that share the hours otherwise', () => {
    const one = judgeTrial([{ changed: events(40, 1000), control: events(90, 1000) }]);
    const two = judgeTrial([
      { changed: events(15, 400), control: events(50, 400) },
      { changed: events(25, 600), control: events(40, 600) },
    ]);
    expect(two).toEqual(one);
    expect(() =>
      judgeTrial([
        { changed: events(1, 900), control: events(9, 100) },
        { changed: events(9, 100), control: events(1, 900) },
      ]),
    ).toThrow('blocks[0]');
  });

  it('is slower to decide when the breaks come in bunches', () => {
    expect(judge(40, 100, { dispersion: 4 }).verdict).not.toBe('better');
    expect(judge(40, 100, { dispersion: 4 }).eValue).toBeLessThan(judge(40, 100).eValue);
  });

  it('judges against a known norm', () => {
    expect(judgeAgainstNorm(events(20), 90).verdict).toBe('better');
    expect(judgeAgainstNorm(events(90), 90).verdict).toBe('worse');
    expect(judgeAgainstNorm(events(44), 90).verdict).toBe('not-yet-known');
    expect(judgeAgainstNorm(events(44), 90).ratio).toBeCloseTo(44 / 45, 12);
  });

  it('names a before-then-after comparison as confounded', () => {
    const result = compareBeforeAfter(events(30, 300), events(12, 300), { pickedForBeingBad: true });
    expect(result.verdict).toBe('first-lower');
    expect(result.confounded).toBe(true);
    expect(result.cautions.join(' ')).toContain('picked because they were bad');
    expect(compareBeforeAfter(events(30, 300), events(28, 300)).cautions.length).toBe(2);
    expect(compareBeforeAfter(events(0, 300), events(4, 300)).words).toContain('at least');
  });
});
