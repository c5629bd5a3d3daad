import { describe, expect, it } from 'vitest';
import { readCaseObject } from '../../src/rules/case/case-file.js';
import type { Diagnostician } from '../../src/rules/diagnostician.js';
import type { SetupReport } from '../../src/rules/index.js';
import type { BenchEngine } from '../../src/server/bench-engine.js';
import { rememberAnswers, rememberBench } from '../../src/server/remember.js';
import { testSite } from './site.js';

const { diagnostician } = testSite();
const titled = (title: string) => {
  const reading = readCaseObject({ title }, diagnostician.vocabulary, { partial: true });
  if (!reading.ok) throw new Error('unreadable');
  return reading.case;
};

function counting(answer: (n: number) => Promise<SetupReport>): {
  engine: Diagnostician;
  calls: () => number;
} {
  let calls = 0;
  return { engine: { ...diagnostician, report: () => answer(++calls) }, calls: () => calls };
}
const empty: SetupReport = { computed: {}, margins: [], assumed: [], warnings: [], cautions: [] };

describe('remembered answers', () => {
  it('work the same case out once, and a different one anew', async () => {
    const { engine, calls } = counting(async () => empty);
    const kept = rememberAnswers(engine);
    await Promise.all([kept.report(titled('a')), kept.report(titled('a'))]);
    await kept.report(titled('b'));
    expect(calls()).toBe(2);
  });

  it('forget the longest unused one first', async () => {
    const { engine, calls } = counting(async () => empty);
    const characters = JSON.stringify(titled('a')).length + JSON.stringify(empty).length;
    // Room for two with their keys, not for three.
    const kept = rememberAnswers(engine, 2.6 * characters);
    for (const title of ['a', 'b', 'a', 'c', 'a']) await kept.report(titled(title));
    expect(calls()).toBe(3);
    await kept.report(titled('b'));
    expect(calls()).toBe(4);
  });

  it('do not keep a failure', async () => {
    const { engine } = counting((n) =>
      n === 1 ? Promise.reject(new Error('once')) : Promise.resolve(empty),
    );
    const kept = rememberAnswers(engine);
    await expect(kept.report(titled('a'))).rejects.toThrow('once');
    await expect(kept.report(titled('a'))).resolves.toEqual(empty);
  });
});

describe('remembered halves of the bench page', () => {
  const input = titled('a');
  function bench(fails = false) {
    const calls: string[] = [];
    const engine = {
      answer: async () => calls.push('answer'),
      next: async () => calls.push('next'),
      whole: async () => {
        calls.push('whole');
        if (fails) throw new Error('once');
        return { answer: 1, next: 2 };
      },
    } as unknown as BenchEngine;
    return { calls, kept: rememberBench(engine) };
  }

  it('are put together when both were asked for after a tap', async () => {
    const { calls, kept } = bench();
    await kept.answer(input);
    await kept.next(input, []);
    expect(await kept.whole(input, [])).toEqual({ answer: 1, next: 2 });
    expect(calls).toEqual(['answer', 'next']);
    await kept.whole(input, ['look']);
    expect(calls).toEqual(['answer', 'next', 'whole']);
  });

  it('are there each by itself once the page was asked for, by two at once too', async () => {
    const { calls, kept } = bench();
    const both = await Promise.all([kept.whole(input, []), kept.whole(input, [])]);
    expect(both).toEqual([
      { answer: 1, next: 2 },
      { answer: 1, next: 2 },
    ]);
    expect(await kept.answer(input)).toBe(1);
    expect(await kept.next(input, [])).toBe(2);
    expect(calls).toEqual(['whole']);
  });

  it('are asked for anew after a failure', async () => {
    const { calls, kept } = bench(true);
    await expect(kept.whole(input, [])).rejects.toThrow('once');
    await expect(kept.whole(input, [])).rejects.toThrow('once');
    expect(calls).toEqual(['whole', 'whole']);
  });
});
