import { afterEach, describe, expect, it } from 'vitest';
import type { Knowledge } from '../../../src/rules/knowledge/knowledge.js';
import { loadKnowledge } from '../../../src/rules/knowledge/load-knowledge.js';
import {
  casesToCompare,
  compareKnowledge,
  type KnowledgeComparison,
} from '../../../src/rules/workshop/compare-knowledge.js';
import { addCause, type Files, removeSmallKnowledge, writeSmallKnowledge } from './small-knowledge.js';

afterEach(removeSmallKnowledge);

const seen = (observations: object, findings: object = {}) => ({
  setup: { fibre: 'cotton', count: 30 },
  observations,
  findings,
});

/** The small knowledge base with examples that the engine meets. */
function withExamples(files: Files): void {
  (files['causes/worn.yaml'] as Files).examples = [
    { name: 'A track is seen', given: seen({ breaks: 'marked' }, { look: 'track' }), expect: 'first' },
  ] as never;
  (files['causes/dirty.yaml'] as Files).examples = [
    { name: 'Dust is seen', given: seen({ breaks: 'marked' }, { look: 'dust' }), expect: 'first' },
  ] as never;
}

function load(change: (files: Files) => void): Knowledge {
  return loadKnowledge(
    writeSmallKnowledge((files) => {
      withExamples(files);
      change(files);
    }),
  );
}

async function compare(change: (files: Files) => void): Promise<KnowledgeComparison> {
  const [before, after] = [load(() => {}), load(change)];
  return compareKnowledge(
    { knowledge: before, cases: casesToCompare(before) },
    { knowledge: after, cases: casesToCompare(after) },
  );
}

describe('comparing two knowledge bases', () => {
  it('tells nothing of two that are alike', async () => {
    const { changed, broken, mended, versions, cases } = await compare(() => {});
    expect([changed, broken, mended]).toEqual([[], 0, 0]);
    expect(versions[0]).toBe(versions[1]);
    expect(cases).toBeGreaterThan(2);
  });

  it('tells which causes moved and which expectations broke', async () => {
    const { changed, broken } = await compare((files) => {
      // The track no longer points at wear, so the example can hardly be met.
      (files['causes/worn.yaml'] as Files)['leads-to'] = [
        (files['causes/worn.yaml'] as Files)['leads-to']?.[0],
      ] as never;
      files['causes/rough.yaml']?.['leads-to'].push({
        to: 'look:track',
        strength: 'strong',
        why: 'So.',
        basis: { standing: 'judgement' },
      });
    });
    expect(broken).toBe(1);
    const change = changed.find((one) => one.name === 'worn: A track is seen');
    expect(change?.expectations).toEqual([{ cause: 'worn', is: 'first', before: true, after: false }]);
    const worn = change?.causes.find((one) => one.cause === 'worn');
    expect(worn?.before.rank).toBe(1);
    expect(worn?.after.rank).toBeGreaterThan(1);
    expect(worn?.after.probability).toBeLessThan((worn?.before.probability ?? 0) - 0.02);
  });

  it('leaves changes of two points or less untold', async () => {
    const { changed } = await compare((files) => {
      (files['causes/dry.yaml'] as Files).prior = { base: 0.3001, basis: { standing: 'judgement' } };
    });
    expect(changed).toEqual([]);
  });

  it('names causes that came and went, and cases only one can read', async () => {
    const before = load((files) => {
      files['symptoms/rare.yaml'] = { ...files['symptoms/hairy.yaml'], id: 'rare' };
      (files['causes/worn.yaml'] as Files).examples?.push({
        name: 'A rare sign',
        given: seen({ rare: 'marked' }),
        expect: 'undecided',
      } as never);
    });
    const after = load((files) => {
      addCause(files, 'new-one', { 'leads-to': [] });
      delete files['causes/dirty.yaml'];
    });
    const comparison = await compareKnowledge(
      { knowledge: before, cases: casesToCompare(before) },
      { knowledge: after, cases: casesToCompare(after) },
    );
    expect(comparison.added).toEqual(['new-one']);
    expect(comparison.removed).toEqual(['dirty']);
    expect(comparison.changed.find((one) => one.name === 'worn: A rare sign')?.unreadable).toBe('after');
    const dust = comparison.changed.find((one) => one.name === 'dirty: Dust is seen');
    expect(dust?.causes.find((one) => one.cause === 'dirty')?.after).toEqual({ rank: 0, probability: 0 });
  });
});
