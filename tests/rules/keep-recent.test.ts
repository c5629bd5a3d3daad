import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { keepRecent } from '../../src/rules/keep-recent.js';

describe('keeping the values used last', () => {
  it('lets go what was not used for longest', () => {
    const recent = keepRecent<string, number>(2);
    recent.set('a', 1);
    recent.set('b', 2);
    expect(recent.get('a')).toBe(1);
    recent.set('c', 3);
    expect([recent.get('a'), recent.get('b'), recent.get('c')]).toEqual([1, undefined, 3]);
  });

  it('knows a key whose value is undefined', () => {
    const recent = keepRecent<string, undefined>(2);
    recent.set('a', undefined);
    expect(recent.has('a')).toBe(true);
    expect(recent.has('b')).toBe(false);
  });

  it('holds what a list sorted by use holds', () => {
    const steps = fc.array(fc.record({ put: fc.boolean(), key: fc.integer({ min: 0, max: 6 }) }));
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5 }), steps, (most, done) => {
        const recent = keepRecent<number, number>(most);
        let list: [key: number, value: number][] = [];
        done.forEach(({ put, key }, n) => {
          const known = list.find(([one]) => one === key);
          if (!put) expect(recent.get(key)).toBe(known?.[1]);
          else recent.set(key, n);
          if (put || known !== undefined)
            list = [...list.filter(([one]) => one !== key), [key, put ? n : (known?.[1] as number)]];
          list = list.slice(-most);
          expect(recent.has(key)).toBe(list.some(([one]) => one === key));
        });
      }),
    );
  });
});
