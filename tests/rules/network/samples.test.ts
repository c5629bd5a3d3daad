import { describe, expect, it } from 'vitest';
import { compile } from '../../../src/rules/network/compile.js';
import { NetworkError } from '../../../src/rules/network/errors.js';
import type { Network } from '../../../src/rules/network/network.js';
import { enumerate } from './enumeration.js';
import { buildRandomCase } from './random-network.js';

/** 99.99 % point of chi-square with `freedom` degrees, by Wilson and Hilferty's cube. */
function chiSquareLimit(freedom: number): number {
  const spread = 2 / (9 * freedom);
  return freedom * (1 - spread + 3.719 * Math.sqrt(spread)) ** 3;
}

const ROWS = 20_000;

describe('joint samples', () => {
  it('follow the joint posterior of all sampled nodes (chi-square, 40 random networks)', () => {
    let tested = 0;
    for (let seed = 1; tested < 40; seed++) {
      const { network, evidence, options } = buildRandomCase(seed, { maxNodes: 10, maxParents: 8 });
      const exact = enumerate(network, evidence, options);
      if (exact.evidence === 0) continue;
      tested++;
      const samples = compile(network).query(evidence, options).sample(ROWS, seed);
      const keyOf = (states: readonly number[]): string => states.join('');
      const expected = new Map<string, number>();
      for (const { state, probability } of exact.joint) {
        const key = keyOf(samples.ids.map((id) => state.get(id) as number));
        expected.set(key, (expected.get(key) ?? 0) + probability * ROWS);
      }
      const seen = new Map<string, number>();
      const columns = samples.ids.map((id) => samples.column(id));
      for (let row = 0; row < ROWS; row++) {
        const key = keyOf(columns.map((column) => column[row] as number));
        seen.set(key, (seen.get(key) ?? 0) + 1);
      }
      let chiSquare = 0;
      let cells = 0;
      let rareExpected = 0;
      let rareSeen = 0;
      for (const [key, count] of expected) {
        const drawn = seen.get(key) ?? 0;
        seen.delete(key);
        if (count < 5) {
          rareExpected += count;
          rareSeen += drawn;
          continue;
        }
        cells++;
        chiSquare += (drawn - count) ** 2 / count;
      }
      expect([...seen.keys()], `seed ${seed}: impossible states`).toEqual([]);
      if (rareExpected >= 5) {
        cells++;
        chiSquare += (rareSeen - rareExpected) ** 2 / rareExpected;
      }
      if (cells > 1) expect(chiSquare, `seed ${seed}`).toBeLessThan(chiSquareLimit(cells - 1));
    }
  });

  it('cover the posterior more evenly than independent ones: shares vary less from seed to seed', () => {
    const COUNT = 200;
    const SEEDS = 40;
    let independent = 0;
    let seen = 0;
    let networks = 0;
    for (let seed = 1; networks < 30; seed++) {
      const { network, evidence, options } = buildRandomCase(seed, { maxNodes: 10, maxParents: 4 });
      const exact = enumerate(network, evidence, options);
      if (exact.evidence === 0) continue;
      networks++;
      const posterior = compile(network).query(evidence, options);
      for (const id of posterior.sample(1, 1).ids) {
        const p = exact.marginals.get(id) as number;
        for (let s = 1; s <= SEEDS; s++) {
          const drawn = posterior
            .sample(COUNT, 1000 * s + seed)
            .column(id)
            .reduce((a, b) => a + b, 0);
          seen += (drawn / COUNT - p) ** 2;
          independent += (p * (1 - p)) / COUNT;
        }
      }
    }
    expect(seen).toBeGreaterThan(0);
    // Of the variance of independent samples 1.2 % was seen.
    expect(seen / independent).toBeLessThan(0.05);
  });

  it('predict the leaves nothing was seen of: the mean over the rows is the posterior', () => {
    let leaves = 0;
    for (let seed = 1; leaves < 60; seed++) {
      const { network, evidence, options } = buildRandomCase(seed, { maxNodes: 10, maxParents: 5 });
      const exact = enumerate(network, evidence, options);
      if (exact.evidence === 0) continue;
      const samples = compile(network).query(evidence, options).sample(ROWS, seed);
      const mean = (values: Float64Array): number => values.reduce((a, b) => a + b, 0) / ROWS;
      for (const node of network.nodes) {
        const known = samples.ids.includes(node.id) || (evidence as Map<string, unknown>).has(node.id);
        if (known || (options.do as Map<string, unknown>).has(node.id)) continue;
        leaves++;
        const chances = samples.leafProbabilities(node.id);
        // Standard error of a mean of values in [0, 1] is at most .5 / sqrt(rows); five of them.
        expect(Math.abs(mean(chances) - (exact.marginals.get(node.id) as number))).toBeLessThan(
          2.5 / Math.sqrt(ROWS),
        );
        expect(samples.leafProbability(7, node.id)).toBe(chances[7]);
        if (node.kind !== 'graded') continue;
        const { marked } = samples.gradeProbabilities(node.id);
        expect(Math.abs(mean(marked) - (exact.grades.get(node.id)?.[2] as number))).toBeLessThan(
          2.5 / Math.sqrt(ROWS),
        );
      }
    }
  });

  const network: Network = {
    nodes: [
      { id: 'cause', leak: 0.2, parents: [] },
      { id: 'state', leak: 0.01, parents: [{ id: 'cause', strength: 0.8 }] },
      { id: 'seen', leak: 0.05, parents: [{ id: 'cause', strength: 0.5 }] },
      { id: 'leaf', leak: 0.02, parents: [{ id: 'state', strength: 0.9 }] },
    ],
  };

  it('are the same for the same seed and differ for another', () => {
    const posterior = compile(network).query({ seen: true });
    const draw = (seed: number): string => posterior.sample(200, seed).column('cause').join('');
    expect(draw(3)).toBe(draw(3));
    expect(draw(3)).not.toBe(draw(4));
  });

  it('stay right when other queries ran in between', () => {
    const net = compile(network);
    const posterior = net.query({ seen: true });
    const before = posterior.sample(200, 1).column('cause').join('');
    net.query({ leaf: true, seen: false });
    expect(posterior.sample(200, 1).column('cause').join('')).toBe(before);
  });

  it('say what they do not hold', () => {
    const samples = compile(network).query({ seen: true }).sample(10, 1);
    expect(samples.ids).toEqual(['cause', 'state', 'seen']);
    expect(samples.value(0, 'seen')).toBe(true);
    expect(() => samples.column('leaf')).toThrow(NetworkError);
    expect(() => samples.leafProbability(0, 'cause')).toThrow(/is sampled/);
    expect(() => samples.leafProbability(10, 'leaf')).toThrow(/row must be an integer from 0 to 9, not 10/);
    expect(() => compile(network).query({}).sample(0, 1)).toThrow(/above 0, not 0/);
  });
});
