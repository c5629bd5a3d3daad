import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { brierScore, logScore } from '../../../src/rules/training/index.js';

const confidences = (values: Record<string, number>) => new Map(Object.entries(values));

describe('proper scores', () => {
  it('are best for those who say what they believe', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.02, max: 0.98, noNaN: true }),
        fc.double({ min: 0.02, max: 0.98, noNaN: true }),
        (believed, stated) => {
          for (const score of [brierScore, logScore]) {
            const expected = (said: number) =>
              believed * score(confidences({ a: said }), ['a']) +
              (1 - believed) * score(confidences({ a: said }), []);
            expect(expected(believed)).toBeLessThanOrEqual(expected(stated) + 1e-12);
          }
        },
      ),
    );
  });

  it('bound what one slip can cost, and count a cause left out', () => {
    expect(logScore(confidences({ a: 0 }), ['a'])).toBeCloseTo(-Math.log(0.01), 12);
    expect(logScore(confidences({ a: 1 }), [])).toBeCloseTo(-Math.log(0.01), 12);
    expect(logScore(confidences({}), ['a'])).toBeCloseTo(-Math.log(0.01), 12);
    expect(brierScore(confidences({}), ['a', 'b'])).toBe(2);
    expect(brierScore(confidences({ a: 1, b: 1 }), ['a', 'b'])).toBe(0);
  });
});
