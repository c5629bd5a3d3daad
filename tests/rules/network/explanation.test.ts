import { describe, expect, it } from 'vitest';
import { compile } from '../../../src/rules/network/compile.js';
import {
  logOdds,
  probabilityOf,
  weightInWords,
  weightOfEvidence,
} from '../../../src/rules/network/decibans.js';
import {
  buildWaterfall,
  findResponsibility,
  findShapleyWeights,
  flipOne,
  leaveOneOut,
  measureConflict,
  oppositeOf,
  rankExplanations,
} from '../../../src/rules/network/explanation.js';
import type { GradedNode, Network, NetworkNode, Observation } from '../../../src/rules/network/network.js';
import { enumerate } from './enumeration.js';

const symptom: GradedNode = {
  kind: 'graded',
  id: 'g',
  leak: 0.06,
  leakMarked: 0.02,
  parents: [
    { id: 'm', strength: 0.8, marked: 0.3 },
    { id: 'b', strength: 0.4, marked: 0.25 },
  ],
};

const network: Network = {
  nodes: [
    { id: 'a', leak: 0.1, parents: [] },
    { id: 'b', leak: 0.2, parents: [] },
    { id: 'm', leak: 0.02, parents: [{ id: 'a', strength: 0.7 }] },
    { id: 's', leak: 0.03, parents: [{ id: 'm', strength: 0.9 }] },
    symptom,
  ],
};

/** The leaf with its leak and links as graded nodes of their own; the leaf is the worst of them. */
function splitLeaf(): Network {
  const nodes: NetworkNode[] = network.nodes.filter((node) => node.id !== 'g');
  nodes.push({
    kind: 'graded',
    id: 'via leak',
    leak: symptom.leak,
    leakMarked: symptom.leakMarked,
    parents: [],
  });
  for (const link of symptom.parents) {
    nodes.push({ kind: 'graded', id: `via ${link.id}`, leak: 0, leakMarked: 0, parents: [link] });
  }
  return { nodes };
}

/** P(source at exactly this grade | leaf at this grade, s) by summing over the split network. */
function responsibilityBySum(grade: number, source: string): number {
  const { joint } = enumerate(splitLeaf(), { s: true });
  let all = 0;
  let with_ = 0;
  for (const { state, probability } of joint) {
    const grades = ['via leak', 'via m', 'via b'].map((id) => state.get(id) as number);
    if (Math.max(...grades) !== grade) continue;
    all += probability;
    if (state.get(source) === grade) with_ += probability;
  }
  return with_ / all;
}

describe('responsibility', () => {
  for (const [name, grade] of [
    ['slight', 1],
    ['marked', 2],
  ] as const) {
    it(`of leak and links for a leaf seen ${name}, against explicit link nodes`, () => {
      const { leak, links } = findResponsibility(compile(network), { s: true, g: name }, 'g');
      expect(leak).toBeCloseTo(responsibilityBySum(grade, 'via leak'), 12);
      expect(links.get('m')).toBeCloseTo(responsibilityBySum(grade, 'via m'), 12);
      expect(links.get('b')).toBeCloseTo(responsibilityBySum(grade, 'via b'), 12);
    });
  }

  it('counts a query’s own leaks and strengths, and parents that are observed', () => {
    const net = compile(network);
    const options = { leaks: { s: 0.2 }, strengths: [{ parent: 'm', child: 's', strength: 0.5 }] };
    const { leak, links } = findResponsibility(net, { s: true, m: true }, 's', options);
    // One parent, known present: P(leak | s) = .2 / (1 - .8 · .5), P(link | s) = .5 / (1 - .8 · .5).
    expect(leak).toBeCloseTo(0.2 / 0.6, 12);
    expect(links.get('m')).toBeCloseTo(0.5 / 0.6, 12);
  });

  it('has no answer for what was not seen', () => {
    const net = compile(network);
    expect(() => findResponsibility(net, { s: false }, 's')).toThrow(/needs it observed true/);
    expect(() => findResponsibility(net, {}, 's')).toThrow(/needs it observed true/);
    expect(() => findResponsibility(net, { g: [0, 1, 1] }, 'g')).toThrow(/needs it observed true/);
  });
});

describe('what-if runs', () => {
  const net = compile(network);
  const evidence: Record<string, Observation> = { s: true, g: 'slight', b: [1, 3] };

  it('keep the background: only the items come and go', () => {
    const steps = buildWaterfall(net, evidence, { items: ['g', 's'], targets: ['a'] });
    expect(steps.map((step) => step.id)).toEqual([undefined, 'g', 's']);
    expect(steps[0]?.posterior.probability('b')).toBeCloseTo(0.6 / 1.4, 12);
    expect(steps[2]?.posterior.probability('a')).toBe(net.query(evidence).probability('a'));
    const without = leaveOneOut(net, evidence, { items: ['s'] });
    expect(without.map(({ id }) => id)).toEqual(['s']);
    expect(without[0]?.posterior.probability('a')).toBe(
      net.query({ g: 'slight', b: [1, 3] }).probability('a'),
    );
  });

  it('turn an observation round', () => {
    expect(oppositeOf(true)).toBe(false);
    expect(oppositeOf('slight')).toBe('absent');
    expect(oppositeOf('marked')).toBe('absent');
    expect(oppositeOf('absent')).toEqual([0, 1, 1]);
    expect(flipOne(net, evidence, 'b')).toBeUndefined();
    expect(flipOne(net, evidence, 'g')?.probability('a')).toBe(
      net.query({ ...evidence, g: 'absent' }).probability('a'),
    );
    expect(() => flipOne(net, evidence, 'a')).toThrow(/not among the evidence/);
  });

  it('Shapley weights add up to the whole, with all subsets and with random orders', () => {
    const items = { s: true, g: 'slight', b: [1, 3] } as const;
    const whole = logOdds(net.query(items).probability('a')) - logOdds(0.1);
    const exact = findShapleyWeights(net, items, 'a');
    const sampled = findShapleyWeights(net, items, 'a', { exactUpTo: 0, orderPairs: 400, seed: 2 });
    const sum = (weights: Map<string, number>): number => [...weights.values()].reduce((x, y) => x + y, 0);
    expect(sum(exact)).toBeCloseTo(whole, 9);
    expect(sum(sampled)).toBeCloseTo(whole, 9);
    for (const [id, weight] of exact)
      expect(Math.abs((sampled.get(id) as number) - weight)).toBeLessThan(0.4);
  });

  it('conflict: positive when findings speak against each other', () => {
    expect(measureConflict(net, { s: true, m: false })).toBeGreaterThan(0);
    expect(measureConflict(net, { s: true, m: true })).toBeLessThan(0);
    expect(measureConflict(net, { s: true })).toBeCloseTo(0, 12);
  });

  it('ranks pairs by the generalised Bayes factor of the sum over all states', () => {
    const ranked = rankExplanations(net, { s: true, g: 'marked' }, ['a', 'b']);
    expect(ranked).toHaveLength(8);
    const { joint } = enumerate(network, { s: true, g: 'marked' });
    const prior = enumerate(network, {}).joint;
    for (const { states, bayesFactor } of ranked) {
      const odds = (of: typeof joint): number => {
        const p = of.reduce(
          (sum, j) => (states.every(([id, x]) => j.state.get(id) === Number(x)) ? sum + j.probability : sum),
          0,
        );
        return p / (1 - p);
      };
      expect(bayesFactor).toBeCloseTo(odds(joint) / odds(prior), 8);
    }
    expect(() => rankExplanations(net, { a: true }, ['a'])).toThrow(/"a" is observed/);
  });
});

describe('decibans', () => {
  it('turn probabilities into log-odds and back', () => {
    for (const p of [1e-12, 0.001, 0.3, 0.5, 0.9]) expect(probabilityOf(logOdds(p))).toBeCloseTo(p, 12);
    expect(logOdds(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(logOdds(1)).toBe(Number.POSITIVE_INFINITY);
    expect(weightOfEvidence(0, 0)).toBe(0);
    expect(() => logOdds(1.1)).toThrow(/not 1.1/);
  });

  it('have words by size, whatever the sign', () => {
    expect([0, 2.9, 3, -6.9, 7, 13, 13.1, -40].map(weightInWords)).toEqual([
      'barely',
      'barely',
      'some',
      'some',
      'clear',
      'clear',
      'strong',
      'strong',
    ]);
  });
});
