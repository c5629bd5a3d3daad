import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { keepFew } from '../../src/rules/keep-few.js';

describe('the few values used last', () => {
  it('are those of a list in which each use moves its value to the end', () => {
    const uses = fc.array(
      fc.record({
        how: fc.constantFrom('get', 'put', 'drop'),
        key: fc.constantFrom('a', 'b', 'c', 'd', 'e'),
      }),
      { maxLength: 60 },
    );
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 4 }), uses, (most, list) => {
        const few = keepFew<number>(most);
        let expected: [string, number][] = [];
        list.forEach(({ how, key }, n) => {
          const known = expected.find(([one]) => one === key);
          const others = expected.filter(([one]) => one !== key);
          if (how === 'get') {
            expect(few.get(key)).toBe(known?.[1]);
            if (known !== undefined) expected = [...others, known];
          } else if (how === 'put') {
            few.put(key, n);
            expected = [...others, [key, n] as [string, number]].slice(-most);
          } else {
            few.drop(key);
            expected = others;
          }
        });
        for (const [key, value] of expected) expect(few.get(key)).toBe(value);
      }),
    );
  });
});
