/**
 * How fast the exact posterior is. Run with `node --import tsx tests/bench/network-bench.ts`.
 *
 * The network is made up, seeded, and as large as the product's: 78 roots, 50 two-state nodes in four layers, 33 graded
 * leaves, 90 further leaves; parents come mostly from the same of six groups. Each query sees 5 graded leaves and
 * 4 others, and every root softly.
 */
import { performance } from 'node:perf_hooks';
import bayesjs from 'bayesjs';
import { compile } from '../../src/rules/network/compile.js';
import type {
  CompiledNetwork,
  Grade,
  GradedLink,
  Link,
  Network,
  NetworkNode,
  Observation,
  QueryOptions,
} from '../../src/rules/network/network.js';
import { type Random, seededRandom } from '../../src/rules/network/random.js';
import { toGeneralNetwork } from '../rules/network/general-network.js';

const GROUPS = 6;

export function buildLargeNetwork(seed: number): Network {
  const random = seededRandom(seed);
  const upTo = (n: number): number => Math.floor(random() * n);
  const strength = (): number => [0.8, 0.5, 0.25][upTo(3)] as number;
  const nodes: NetworkNode[] = [];
  const pick = (pools: string[][], group: number, count: number): string[] => {
    const own = pools[group] as string[];
    const chosen = new Set<string>();
    for (let tries = 0; chosen.size < count && tries < 200; tries++) {
      const pool = random() < 0.85 ? own : (pools[upTo(GROUPS)] as string[]);
      if (pool.length > 0) chosen.add(pool[upTo(pool.length)] as string);
    }
    return [...chosen];
  };
  const grouped = (): string[][] => Array.from({ length: GROUPS }, () => []);
  const roots = grouped();
  for (let i = 0; i < 78; i++) {
    const id = `root-${i}`;
    nodes.push({ id, leak: 0.005 + 0.06 * random(), parents: [] });
    roots[i % GROUPS]?.push(id);
  }
  const inner: string[][][] = [];
  const addInner = (layer: number, count: number): void => {
    const made = grouped();
    for (let i = 0; i < count; i++) {
      const id = `state-${layer}-${i}`;
      const group = i % GROUPS;
      const above = inner.length === 0 ? [] : pick(inner[inner.length - 1] as string[][], group, 1 + upTo(3));
      const causes = pick(roots, group, layer === 0 ? 3 + upTo(6) : upTo(4));
      const parents: Link[] = [...above, ...causes].map((parent) => ({ id: parent, strength: strength() }));
      nodes.push({ id, leak: 0.01, parents });
      made[group]?.push(id);
    }
    inner.push(made);
  };
  addInner(0, 20);
  addInner(1, 14);
  addInner(2, 10);
  addInner(3, 6);
  const all = grouped().map((_, g) => inner.flatMap((layer) => layer[g] as string[]));
  for (let i = 0; i < 33; i++) {
    const parents = [
      ...pick(all, i % GROUPS, 3 + upTo(i % 8 === 0 ? 10 : 5)),
      ...pick(roots, i % GROUPS, upTo(3)),
    ];
    const links: GradedLink[] = parents.map((id) => {
      const whole = strength();
      return { id, strength: whole, marked: whole * 0.5 };
    });
    nodes.push({ kind: 'graded', id: `graded-${i}`, leak: 0.02, leakMarked: 0.005, parents: links });
  }
  for (let i = 0; i < 90; i++) {
    const parents = [...pick(all, i % GROUPS, upTo(3)), ...pick(roots, i % GROUPS, 1 + upTo(3))];
    nodes.push({ id: `leaf-${i}`, leak: 0.02, parents: parents.map((id) => ({ id, strength: strength() })) });
  }
  return { nodes };
}

export function seeSomething(random: Random, network: Network, soft: boolean): Map<string, Observation> {
  const upTo = (n: number): number => Math.floor(random() * n);
  const evidence = new Map<string, Observation>();
  if (soft) {
    for (const node of network.nodes) {
      if (node.kind !== 'graded' && node.parents.length === 0) evidence.set(node.id, [1, 0.2 + 4 * random()]);
    }
  }
  const grades: Grade[] = ['slight', 'marked', 'marked', 'slight', 'absent'];
  while (grades.length > 0) {
    const id = `graded-${upTo(33)}`;
    if (!evidence.has(id)) evidence.set(id, grades.pop() as Grade);
  }
  for (let found = 0; found < 4; ) {
    const id = `leaf-${upTo(90)}`;
    if (!evidence.has(id)) evidence.set(id, found++ < 2);
  }
  return evidence;
}

function quantile(values: readonly number[], q: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] as number;
}

function summary(times: readonly number[]): string {
  const [p50, p95, top] = [quantile(times, 0.5), quantile(times, 0.95), Math.max(...times)];
  return `p50 ${p50.toFixed(2)} ms, p95 ${p95.toFixed(2)} ms, worst ${top.toFixed(1)} ms`;
}

function timeQueries(name: string, options: QueryOptions, again: boolean): void {
  const times: number[] = [];
  const widths: number[] = [];
  const methods = new Map<string, number>();
  for (const seed of [1, 2, 3, 4]) {
    const network = buildLargeNetwork(seed);
    const net: CompiledNetwork = compile(network);
    const random = seededRandom(100 + seed);
    for (let warm = 0; warm < 10; warm++) net.query(seeSomething(random, network, true));
    for (let i = 0; i < 50; i++) {
      const evidence = seeSomething(random, network, true);
      if (again) net.query(evidence, options);
      const start = performance.now();
      try {
        const result = net.query(evidence, options);
        widths.push(result.width);
        methods.set(result.method, (methods.get(result.method) ?? 0) + 1);
      } catch (error) {
        methods.set((error as Error).name, (methods.get((error as Error).name) ?? 0) + 1);
      }
      times.push(performance.now() - start);
    }
  }
  const ran = [...methods].map(([method, count]) => `${method} ${count}`).join(', ');
  console.log(
    `${name}: ${summary(times)}; width ${quantile(widths, 0.5)} / ${quantile(widths, 0.95)}; ${ran}`,
  );
}

function timeSamples(): void {
  const network = buildLargeNetwork(1);
  const net = compile(network);
  const random = seededRandom(5);
  const times: number[] = [];
  for (let i = 0; i < 40; i++) {
    const posterior = net.query(seeSomething(random, network, true));
    const start = performance.now();
    try {
      const samples = posterior.sample(2000, 1);
      for (const id of net.ids) {
        if (id.startsWith('leaf') && !samples.ids.includes(id) && !posterior.marginals.has(id))
          samples.leafProbabilities(id);
      }
    } catch (error) {
      console.log((error as Error).message);
    }
    if (i >= 5) times.push(performance.now() - start);
  }
  console.log(`2000 joint samples and the chances of all leaves: ${summary(times)}`);
}

/** A cut of the large network small enough for a general-purpose library. */
function buildSmallNetwork(seed: number): Network {
  const random = seededRandom(seed);
  const nodes: NetworkNode[] = [];
  for (let i = 0; i < 24; i++) {
    const count = i < 8 ? 0 : 1 + Math.floor(random() * 3);
    const parents = new Set<string>();
    while (parents.size < count)
      parents.add(`n${Math.floor(Math.max(0, i - 10) + random() * Math.min(i, 10))}`);
    nodes.push({ id: `n${i}`, leak: 0.05, parents: [...parents].map((id) => ({ id, strength: 0.6 })) });
  }
  return { nodes };
}

/** Every run gets a network and evidence of its own: the library keeps its answers, and is not to be timed on them. */
function compareWithLibrary(): void {
  const ours: number[] = [];
  const theirs: number[] = [];
  let worst = 0;
  for (let seed = 1; seed <= 60; seed++) {
    const network = buildSmallNetwork(seed);
    const net = compile(network);
    const general = toGeneralNetwork(network);
    const evidence = { n20: true, n21: seed % 2 === 0, n22: false, n23: true };
    const given = Object.fromEntries(Object.entries(evidence).map(([id, seen]) => [id, seen ? 'T' : 'F']));
    let start = performance.now();
    const posterior = net.query(evidence);
    const ourTime = performance.now() - start;
    start = performance.now();
    const answers = net.roots.map((id) => bayesjs.infer(general, { [id]: 'T' }, given));
    const theirTime = performance.now() - start;
    net.roots.forEach((id, i) => {
      worst = Math.max(worst, Math.abs(posterior.probability(id) - (answers[i] as number)));
    });
    if (seed <= 20) continue; // warming up
    ours.push(ourTime);
    theirs.push(theirTime);
  }
  console.log(`24 nodes, all roots, first query: ours ${summary(ours)}`);
  console.log(
    `24 nodes, all roots, first query: bayesjs ${summary(theirs)}; difference ${worst.toExponential(1)}`,
  );
  console.log(`ratio of medians ${(quantile(theirs, 0.5) / quantile(ours, 0.5)).toFixed(0)}`);
}

if (process.argv[1]?.endsWith('network-bench.ts')) {
  timeQueries('new pattern of evidence', {}, false);
  timeQueries('pattern seen before', {}, true);
  timeQueries('new pattern, non-negative', { method: 'non-negative' }, false);
  timeSamples();
  compareWithLibrary();
}
