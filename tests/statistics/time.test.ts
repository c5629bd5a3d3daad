import { describe, expect, it } from 'vitest';
import {
  cusumReference,
  cusumRunLength,
  designCusum,
  findChangePoint,
  judgeOnset,
  profileTime,
  runCusum,
  testLaplaceTrend,
  testPeriodTrend,
  testPowerTrend,
} from '../../src/statistics/index.js';
import { createRandom } from '../../src/statistics/random.js';

/** A Poisson count by multiplying uniforms. */
function poisson(mean: number, random: () => number): number {
  let count = -1;
  for (let product = 1; product > Math.exp(-mean); count++) product *= random();
  return count;
}

const periods = (counts: readonly number[], rotorHours = 100) =>
  counts.map((count) => ({ count, rotorHours }));

describe('trend in event times', () => {
  it('turns its sign when time is turned round', () => {
    const times = [3, 30, 55, 70, 82, 90, 95, 99];
    const forward = testLaplaceTrend(times, { end: 100 });
    const back = testLaplaceTrend(times.map((time) => 100 - time).reverse(), { end: 100 });
    expect(forward.z).toBeGreaterThan(1.5);
    expect(back.z).toBeCloseTo(-forward.z, 12);
    expect(forward.pWorsening).toBeCloseTo(back.pImproving, 12);
    const late = [40, 55, 70, 82, 90, 95, 99];
    expect(testPowerTrend(late, { end: 100 }).exponent).toBeGreaterThan(2);
    expect(testPowerTrend(late, { end: 100 }).pWorsening).toBeLessThan(0.05);
  });

  it('leaves out the last event only when the watch ended with it', () => {
    const times = [10, 20, 50, 80];
    expect(testLaplaceTrend(times, 'at-last-event').z).toBeCloseTo(
      testLaplaceTrend(times.slice(0, 3), { end: 80 }).z,
      12,
    );
    expect(testPowerTrend(times, 'at-last-event').degrees).toBe(6);
    expect(testPowerTrend(times, { end: 80 }).degrees).toBe(8);
  });

  it('refuses times that fall or lie after the end', () => {
    expect(() => testLaplaceTrend([5, 3], { end: 10 })).toThrow('times[1]');
    expect(() => testLaplaceTrend([5, 30], { end: 10 })).toThrow('end');
  });

  it('keeps its size on steady counts', () => {
    const random = createRandom(21);
    let rejected = 0;
    for (let i = 0; i < 2000; i++) {
      const counts = Array.from({ length: 10 }, () => poisson(4, random));
      if (testPeriodTrend(periods(counts)).pWorsening <= 0.05) rejected++;
    }
    expect(rejected / 2000).toBeGreaterThan(0.03);
    expect(rejected / 2000).toBeLessThan(0.07);
  });
});

describe('change point', () => {
  it('finds a step with unequal hours and says how sure it is of the place', () => {
    const hours = [100, 50, 100, 100, 80, 100, 100, 60, 100, 100];
    const series = hours.map((rotorHours, i) => ({
      count: Math.round(rotorHours * (i < 6 ? 0.08 : 0.25)),
      rotorHours,
    }));
    const change = findChangePoint(series);
    expect(change.after).toBe(6);
    expect(change.p).toBeLessThan(0.01);
    expect(change.interval.from).toBeLessThanOrEqual(6);
    expect(change.interval.to).toBeGreaterThanOrEqual(6);
    expect(change.interval.to - change.interval.from).toBeLessThan(4);
    expect(change.ratePer1000After / change.ratePer1000Before).toBeCloseTo(0.25 / 0.08, 0);
  });

  it('pays for having tried every place', () => {
    const random = createRandom(5);
    let rejected = 0;
    for (let i = 0; i < 200; i++) {
      const counts = Array.from({ length: 14 }, () => poisson(6, random));
      if (findChangePoint(periods(counts), { replications: 199 }).p <= 0.05) rejected++;
    }
    // 5 % of 200 is 10; 20 is over three standard deviations above.
    expect(rejected).toBeLessThan(20);
  });
});

describe('time profile', () => {
  it('finds the bad shift and names its method', () => {
    const profile = profileTime([
      { id: 'early', count: 40, rotorHours: 500 },
      { id: 'late', count: 75, rotorHours: 500 },
      { id: 'night', count: 38, rotorHours: 500 },
    ]);
    expect(profile.method).toBe('chi-square');
    expect(profile.p).toBeLessThan(0.001);
    expect(profile.slots[1]?.adjustedP).toBeLessThan(0.01);
  });

  it('uses the exact distribution when counts are low, close to chi-square when they are not', () => {
    const low = profileTime(
      Array.from({ length: 24 }, (_, i) => ({
        id: `${i}`,
        count: i >= 12 && i < 17 ? 7 : 1,
        rotorHours: 20,
      })),
    );
    expect(low.method).toBe('monte-carlo');
    expect(low.p).toBeLessThan(0.05);
    const borderline = [4, 9, 5, 2].map((count, i) => ({ id: `${i}`, count, rotorHours: 19 }));
    const exact = profileTime(borderline.map((slot, i) => (i === 3 ? { ...slot, rotorHours: 18 } : slot)));
    const smooth = profileTime(borderline);
    expect(exact.method).toBe('monte-carlo');
    expect(smooth.method).toBe('chi-square');
    expect(Math.abs(exact.p - smooth.p)).toBeLessThan(0.05);
  });
});

describe('onset', () => {
  it('tells a step, a drift, a daily pattern and a steady high level apart', () => {
    const step = judgeOnset(periods([5, 4, 6, 5, 5, 12, 11, 13, 12, 14]));
    expect(step.onset).toBe('sudden');
    expect(step.step.after).toBe(5);
    const drift = judgeOnset(periods([3, 4, 5, 6, 8, 9, 11, 12, 14, 15]));
    expect(drift.onset).toBe('creeping');
    const steady = periods([10, 11, 9, 10, 10, 9, 11, 10]);
    expect(judgeOnset(steady).onset).toBeUndefined();
    expect(judgeOnset(steady, { normPer1000: 50 }).onset).toBe('ongoing');
    expect(judgeOnset(steady, { normPer1000: 100 }).onset).toBeUndefined();
    const slots = [
      { id: 'morning', count: 15, rotorHours: 266 },
      { id: 'afternoon', count: 45, rotorHours: 267 },
      { id: 'night', count: 20, rotorHours: 267 },
    ];
    expect(judgeOnset(steady, { slots }).onset).toBe('time-of-day');
  });

  it('does not call an improvement a rise', () => {
    expect(judgeOnset(periods([14, 12, 13, 11, 12, 5, 5, 6, 4, 5])).onset).toBeUndefined();
    expect(judgeOnset(periods([15, 14, 12, 11, 9, 8, 6, 5, 4, 3])).onset).toBeUndefined();
  });

  it('seldom takes a drift for a step or a step for a drift', () => {
    const random = createRandom(77);
    const tally = { step: { sudden: 0, creeping: 0 }, drift: { sudden: 0, creeping: 0 } };
    for (let i = 0; i < 120; i++) {
      const kinds = {
        step: (t: number) => (t < 8 ? 8 : 20),
        drift: (t: number) => 6 * Math.exp(0.09 * t),
      };
      for (const kind of ['step', 'drift'] as const) {
        const counts = Array.from({ length: 16 }, (_, t) => poisson(kinds[kind](t), random));
        const { onset } = judgeOnset(periods(counts), { replications: 99 });
        if (onset === 'sudden' || onset === 'creeping') tally[kind][onset]++;
      }
    }
    expect(tally.step.sudden).toBeGreaterThan(80);
    expect(tally.step.creeping).toBeLessThan(10);
    expect(tally.drift.creeping).toBeGreaterThan(50);
    expect(tally.drift.sudden).toBeLessThan(25);
  });
});

describe('Poisson CUSUM', () => {
  it('has the run length that simulation gives, with and without a head start', () => {
    const random = createRandom(13);
    for (const [mean, start] of [
      [2, 0],
      [3.2, 0],
      [3.2, 3],
    ] as const) {
      const exact = cusumRunLength(mean, { reference: 2.5, limit: 6, start, grid: 2 });
      const runs = 3000;
      let sum = 0;
      let squares = 0;
      for (let i = 0; i < runs; i++) {
        let s: number = start;
        let length = 0;
        do {
          s = Math.max(0, s + poisson(mean, random) - 2.5);
          length++;
        } while (s < 6);
        sum += length;
        squares += length * length;
      }
      const average = sum / runs;
      const error = Math.sqrt((squares / runs - average ** 2) / runs);
      expect(Math.abs(average - exact)).toBeLessThan(4 * error);
    }
  });

  it('meets the wanted false-alarm interval with the smallest limit', () => {
    for (const [norm, raised] of [
      [2, 4],
      [0.2, 0.5],
      [12, 18],
    ] as const) {
      const plan = designCusum({ norm, raised, falseAlarmPeriods: 300 });
      expect(plan.falseAlarmPeriods).toBeGreaterThanOrEqual(300);
      const smaller = cusumRunLength(norm, { ...plan, limit: plan.limit - 1 / plan.grid });
      expect(smaller).toBeLessThan(300);
      expect(plan.detectionPeriods).toBeLessThan(plan.falseAlarmPeriods / 5);
      expect(Math.abs(plan.reference / cusumReference(norm, raised) - 1)).toBeLessThan(0.03);
      const quick = designCusum({ norm, raised, falseAlarmPeriods: 300, headStart: true });
      expect(quick.detectionPeriods).toBeLessThan(plan.detectionPeriods);
    }
  });

  it('alarms after a rise and says since when', () => {
    const plan = designCusum({ norm: 2, raised: 4, falseAlarmPeriods: 400 });
    const chart = runCusum(periods([2, 1, 3, 2, 2, 1, 5, 4, 5, 6], 24), plan, 24);
    expect(chart.slice(0, 6).some((point) => point.alarm)).toBe(false);
    expect(chart.at(-1)?.alarm).toBe(true);
    expect(chart.at(-1)?.since).toBe(6);
    // Half the hours with half the events moves the sum half as far.
    const half = runCusum([{ count: 4, rotorHours: 12 }], plan, 24);
    expect(half[0]?.sum).toBeCloseTo(4 - plan.reference / 2, 12);
  });

  it('refuses designs that cannot work', () => {
    expect(() => designCusum({ norm: 4, raised: 2, falseAlarmPeriods: 100 })).toThrow('raised');
    expect(() => designCusum({ norm: 2, raised: 2, falseAlarmPeriods: 100 })).toThrow('raised');
    expect(() => designCusum({ norm: 0.001, raised: 0.002, falseAlarmPeriods: 100 })).toThrow(
      'longer periods',
    );
    expect(() => cusumRunLength(2, { reference: 2.3, limit: 6 })).toThrow('multiple of 1/1');
  });
});
