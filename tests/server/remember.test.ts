import { describe, expect, it } from 'vitest';
import { readCaseObject } from '../../src/rules/case/case-file.js';
import type { Diagnostician } from '../../src/rules/diagnostician.js';
import type { SetupReport } from '../../src/rules/index.js';
import { rememberAnswers } from '../../src/server/remember.js';
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
