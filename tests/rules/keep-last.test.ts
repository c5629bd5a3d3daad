import { describe, expect, it } from 'vitest';
import { keepLast } from '../../src/rules/keep-last.js';

describe('keepLast', () => {
  it('works each question out once and lets go of the one not asked for longest', async () => {
    const worked: string[] = [];
    const kept = keepLast<string>(2);
    const ask = (key: string) => kept(key, async () => `${key}${worked.push(key)}`);
    await ask('a');
    await ask('b');
    expect(await ask('a')).toBe('a1');
    await ask('c');
    expect([kept.has('a'), kept.has('b'), kept.has('c')]).toEqual([true, false, true]);
    expect(worked).toEqual(['a', 'b', 'c']);
  });

  it('counts an answer by its size once it is there, and keeps none that is larger than all the room', async () => {
    const kept = keepLast<string>(5, (_, answer) => answer?.length ?? 0);
    await kept('small', async () => 'abc');
    await kept('more', async () => 'de');
    expect([kept.has('small'), kept.has('more')]).toEqual([true, true]);
    await kept('large', async () => 'abcdefgh');
    expect([kept.has('small'), kept.has('more'), kept.has('large')]).toEqual([false, false, false]);
  });

  it('does not keep a failure, and asks for the same only once while it is worked out', async () => {
    let calls = 0;
    const kept = keepLast<number>(3);
    const fail = () => kept('x', () => Promise.reject(new Error(`no ${++calls}`)));
    const both = [fail(), fail()];
    for (const one of both) await expect(one).rejects.toThrow('no 1');
    expect(kept.has('x')).toBe(false);
    await expect(kept('x', async () => 7)).resolves.toBe(7);
  });
});
