import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bySum, covers, efficientPoints, type Point } from '../../../src/rules/plans/dominance.js';

const points = fc
  .array(fc.array(fc.integer({ min: -3, max: 3 }), { minLength: 4, maxLength: 4 }), {
    minLength: 1,
    maxLength: 40,
  })
  .map((vectors) => vectors.map((vector, order): Point => ({ vector, order })));

describe('efficient points', () => {
  it('are covered by none, and cover every other', () => {
    fc.assert(
      fc.property(points, (all) => {
        const kept = efficientPoints(all);
        const left = all.filter((one) => !kept.includes(one));
        expect(kept.length).toBeGreaterThan(0);
        for (const one of kept) expect(all.some((other) => other !== one && covers(other, one))).toBe(false);
        for (const one of left) expect(kept.some((other) => covers(other, one))).toBe(true);
      }),
    );
  });

  it('do not hang on the order in which they come', () => {
    fc.assert(
      fc.property(points, fc.integer(), (all, seed) => {
        const shuffled = [...all].sort(
          (a, b) => ((a.order * 7919 + seed) % 13) - ((b.order * 7919 + seed) % 13),
        );
        expect(efficientPoints(shuffled)).toEqual(efficientPoints(all));
      }),
    );
  });

  it('hold the best of each value alone', () => {
    fc.assert(
      fc.property(points, fc.integer({ min: 0, max: 3 }), (all, axis) => {
        const best = Math.max(...all.map((one) => one.vector[axis] ?? 0));
        expect(efficientPoints(all).some((one) => one.vector[axis] === best)).toBe(true);
      }),
    );
  });

  it('come before what they cover when sorted by sum', () => {
    fc.assert(
      fc.property(points, (all) => {
        const sorted = bySum(all);
        sorted.forEach((one, i) => {
          for (const later of sorted.slice(i + 1)) expect(covers(later, one)).toBe(false);
        });
      }),
    );
  });

  it('keep one of those that are level', () => {
    const level = [3, 1, 2].map((order): Point => ({ vector: [1, 2], order }));
    expect(efficientPoints(level)).toEqual([{ vector: [1, 2], order: 1 }]);
  });
});
