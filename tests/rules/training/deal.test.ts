import { describe, expect, it } from 'vitest';
import { readCase } from '../../../src/rules/case/case-file.js';
import { writeCase } from '../../../src/rules/case/write-case.js';
import { answerChances, deviationsOf } from '../../../src/rules/training/answer-chances.js';
import {
  chanceGiven,
  openGraph,
  sampleTruth,
  withoutCauses,
} from '../../../src/rules/training/hidden-truth.js';
import {
  answerCheck,
  dealCase,
  drawAnswers,
  LEVELS_OF_PRACTICE,
  type PracticeLevel,
  practiceCode,
  readPracticeCode,
  TrainingError,
  tryActions,
} from '../../../src/rules/training/index.js';
import { drawNormal, drawPoisson, randomFor } from '../../../src/rules/training/seeded.js';
import { trainingRoom, upTo } from './fixture.js';

const LEVELS = Object.keys(LEVELS_OF_PRACTICE).map(Number) as PracticeLevel[];
/** Seeds of each level that are dealt at the first or second try, to keep the tests quick. */
const QUICK: Readonly<Record<PracticeLevel, readonly [number, number]>> = {
  1: [1, 3],
  2: [3, 5],
  3: [1, 2],
  4: [1, 3],
  5: [2, 3],
};

describe('numbers of practice cases', () => {
  it('are read as they are written, and nothing else is', () => {
    for (const level of LEVELS)
      for (const seed of [1, 7, 999_999])
        expect(readPracticeCode(practiceCode({ level, seed }))).toEqual({ level, seed });
    const kinds = new Set(upTo(60).map((seed) => readPracticeCode(`x-${seed}`)?.level));
    expect(kinds.size).toBe(5);
    expect(practiceCode(readPracticeCode('X-12') ?? { level: 1, seed: 1 })).toBe('x-12');
    for (const wrong of ['', '7', 'y-1', '0-1', '6-1', '2-0', '2-1000000', '2-7x', '2--7', '2-07'])
      expect(readPracticeCode(wrong), wrong).toBeUndefined();
  });
});

describe('random streams', () => {
  it('repeat by name and differ between names', () => {
    expect(randomFor('a', 1)()).toBe(randomFor('a', 1)());
    expect(randomFor('a', 1)()).not.toBe(randomFor('a', 2)());
    expect(randomFor('ab', 'c')()).not.toBe(randomFor('a', 'bc')());
  });

  it.each([0.4, 6, 75])('draw Poisson counts with mean and variance %f', (mean) => {
    const random = randomFor('poisson', mean);
    const counts = upTo(4000).map(() => drawPoisson(random, mean));
    const average = counts.reduce((sum, n) => sum + n, 0) / counts.length;
    const variance = counts.reduce((sum, n) => sum + (n - average) ** 2, 0) / counts.length;
    expect(Math.abs(average - mean)).toBeLessThan(4 * Math.sqrt(mean / counts.length));
    expect(variance / mean).toBeGreaterThan(0.88);
    expect(variance / mean).toBeLessThan(1.12);
  });

  it('draw normal numbers', () => {
    const random = randomFor('normal');
    const values = upTo(4000).map(() => drawNormal(random));
    const average = values.reduce((sum, x) => sum + x, 0) / values.length;
    const square = values.reduce((sum, x) => sum + x * x, 0) / values.length;
    expect(Math.abs(average)).toBeLessThan(0.07);
    expect(Math.abs(square - 1)).toBeLessThan(0.1);
  });
});

describe('what causes bring about', () => {
  it('comes as often as the network says', async () => {
    const { reasoner } = trainingRoom();
    const open = openGraph(reasoner.graph, []);
    const random = randomFor('frequency');
    const draws = 1500;
    let short = 0;
    let expected = 0;
    for (let i = 0; i < draws; i++) {
      const truth = sampleTruth(open, ['twist-too-low'], random);
      const on = new Set([...truth.causes, ...truth.mechanisms.filter((id) => id !== 'binding-in:short')]);
      expected += chanceGiven(open, 'binding-in:short', on);
      if (truth.mechanisms.includes('binding-in:short')) short++;
    }
    expect(Math.abs(short - expected)).toBeLessThan(4 * Math.sqrt(draws / 4));
    expect(short / draws).toBeGreaterThan(0.3);
  });

  it('goes away with the cause, and never comes back when more is taken away', () => {
    const { reasoner } = trainingRoom();
    const open = openGraph(reasoner.graph, []);
    const rank = { absent: 0, slight: 1, marked: 2 };
    for (const seed of upTo(60)) {
      const truth = sampleTruth(open, ['twist-too-low', 'nozzle-chipped'], randomFor('removal', seed));
      const one = withoutCauses(open, truth, new Set(['twist-too-low']), `case ${seed}`);
      const both = withoutCauses(open, truth, new Set(['twist-too-low', 'nozzle-chipped']), `case ${seed}`);
      expect(one.causes).toEqual(['nozzle-chipped']);
      for (const id of both.mechanisms) expect(one.mechanisms).toContain(id);
      for (const id of one.mechanisms) expect(truth.mechanisms).toContain(id);
      for (const [id, level] of Object.entries(both.signs)) {
        expect(rank[level]).toBeLessThanOrEqual(rank[one.signs[id] ?? 'absent']);
        expect(rank[one.signs[id] ?? 'absent']).toBeLessThanOrEqual(rank[truth.signs[id] ?? 'absent']);
      }
    }
  });
});

describe('answers', () => {
  it('are predicted exactly as the product predicts them', async () => {
    const room = trainingRoom();
    const dealt = await dealCase(room, { level: 2, seed: 3 });
    const standing = await room.weigh(dealt.input);
    const samples = standing.samples();
    for (const result of standing.checks()) {
      const check = room.reasoner.knowledge.book.checks.get(result.id);
      if (check === undefined) throw new Error(`no check ${result.id}`);
      const deviations = deviationsOf(check, room.reasoner.graph);
      const sums = new Map<string, number>();
      for (let row = 0; row < samples.count; row++)
        for (const [id, chance] of answerChances(check, deviations, (outcome) =>
          samples.leafProbability(row, `${check.id}:${outcome}`),
        ))
          sums.set(id, (sums.get(id) ?? 0) + chance / samples.count);
      for (const outcome of result.outcomes)
        expect(sums.get(outcome.id), `${check.id} ${outcome.id}`).toBeCloseTo(outcome.probability, 9);
    }
  });

  it('fit together: the same case answers alike in any order', async () => {
    const room = trainingRoom();
    const dealt = await dealCase(room, { level: 1, seed: 3 });
    const all = await drawAnswers(room, dealt);
    expect(all.size).toBeGreaterThan(25);
    for (const check of [...all.keys()].reverse().slice(0, 8))
      expect((await answerCheck(room, dealt, check)).outcome).toBe(all.get(check));
    await expect(answerCheck(room, dealt, 'crystal-ball')).rejects.toThrow(TrainingError);
  });
});

describe('dealt cases', () => {
  it.each(LEVELS)('of level %i keep what the level promises and repeat from their number', async (level) => {
    const room = trainingRoom();
    for (const seed of QUICK[level]) {
      const dealt = await dealCase(room, { level, seed });
      expect(await dealCase(room, { level, seed })).toEqual(dealt);
      expect(dealt.code).toBe(`${level}-${seed}`);
      expect(dealt.truth.causes).toHaveLength(level === 3 ? 2 : 1);
      expect(dealt.truth.causes.includes('no-assignable-cause')).toBe(level === 4);
      expect(dealt.input.findings).toEqual({});
      const telling =
        level === 4 ? room.reasoner.knowledge.book.causes.get('no-assignable-cause')?.checks : undefined;
      const answers = [...(await drawAnswers(room, dealt))].filter(
        ([check]) => telling === undefined || telling.includes(check),
      );
      const findings = Object.fromEntries(answers.map(([check, outcome]) => [check, [outcome]]));
      const closing = await room.weigh({ ...dealt.input, findings });
      for (const cause of dealt.truth.causes)
        expect(closing.probability(cause), `${dealt.code} ${cause}`).toBeGreaterThanOrEqual(0.3);
      const opening = await room.weigh(dealt.input);
      const [truth = ''] = dealt.truth.causes;
      if (level === 1) expect(opening.ranking()[0]?.cause).toBe(truth);
      if (level === 5) expect(opening.ranking()[0]?.cause).not.toBe(truth);
      if (level === 4) {
        const breaks = dealt.input.measurements.endBreaks;
        expect(breaks?.kind === 'against-norm' && (breaks.pickedFrom ?? 0)).toBeGreaterThan(1);
      }
    }
  });

  it('are whole case files: written out and read back they are the same', async () => {
    const room = trainingRoom();
    for (const level of LEVELS) {
      const { input } = await dealCase(room, { level, seed: QUICK[level][0] });
      const reading = readCase(writeCase(input), room.vocabulary);
      expect(reading.ok && reading.case).toEqual(input);
    }
  });

  it('refuse a seed that is none', async () => {
    await expect(dealCase(trainingRoom(), { level: 1, seed: 0 })).rejects.toThrow(/seed: 0/);
    await expect(dealCase(trainingRoom(), { level: 1, seed: 1.5 })).rejects.toThrow(/whole number/);
  });

  it('answer actions: the right one takes signs away in most cases, a wrong one never', async () => {
    const room = trainingRoom();
    const { book } = room.reasoner.knowledge;
    let cured = 0;
    for (const seed of [1, 3, 4, 5, 6]) {
      const dealt = await dealCase(room, { level: 1, seed });
      const [truth = ''] = dealt.truth.causes;
      const fitting = book.causes.get(truth)?.actions[0]?.do ?? '';
      const idle = [...book.actions.keys()].find(
        (id) => !book.causes.get(truth)?.actions.some((action) => action.do === id),
      );
      const result = await tryActions(room, dealt, dealt.truth, [{ id: fitting, causes: [] }]);
      if (result.cured.includes(truth)) cured++;
      const nothing = await tryActions(room, dealt, dealt.truth, [{ id: idle ?? '', causes: [] }]);
      expect(nothing.cured).toEqual([]);
      expect(nothing.signs.every((sign) => sign.before === sign.after)).toBe(true);
    }
    expect(cured).toBeGreaterThanOrEqual(2);
  });
});
