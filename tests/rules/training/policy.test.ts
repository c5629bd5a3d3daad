import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectedSearchMinutes } from '../../../src/rules/diagnosis/search-minutes.js';
import {
  bestCheck,
  checkMinutes,
  dealCase,
  expectedMinutes,
  runPolicy,
} from '../../../src/rules/training/index.js';
import { planSearch, walkSearch } from '../../../src/rules/training/search-walk.js';
import { dealMany, trainingRoom, upTo } from './fixture.js';

describe('the search walked', () => {
  it('takes on average what the product expects, one fault at a time', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: 0.001, max: 1, noNaN: true }), fc.integer({ min: 2, max: 90 })), {
          minLength: 1,
          maxLength: 12,
        }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (drawn, none) => {
          const total = drawn.reduce((sum, [p]) => sum + p, 0) / (1 - none * 0.9);
          const probabilities = drawn.map(([p]) => p / total);
          const minutes = drawn.map(([, m]) => m);
          const plan = planSearch(probabilities, minutes, 180);
          const looks = plan.order
            .slice(0, plan.stopAfter)
            .map((i) => ({ cause: `c${i}`, minutes: plan.costs[i] ?? 0 }));
          const rest = 1 - probabilities.reduce((sum, p) => sum + p, 0);
          const expected =
            probabilities.reduce((sum, p, i) => sum + p * walkSearch(looks, [`c${i}`], 180), 0) +
            rest * walkSearch(looks, ['something else'], 180);
          expect(expected).toBeCloseTo(expectedSearchMinutes(probabilities, minutes, 180), 6);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('goes on until every fault is found', () => {
    const looks = [
      { cause: 'a', minutes: 10 },
      { cause: 'b', minutes: 5 },
    ];
    expect(walkSearch(looks, ['a'], 180)).toBe(10);
    expect(walkSearch(looks, ['b', 'a'], 180)).toBe(15);
    expect(walkSearch(looks, ['a', 'c'], 180)).toBe(195);
    expect(walkSearch([], ['a'], 180)).toBe(180);
  });
});

describe('policies', () => {
  it('count a check the minutes that its place in the ranking rests on', async () => {
    const room = trainingRoom();
    const standing = await room.weigh((await dealCase(room, { level: 2, seed: 5 })).input);
    const { book, judgements } = room.reasoner.knowledge;
    for (const result of standing.checks().filter((one) => one.savesPerMinute > 0)) {
      const check = book.checks.get(result.id);
      if (check === undefined) throw new Error(`no check ${result.id}`);
      expect(checkMinutes(check, judgements)).toBeCloseTo(result.saves / result.savesPerMinute, 6);
    }
  });

  it('never promise less two checks ahead than one', async () => {
    const room = trainingRoom();
    for (const dealt of await dealMany(upTo(3))) {
      const standing = await room.weigh(dealt.input);
      const best = bestCheck(room, standing);
      const { book, judgements } = room.reasoner.knowledge;
      const single = Math.max(
        ...standing.checks().map((one) => {
          const check = book.checks.get(one.id);
          return check === undefined ? 0 : one.saves - checkMinutes(check, judgements);
        }),
      );
      if (best === undefined) expect(single).toBeLessThan(0.5);
      else expect(best.gain).toBeGreaterThanOrEqual(single - 1e-9);
    }
  });

  it('repeat', async () => {
    const room = trainingRoom();
    const dealt = await dealCase(room, { level: 5, seed: 2 });
    for (const policy of ['random', 'best'] as const)
      expect(await runPolicy(room, dealt, policy)).toEqual(await runPolicy(room, dealt, policy));
  });

  it('rank simulated trainees as they should: the best policy ahead of every simple one', async () => {
    const room = trainingRoom();
    const cases = await dealMany([1, 3, 4, 5, 7, 9, 13, 17, 19, 23, 24]);
    const best = await expectedMinutes(room, cases, 'best');
    const random = await expectedMinutes(room, cases, 'random');
    const first = await expectedMinutes(room, cases, 'first-listed');
    expect(best.mean).toBeLessThanOrEqual(random.mean);
    expect(best.mean).toBeLessThanOrEqual(first.mean);
  }, 120_000);
});
