import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RandomStream, seededRandom } from '../../../src/rules/network/random.js';
import { Strata } from '../../../src/rules/network/strata.js';

describe('stratified random numbers', () => {
  it('lie one in each part, whatever was drawn before', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 1, maxLength: 8 }),
        (seed, sizes) => {
          const strata = new Strata(new RandomStream(seed), 60);
          for (const size of sizes) {
            const parts = Array.from(strata.draw(size).subarray(0, size), (number) => {
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
      const strata = new Strata(new RandomStream(seed), 3);
      const tenth = Math.floor(10 * (strata.draw(3)[0] as number));
      tenths[tenth] = (tenths[tenth] as number) + 1;
    }
    // Chi-square with nine degrees of freedom lies above 33.7 once in 10 000.
    const chiSquare = tenths.reduce((sum, seen) => sum + (seen - 500) ** 2 / 500, 0);
    expect(chiSquare).toBeLessThan(33.7);
  });
});

describe('a stream of random numbers', () => {
  it('gives the same numbers one by one and many at once, in any mixture', () => {
    fc.assert(
      fc.property(fc.integer(), fc.array(fc.nat({ max: 9 }), { maxLength: 8 }), (seed, sizes) => {
        const stream = new RandomStream(seed);
        const single = seededRandom(seed);
        const numbers = new Float64Array(9);
        for (const size of sizes) {
          stream.fill(numbers, size);
          for (const number of numbers.subarray(0, size)) expect(number).toBe(single());
          expect(stream.next()).toBe(single());
        }
      }),
    );
  });
});
