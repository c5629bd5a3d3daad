import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hoursToNotice } from '../../../src/statistics/analysis/counting-need.js';
import {
  analyseCounts,
  answerCompare,
  answerTrial,
  EXPORTS,
  exportTable,
  sayOnceIn,
  sayTimes,
} from '../../../src/statistics/analysis/index.js';
import { expectNext } from '../../../src/statistics/analysis/next-count.js';
import { scanByPermutation } from '../../../src/statistics/analysis/permuted-scan.js';
import { localScatter } from '../../../src/statistics/analysis/time-course.js';
import { inspectTable, readTable } from '../../../src/statistics/tables/index.js';
import { logTable, positionTable, simulate } from './simulated-mill.js';

describe('hoursToNotice', () => {
  it('reaches the chance asked for when the counting is played through', () => {
    const { poisson } = simulate(4);
    for (const [rate, ratio, alpha] of [
      [0.09, 1.5, 0.025],
      [0.09, 3, 0.1 / 240],
    ] as const) {
      const hours = hoursToNotice(rate, ratio, alpha);
      const mean = rate * hours;
      // Smallest count whose chance at the usual rate is at most alpha, by adding up the probabilities.
      let term = Math.exp(-mean);
      let below = term;
      let alarm = 1;
      while (1 - below > alpha) {
        term *= mean / alarm;
        below += term;
        alarm++;
      }
      let noticed = 0;
      const runs = 4000;
      for (let i = 0; i < runs; i++) if (poisson(mean * ratio) >= alarm) noticed++;
      console.info(`ratio ${ratio}: ${hours.toFixed(0)} h, noticed ${noticed} of ${runs}`);
      expect(noticed / runs).toBeGreaterThan(0.8 - 0.02);
      expect(noticed / runs).toBeLessThan(0.88);
    }
  });

  it('asks for less where the rate or the rise is larger', () => {
    expect(hoursToNotice(0.2, 1.5, 0.025)).toBeLessThan(hoursToNotice(0.1, 1.5, 0.025));
    expect(hoursToNotice(0.1, 3, 0.025)).toBeLessThan(hoursToNotice(0.1, 1.5, 0.025));
    expect(() => hoursToNotice(0, 2, 0.05)).toThrow(/rate/);
    expect(() => hoursToNotice(1, 1, 0.05)).toThrow(/ratio/);
  });
});

describe('expectNext', () => {
  it('lies between the others and the count, and nearer the others the likelier the pick is innocent', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 4, max: 60 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (count, innocent) => {
          const usual = count / 5;
          const next = expectNext(count, usual, innocent);
          expect(next).toBeGreaterThanOrEqual(usual - 1e-9);
          expect(next).toBeLessThanOrEqual(count + 1e-9);
          expect(expectNext(count, usual, Math.min(1, innocent + 0.1))).toBeLessThanOrEqual(next + 1e-9);
        },
      ),
    );
  });

  it('is about right for bad positions picked as the worst of a frame', () => {
    const { poisson, random } = simulate(11);
    let said = 0;
    let came = 0;
    for (let i = 0; i < 4000; i++) {
      // A bad position as the prior has it: rate ratio about 3, spread over a factor of 2.
      const normal = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
      const ratio = Math.exp(Math.log(3) + 0.7 * normal);
      if (ratio <= 1) continue;
      const count = poisson(2 * ratio);
      if (count < 9) continue;
      said += expectNext(count, 2, 0);
      came += poisson(2 * ratio);
    }
    expect(said / came).toBeGreaterThan(0.95);
    expect(said / came).toBeLessThan(1.05);
  });
});

describe('localScatter', () => {
  const periods = (seed: number, level: (i: number, gamma: (shape: number) => number) => number) => {
    const { poisson, gamma } = simulate(seed);
    return Array.from({ length: 28 }, (_, i) => ({ count: poisson(level(i, gamma)), rotorHours: 1000 }));
  };

  it('is 1 for chance alone, also over a step and a drift', () => {
    const runs = 100;
    let raised = 0;
    for (let i = 0; i < runs; i++) {
      if (localScatter(periods(i, () => 40)) > 1) raised++;
      if (localScatter(periods(500 + i, (at) => (at < 14 ? 40 : 90))) > 1) raised++;
      if (localScatter(periods(900 + i, (at) => 30 + 2 * at)) > 1) raised++;
    }
    console.info(`scatter raised by chance: ${raised} of ${3 * runs}`);
    expect(raised).toBeLessThan(0.08 * 3 * runs);
  });

  it('sees days that differ', () => {
    const seen = Array.from({ length: 40 }, (_, i) =>
      localScatter(periods(2000 + i, (_at, gamma) => 60 * gamma(10))),
    );
    const mean = seen.reduce((sum, one) => sum + one, 0) / seen.length;
    // Variance over mean is 1 + 60/10.
    expect(mean).toBeGreaterThan(4.5);
    expect(mean).toBeLessThan(9.5);
  });
});

describe('scanByPermutation', () => {
  it('finds a run on an uneven frame, and rarely one where there is none', () => {
    const { poisson, gamma } = simulate(21);
    const frame = (bad: boolean) =>
      Array.from({ length: 120 }, (_, i) => ({
        id: String(i + 1),
        count: poisson(6 * gamma(8) * (bad && i >= 40 && i < 52 ? 2.5 : 1)),
        rotorHours: 24,
      }));
    let found = 0;
    let false_ = 0;
    const runs = 60;
    for (let i = 0; i < runs; i++) {
      const sections = scanByPermutation(frame(true), { alpha: 0.05, replications: 199 });
      if (sections.some((one) => Number(one.first) < 52 && Number(one.last) > 41)) found++;
      if (scanByPermutation(frame(false), { alpha: 0.05, replications: 199 }).length > 0) false_++;
    }
    console.info(`uneven frames: section found ${found} of ${runs}, false ${false_} of ${runs}`);
    expect(found).toBeGreaterThan(0.8 * runs);
    expect(false_).toBeLessThanOrEqual(0.05 * runs + 5);
  });

  it('gives the same with equal hours written differently', () => {
    const positions = positionTable(3, 1, 60, (i) => (i >= 20 && i < 28 ? 9 : 2)).positions.map((one) => ({
      id: one.position,
      count: one.count,
      rotorHours: 24,
    }));
    const uneven = positions.map((one, i) => ({ ...one, rotorHours: i === 0 ? 24.0001 : 24 }));
    const options = { alpha: 0.05, replications: 199 };
    expect(scanByPermutation(uneven, options).map((one) => one.ids)).toEqual(
      scanByPermutation(positions, options).map((one) => one.ids),
    );
    expect(scanByPermutation(positions, options)).toHaveLength(1);
  });
});

describe('quick answers', () => {
  it('say who breaks more, whichever comes first', () => {
    const more = { id: 'A', count: 60, rotorHours: 300 };
    const less = { id: 'B', count: 20, rotorHours: 300 };
    expect(answerCompare([more, less]).sentences[0]?.text).toMatch(/^Real: B breaks 67 % less often than A/);
    expect(answerCompare([less, more]).sentences[0]?.text).toMatch(/^Real: A breaks 3 times as often as B/);
    expect(answerCompare([{ ...less, count: 0 }, more]).sentences[0]?.text).toMatch(
      /^Real: A breaks while B had none/,
    );
    expect(
      answerCompare([
        { ...less, count: 0 },
        { ...more, count: 0 },
      ]).sentences[0]?.text,
    ).toMatch(/nothing can be said/);
  });

  it('let the interval of a trial close in as it goes on', () => {
    const block = { changed: { count: 10, rotorHours: 300 }, control: { count: 14, rotorHours: 300 } };
    const answer = answerTrial([block, block, block]);
    const run = answer.steps.filter((step) => !step.ahead);
    expect(run).toHaveLength(3);
    const widths = answer.steps.map((step) => Math.log(step.interval.upper / step.interval.lower));
    expect(widths).toEqual([...widths].sort((a, b) => b - a));
  });

  it('put chances and ratios into words', () => {
    expect([0.5, 0.2, 0.05, 0.013, 0.0042, 0.0001].map(sayOnceIn)).toEqual([
      'about every second time',
      'about once in 5',
      'about once in 20',
      'about once in 75',
      'about once in 250',
      'less than once in 1000',
    ]);
    expect(sayTimes(3.04, 'the rest')).toBe('3 times as often as the rest');
    expect(sayTimes(1.5, 'it allows', 'many')).toBe('about half as many again as it allows');
    expect(sayTimes(1.2, 'before', 'frequent')).toBe('20 % more frequent than before');
    expect(sayTimes(0.8, 'the rest')).toBe('20 % less often than the rest');
  });
});

describe('exportTable', () => {
  it('writes every table; positions and periods read back', async () => {
    const analysis = analyseCounts(
      logTable(10, 60, 14, (h, i) => (i === 50 && h >= 240 ? 1.5 : 0.06)),
      { normPer1000: 60 },
    );
    for (const name of EXPORTS) {
      const text = exportTable(analysis, name);
      const [head = '', ...rows] = text.trim().split('\r\n');
      for (const row of rows) expect(row).not.toMatch(/NaN|Infinity|undefined/);
      expect(head.length).toBeGreaterThan(5);
    }
    const text = exportTable(analysis, 'positions');
    const { mapping } = inspectTable(text).proposal;
    const reading = await readTable(text, mapping);
    expect(reading.ok && reading.table.breaks).toBe(analysis.breaks);
    expect(reading.ok && reading.table.positions).toHaveLength(60);
  });
});
