import { readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { KnowledgeProblem } from '../../../src/rules/knowledge/errors.js';
import type { Knowledge } from '../../../src/rules/knowledge/knowledge.js';
import { loadKnowledge } from '../../../src/rules/knowledge/load-knowledge.js';
import { type StopWatching, watchKnowledge } from '../../../src/rules/knowledge/watch.js';
import { removeSmallKnowledge, writeSmallKnowledge } from '../workshop/small-knowledge.js';

let stop: StopWatching | undefined;
afterEach(() => {
  stop?.();
  stop = undefined;
  removeSmallKnowledge();
});

/** A watched folder, with all that was told so far. */
function watched() {
  const root = writeSmallKnowledge();
  const good: Knowledge[] = [];
  const bad: (readonly KnowledgeProblem[])[] = [];
  const { version } = loadKnowledge(root);
  stop = watchKnowledge(
    root,
    (knowledge) => good.push(knowledge),
    (problems) => bad.push(problems),
    version,
  );
  const file = join(root, 'causes/worn.yaml');
  return { good, bad, file, text: readFileSync(file, 'utf8'), version };
}

const later = (check: () => void) => vi.waitFor(check, { timeout: 8000, interval: 25 });

describe('watching a knowledge base', () => {
  it('gives the new knowledge once after several writes', async () => {
    const { good, bad, file, text, version } = watched();
    for (const label of ['One', 'Two', 'Worn through'])
      writeFileSync(file, text.replace('Cause worn', label));
    await later(() => expect(good.at(-1)?.book.causes.get('worn')?.label).toBe('Worn through'));
    expect(good.at(-1)?.version).not.toBe(version);
    expect(bad).toEqual([]);
  });

  it('tells what is wrong and gives nothing new, then recovers', async () => {
    const { good, bad, file, text } = watched();
    writeFileSync(file, text.replace('base: 0.3', 'base: 3'));
    await later(() => expect(bad).toHaveLength(1));
    expect(good).toEqual([]);
    expect(bad[0]?.[0]).toMatchObject({ file: 'causes/worn.yaml', field: 'prior.base' });
    expect(bad[0]?.[0]?.line).toBeGreaterThan(0);
    writeFileSync(file, text);
    await later(() => expect(good).toHaveLength(1));
    expect(good[0]?.book.causes.get('worn')?.prior.base).toBe(0.3);
  });

  it('sees files that are replaced as a whole, again and again, and files that go', async () => {
    const { good, bad, file, text } = watched();
    for (const label of ['Once', 'Twice', 'Thrice']) {
      writeFileSync(`${file}.new`, text.replace('Cause worn', label));
      renameSync(`${file}.new`, file);
      await later(() => expect(good.at(-1)?.book.causes.get('worn')?.label).toBe(label));
    }
    writeFileSync(file, text.replace('Cause worn', 'In place'));
    await later(() => expect(good.at(-1)?.book.causes.get('worn')?.label).toBe('In place'));
    rmSync(file);
    await later(() => expect(good.at(-1)?.book.causes.has('worn')).toBe(false));
    expect(good).toHaveLength(5);
    expect(bad).toEqual([]);
  });

  it('says nothing of a change that alters nothing, and nothing once stopped', async () => {
    const { good, bad, file, text } = watched();
    writeFileSync(file, text);
    writeFileSync(join(file, '../../notes.txt'), 'not part of it');
    await new Promise((done) => setTimeout(done, 1200));
    stop?.();
    writeFileSync(file, text.replace('Cause worn', 'Another'));
    await new Promise((done) => setTimeout(done, 1200));
    expect([good, bad]).toEqual([[], []]);
  });
});
