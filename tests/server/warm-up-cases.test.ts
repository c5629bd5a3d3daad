import { describe, expect, it } from 'vitest';
import { defaultKnowledgeFolder } from '../../src/rules/knowledge/load-knowledge.js';
import { loadBase } from '../../src/server/loaded-base.js';
import { warmUpCases } from '../../src/server/warm-up-cases.js';

const base = loadBase(defaultKnowledgeFolder());

describe('cases to warm up with', () => {
  it('bring every frame of the mill, with signs of many situations', () => {
    const cases = warmUpCases(base);
    expect(new Set(cases.map((one) => one.given))).toEqual(
      new Set([...base.mill.values()].map((frame) => frame.card.given)),
    );
    expect(new Set(cases.map((one) => JSON.stringify(one.observations))).size).toBeGreaterThan(20);
  });

  it('are the situations as they are where there is no mill', () => {
    const [first] = warmUpCases({ mill: new Map(), vignettes: base.vignettes });
    expect(first).toEqual([...base.vignettes.values()][0]?.case);
  });

  it('are none in a base without situations', () => {
    expect(warmUpCases({ mill: base.mill, vignettes: new Map() })).toEqual([]);
  });
});
