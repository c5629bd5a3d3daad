import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/rules/network/random.js';
import { Strata } from '../../../src/rules/network/strata.js';

describe('stratified random numbers', () => {
  it('lie one in each part, whatever was drawn before', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 1, maxLength: 8 }),
        (seed, sizes) => {
          const strata = new Strata(seededRandom(seed), 60);
          for (const size of sizes) {
            strata.begin(size);
            const parts = Array.from({ length: size }, () => {
              const number = strata.next();
              expect(number).toBeGreaterThanOrEqual(0);
              expect(number).toBeLessThan(1);
              return Math.floor(number * size);
            });
            expect(parts.sort((a, b) => a - b)).toEqual(Array.from({ length: size }, (_, part) => part));
          }
        },
      ),
    );
  });

  it('each lie anywhere in 0 to 1: the first of three, over many seeds', () => {
    const tenths = new Array<number>(10).fill(0);
    for (let seed = 0; seed < 5000; seed++) {
      const strata = new Strata(seededRandom(seed), 3);
      strata.begin(3);
      const tenth = Math.floor(10 * strata.next());
      tenths[tenth] = (tenths[tenth] as number) + 1;
    }
    // Chi-square with nine degrees of freedom lies above 33.7 once in 10 000.
    const chiSquare = tenths.reduce((sum, seen) => sum + (seen - 500) ** 2 / 500, 0);
    expect(chiSquare).toBeLessThan(33.7);
  });
});
