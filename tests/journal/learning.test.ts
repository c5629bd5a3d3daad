import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { learnBaseRates, replayClosedCases } from '../../src/journal/index.js';
import { caseWeight, type ExpertCause, learnFrom } from '../../src/journal/learning/base-rates.js';
import type { ClosedCase } from '../../src/journal/learning/confirmed-cases.js';
import { compare, type ReplayedCase } from '../../src/journal/learning/replay-closed-cases.js';
import { describeOnBothEngines } from './engines.js';
import { addSmallMill, caseThrough, closedBy, diagnosis, LOOKED } from './fixtures.js';

const AT = '2026-06-01T00:00:00.000Z';
const EXPERT: readonly ExpertCause[] = [
  { id: 'a', family: 'nozzle', base: 0.1, checks: ['look'] },
  { id: 'b', family: 'nozzle', base: 0.2, checks: ['look', 'measure'] },
  { id: 'c', family: 'rotor', base: 0.3, checks: ['measure'] },
  { id: 'd', family: 'rotor', base: 0.05, checks: ['never'] },
];
const closed = (cause: string, checks: readonly string[], more: Partial<ClosedCase> = {}): ClosedCase => ({
  id: 'case-1',
  closedAt: AT,
  causes: [cause],
  how: 'by-part',
  symptomGone: true,
  checks,
  ...more,
});
const learn = (cases: readonly ClosedCase[]) =>
  new Map(learnFrom(cases, EXPERT, { at: AT }).map((rate) => [rate.causeId, rate]));

describe('base rates from closed cases', () => {
  it('are the expert’s without cases', () => {
    for (const rate of learn([]).values()) {
      expect(rate.learned).toBeCloseTo(rate.expert, 12);
      expect(rate).toMatchObject({ cases: 0, found: 0, agreement: 1 });
    }
  });

  it('rise for what was found, fall for what was checked in vain, stay for what was not checked', () => {
    const rates = learn(Array.from({ length: 15 }, () => closed('a', ['look'])));
    expect(rates.get('a')?.learned).toBeGreaterThan(0.1);
    expect(rates.get('b')?.learned).toBeLessThan(0.2);
    expect(rates.get('c')?.learned).toBeCloseTo(0.3, 9);
    expect(rates.get('d')?.learned).toBeCloseTo(0.05, 9);
    expect(rates.get('a')).toMatchObject({ cases: 15, found: 15 });
    expect(rates.get('b')).toMatchObject({ cases: 15, found: 0 });
  });

  it('are those of a Dirichlet with known counts where every cause is looked at in every case', () => {
    const everything = ['look', 'measure', 'never'];
    const counts = { a: 12, b: 6, c: 3, d: 1 };
    const cases = Object.entries(counts).flatMap(([cause, n]) =>
      Array.from({ length: n }, () => closed(cause, everything)),
    );
    const rates = learn(cases);
    // Two families of 20 cases each, shares base / 0.65.
    for (const { id, base } of EXPERT) {
      const share = (40 * (base / 0.65) + counts[id as keyof typeof counts]) / (40 + 22);
      expect(rates.get(id)?.learned).toBeCloseTo(0.65 * share, 9);
    }
  });

  it('learn nothing from unconfirmed causes and a third from a symptom that went away', () => {
    const many = (more: Partial<ClosedCase>) => Array.from({ length: 10 }, () => closed('a', ['look'], more));
    const nothing = learn(many({ how: 'unconfirmed', symptomGone: false }));
    expect(nothing.get('a')?.learned).toBeCloseTo(0.1, 12);
    const little = learn(many({ how: 'unconfirmed', symptomGone: true })).get('a')?.learned ?? 0;
    const much = learn(many({})).get('a')?.learned ?? 0;
    expect(little).toBeGreaterThan(0.1);
    expect(little).toBeLessThan(much);
    expect(little).toBeCloseTo(learn(many({}).slice(0, 3)).get('a')?.learned ?? 0, 9);
  });

  it('let old cases fade', () => {
    const year = caseWeight(closed('a', [], { closedAt: '2025-06-01T00:00:00.000Z' }), AT, 0.97);
    expect(year).toBeCloseTo(0.97 ** 12, 2);
    expect(caseWeight(closed('a', []), AT, 0.97)).toBe(1);
  });

  it('flag a mill that the expert did not foresee', () => {
    const rates = learn(Array.from({ length: 25 }, () => closed('a', ['look'])));
    expect(rates.get('a')?.agreement).toBeLessThan(0.05);
    expect(learn([closed('b', ['look'])]).get('b')?.agreement).toBeGreaterThan(0.3);
  });

  it('keep their sum, and lie within their intervals, whatever was found', () => {
    const anyCase = fc.record({
      cause: fc.constantFrom('a', 'b', 'c', 'd'),
      checks: fc.subarray(['look', 'measure', 'never']),
    });
    fc.assert(
      fc.property(fc.array(anyCase, { maxLength: 60 }), (cases) => {
        const rates = learn(cases.map((one) => closed(one.cause, one.checks)));
        const sum = [...rates.values()].reduce((total, rate) => total + rate.learned, 0);
        expect(sum).toBeCloseTo(0.65, 6);
        for (const { learned, interval } of rates.values()) {
          expect(interval.lower).toBeLessThan(learned);
          expect(interval.upper).toBeGreaterThan(learned);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('refuse a rate that is none', () => {
    expect(() => learnFrom([], [{ id: 'x', family: 'f', base: 1, checks: [] }])).toThrow('expert x.base');
  });
});

describe('two versions on the same cases', () => {
  const place = (n: number, probability: number) => ({ place: n, probability });
  const many = (before: ReplayedCase['before'], after: ReplayedCase['after'], n: number): ReplayedCase[] =>
    Array.from({ length: n }, (_, k) => ({
      id: `case-${k}`,
      cause: 'a',
      before: before && { ...before, probability: before.probability * (1 + 0.01 * (k % 3)) },
      after,
    }));

  it('are told apart beyond noise only', () => {
    expect(compare(many(place(1, 0.6), place(2, 0.3), 20))).toMatchObject({
      verdict: 'worse',
      first: { before: 20, after: 0 },
    });
    expect(compare(many(place(2, 0.3), place(1, 0.6), 20)).verdict).toBe('better');
    const mixed = [...many(place(1, 0.6), place(2, 0.3), 3), ...many(place(2, 0.3), place(1, 0.6), 3)];
    expect(compare(mixed)).toMatchObject({ verdict: 'no-difference-shown', firstP: 1 });
    expect(compare([]).verdict).toBe('no-cases');
  });

  it('give McNemar’s exact probability for first places', () => {
    // 6 lost and none gained: 2 × 0.5⁶.
    expect(compare(many(place(1, 0.5), place(2, 0.4), 6)).firstP).toBeCloseTo(2 / 64, 12);
  });
});

describeOnBothEngines('learning from a journal', (on) => {
  it('reads closed cases and replays them', async () => {
    const journal = await on.newJournal();
    await addSmallMill(journal);
    for (let n = 0; n < 4; n++)
      await caseThrough(
        journal,
        { title: 'x', diagnosis: diagnosis(0.3, 0.5, 0.2) },
        `2026-05-0${n + 1}T00:00:00Z`,
        [LOOKED, closedBy('nozzle-worn', n === 3 ? 'unconfirmed' : 'by-look')],
      );
    const expert = ['nozzle-worn', 'twist-too-low'].map((id) => ({
      id,
      family: 'f',
      base: 0.1,
      checks: ['nozzle-look'],
    }));
    const [worn, twist] = await learnBaseRates(journal, expert, { at: AT });
    expect(worn).toMatchObject({ causeId: 'nozzle-worn', expert: 0.1, cases: 3, found: 3 });
    expect(worn?.learned).toBeGreaterThan(0.1);
    expect(twist?.learned).toBeLessThan(0.1);

    const replay = await replayClosedCases(journal, async (input) =>
      'setup' in input ? diagnosis(0.9, 0.05, 0.05, 'v2').diagnosis : undefined,
    );
    expect(replay).toMatchObject({
      versions: { before: ['v1'], after: ['v2'] },
      first: { before: 0, after: 3 },
      unreadable: [],
    });
    expect(replay.cases).toHaveLength(3);
    expect(replay.logScore.before).toBeCloseTo(Math.log(0.3), 12);
    expect(replay.gain.mean).toBeCloseTo(Math.log(3), 12);
    const unread = await replayClosedCases(journal, async () => undefined);
    expect(unread).toMatchObject({ verdict: 'no-cases', cases: [] });
    expect(unread.unreadable).toHaveLength(3);
  });
});
