import { describe, expect, it } from 'vitest';
import { compile } from '../../../src/rules/network/compile.js';
import { ImpossibleEvidenceError, NetworkError, TooComplexError } from '../../../src/rules/network/errors.js';
import type {
  Evidence,
  Network,
  NetworkNode,
  NoisyOrNode,
  Observation,
  QueryOptions,
} from '../../../src/rules/network/network.js';
import { seededRandom } from '../../../src/rules/network/random.js';
import { buildLargeNetwork, seeSomething } from '../../bench/network-bench.js';
import { enumerate } from './enumeration.js';
import { buildRandomCase } from './random-network.js';

const root = (id: string, leak: number): NoisyOrNode => ({ id, leak, parents: [] });
const or = (id: string, leak: number, links: Record<string, number>): NoisyOrNode => ({
  id,
  leak,
  parents: Object.entries(links).map(([parent, strength]) => ({ id: parent, strength })),
});

const small: Network = {
  nodes: [
    root('a', 0.1),
    root('b', 0.2),
    or('m', 0.01, { a: 0.7, b: 0.4 }),
    or('s', 0.02, { m: 0.9, b: 0.3 }),
    {
      kind: 'graded',
      id: 'g',
      leak: 0.05,
      leakMarked: 0.01,
      parents: [{ id: 'm', strength: 0.8, marked: 0.3 }],
    },
  ],
};

describe('what must not change the answer', () => {
  it('a node that bears on nothing', () => {
    const more: Network = { nodes: [...small.nodes, or('barren', 0.3, { m: 0.5, a: 0.9 })] };
    const few = compile(small).query({ s: true, g: 'slight' });
    const many = compile(more).query({ s: true, g: 'slight' });
    for (const [id, p] of few.marginals) expect(many.probability(id)).toBe(p);
    expect(many.logEvidence).toBe(few.logEvidence);
    expect(() => many.probability('barren')).toThrow(/name it among the targets/);
  });

  it('a link of no strength, and the numbering of the nodes', () => {
    for (let seed = 1; seed <= 60; seed++) {
      const { network, evidence, options } = buildRandomCase(seed, { maxNodes: 12, maxParents: 6 });
      if (enumerate(network, evidence, options).evidence === 0) continue;
      const child = network.nodes.find((n): n is NoisyOrNode => n.kind === undefined && n.parents.length > 0);
      const extra: NetworkNode[] = network.nodes.map((node) =>
        node === child ? { ...child, parents: [...child.parents, { id: 'idle', strength: 0 }] } : node,
      );
      const before = compile(network).query(evidence, options);
      const after = compile({ nodes: [root('idle', 0.5), ...extra.reverse()] }).query(evidence, options);
      expect(after.logEvidence).toBeCloseTo(before.logEvidence, 8);
      for (const [id, p] of before.marginals) expect(after.probability(id)).toBeCloseTo(p, 8);
      expect(after.probability('idle')).toBeCloseTo(0.5, 8);
    }
  });

  it('queries made before: a second run, and a run after others, give the same', () => {
    const net = compile(small);
    const first = net.query({ s: true });
    net.query({ s: true }, { leaks: { a: 0.9 }, strengths: [{ parent: 'm', child: 's', strength: 0.1 }] });
    net.query({ g: 'marked', s: false });
    expect(net.query({ s: true }).marginals).toEqual(first.marginals);
  });
});

describe('kinds of evidence', () => {
  const net = compile(small);

  it('definite likelihoods are the definite observation; even ones say nothing', () => {
    expect(net.query({ s: [0, 1] }).marginals).toEqual(net.query({ s: true }).marginals);
    expect(net.query({ g: [0, 0, 2] }).marginals).toEqual(net.query({ g: 'marked' }).marginals);
    expect(net.query({ s: [0.3, 0.3] }).probability('a')).toBe(0.1);
    expect(net.query({ s: [0.3, 0.3] }).logEvidence).toBeCloseTo(Math.log(0.3), 12);
  });

  it('do cuts the incoming links, observing does not', () => {
    expect(net.query({ m: true }).probability('a')).toBeGreaterThan(0.1);
    expect(net.query({}, { do: { m: true }, targets: ['a', 's'] }).probability('a')).toBeCloseTo(0.1, 12);
    expect(net.query({}, { do: { m: true }, targets: ['s'] }).probability('m')).toBe(1);
  });

  it('evidence may be a Map or an object; ids may be names that objects inherit', () => {
    const ids = ['__proto__', 'constructor', 'toString', 'hasOwnProperty'];
    const tricky: Network = {
      nodes: [root(ids[0] as string, 0.1), root(ids[1] as string, 0.2)].concat(
        { id: ids[2] as string, leak: 0.01, parents: ids.slice(0, 2).map((id) => ({ id, strength: 0.8 })) },
        { id: ids[3] as string, leak: 0.01, parents: [{ id: '__proto__', strength: 0.5 }] },
      ),
    };
    const plain: Network = JSON.parse(
      JSON.stringify(tricky)
        .replaceAll('__proto__', 'w')
        .replaceAll('constructor', 'x')
        .replaceAll('toString', 'y'),
    ) as Network;
    const got = compile(tricky).query(new Map([['toString', true]]));
    const want = compile(plain).query({ y: true });
    expect(got.probability('__proto__')).toBe(want.probability('w'));
    expect(got.probability('constructor')).toBe(want.probability('x'));
    const own = JSON.parse('{"__proto__": true}') as Evidence;
    expect(compile(tricky).query(own).probability('__proto__')).toBe(1);
    expect(() => compile(plain).query({ toString: true } as unknown as Evidence)).toThrow(
      /unknown node "toString"/,
    );
    expect(() => compile(plain).query({}).probability('constructor')).toThrow(NetworkError);
  });
});

describe('numerical guard', () => {
  /** Many rare effects of one rare cause, all seen: P(evidence) far below what the signed factors can carry. */
  const network: Network = {
    nodes: [
      ...['a', 'b', 'c', 'd'].map((id) => root(id, 1e-5)),
      ...Array.from({ length: 9 }, (_, i) =>
        or(`s${i}`, 1e-4, { a: 0.3, b: 0.2, c: 0.1, d: 0.05 + 0.01 * i }),
      ),
    ],
  };
  const evidence = Object.fromEntries(Array.from({ length: 9 }, (_, i) => [`s${i}`, true]));

  it('reruns without negative factors when P(evidence) is tiny, and says so', () => {
    const net = compile(network);
    const posterior = net.query(evidence);
    const exact = enumerate(network, evidence);
    expect(posterior.logEvidence / Math.LN10).toBeLessThan(-9);
    expect(posterior.method).toBe('non-negative');
    for (const id of ['a', 'b', 'c', 'd']) {
      const want = exact.marginals.get(id) as number;
      expect(Math.abs(posterior.probability(id) - want)).toBeLessThan(1e-11);
    }
    expect(posterior.logEvidence).toBeCloseTo(Math.log(exact.evidence), 10);
    expect(() => net.query(evidence, { method: 'signed' })).toThrow(/cancelled too far/);
  });

  it('uses the signed factors otherwise; both agree on a network of full size', () => {
    const large = buildLargeNetwork(3);
    const net = compile(large);
    const random = seededRandom(4);
    for (let i = 0; i < 12; i++) {
      const seen = seeSomething(random, large, true);
      const signed = net.query(seen);
      const other = net.query(seen, { method: 'non-negative' });
      expect(other.method).toBe('non-negative');
      expect(other.logEvidence).toBeCloseTo(signed.logEvidence, 7);
      for (const [id, p] of signed.marginals) expect(Math.abs(other.probability(id) - p)).toBeLessThan(1e-7);
    }
  });
});

describe('limits and errors', () => {
  it('names the observation that makes the evidence impossible', () => {
    const sure: Network = { nodes: [root('a', 0.5), or('x', 0, { a: 1 }), or('y', 0.1, { a: 1 })] };
    const attempt = (evidence: Evidence, options?: QueryOptions) => () =>
      compile(sure).query(evidence, options);
    expect(attempt({ y: true, a: false, x: true })).toThrow(ImpossibleEvidenceError);
    expect(attempt({ y: true, a: false, x: true })).toThrow(/"x" is impossible/);
    expect(attempt({ x: true, y: false })).toThrow(/"y" is impossible/);
    expect(attempt({ x: true }, { do: { a: false } })).toThrow(/"x" is impossible/);
  });

  it('throws beyond the limit of cells, or estimates when told to', () => {
    const large = buildLargeNetwork(2);
    const seen = seeSomething(seededRandom(8), large, true);
    const net = compile(large);
    const exact = net.query(seen);
    expect(exact.exact).toBe(true);
    expect(exact.standardError).toBe(0);
    expect(() => net.query(seen, { maxCells: 50 })).toThrow(TooComplexError);
    const options = {
      maxCells: 50,
      beyondLimit: 'sample',
      samples: 10_000,
      seed: 5,
      targets: ['graded-1'],
    } as const;
    const estimate = net.query(seen, options);
    expect(estimate.exact).toBe(false);
    expect(estimate.method).toBe('sampling');
    expect(estimate.standardError).toBeGreaterThan(0);
    expect(estimate.standardError).toBeLessThan(0.03);
    for (const [id, p] of exact.marginals) {
      expect(Math.abs(estimate.probability(id) - p), id).toBeLessThan(5 * estimate.standardError);
    }
    expect(Math.abs(estimate.logEvidence - exact.logEvidence)).toBeLessThan(0.3);
    expect(net.query(seen, options).marginals).toEqual(estimate.marginals);
    const rows = estimate.sample(4000, 1);
    const mean = rows.column('root-3').reduce((a, b) => a + b, 0) / 4000;
    expect(Math.abs(mean - estimate.probability('root-3'))).toBeLessThan(0.05);
  });

  it('estimates grades as well', () => {
    const evidence: Record<string, Observation> = { s: true, g: [0.2, 0.5, 1] };
    const options = { maxCells: 1, beyondLimit: 'sample' } as const;
    const exact = compile(small).query(evidence).grades.get('g') as readonly number[];
    const estimate = compile(small).query(evidence, options).grades.get('g') as readonly number[];
    exact.forEach((p, i) => {
      expect(Math.abs((estimate[i] as number) - p)).toBeLessThan(0.02);
    });
  });

  it('refuses a faulty network, naming node, value and what is allowed', () => {
    const faulty =
      (...nodes: NetworkNode[]) =>
      () =>
        compile({ nodes });
    expect(faulty(root('a', 1.2))).toThrow(/leak of "a" must lie in \[0, 1\], not 1.2/);
    expect(faulty(root('a', Number.NaN))).toThrow(/not NaN/);
    expect(faulty(root('', 0.1))).toThrow(/has no id/);
    expect(faulty(root('a', 0.1), root('a', 0.2))).toThrow(/"a" is defined twice/);
    expect(faulty(or('x', 0, { gone: 0.5 }))).toThrow(/unknown parent "gone"/);
    expect(faulty(root('a', 0.1), or('x', 0, { a: -0.1 }))).toThrow(
      /link "a" -> "x" must lie in \[0, 1\], not -0.1/,
    );
    expect(faulty(or('x', 0, { y: 0.5 }), or('y', 0, { z: 0.5 }), or('z', 0, { x: 0.5 }))).toThrow(
      /cycle: .*(x -> z|z -> y|y -> x)/,
    );
    const twice: NoisyOrNode = {
      id: 'x',
      leak: 0,
      parents: [
        { id: 'a', strength: 0.1 },
        { id: 'a', strength: 0.2 },
      ],
    };
    expect(faulty(root('a', 0.1), twice)).toThrow(/names the parent "a" twice/);
    expect(faulty(...small.nodes, or('below', 0, { g: 0.5 }))).toThrow(/graded parent "g"/);
    expect(faulty({ kind: 'graded', id: 'g', leak: 0.1, leakMarked: 0.2, parents: [] })).toThrow(
      /above the chance/,
    );
    expect(faulty({ kind: 'table', id: 't', parents: [], probability: [0.1, 0.2] })).toThrow(/2 entries/);
    const four = ['a', 'b', 'c', 'd'];
    const wide: NetworkNode = { kind: 'table', id: 't', parents: four, probability: new Array(16).fill(0.5) };
    expect(faulty(...four.map((id) => root(id, 0.1)), wide)).toThrow(/at most 3/);
  });

  it('refuses faulty evidence and options', () => {
    const net = compile(small);
    const ask =
      (evidence: unknown, options: QueryOptions = {}) =>
      () =>
        net.query(evidence as Evidence, options);
    expect(ask({ nobody: true })).toThrow(/unknown node "nobody"/);
    expect(ask({ s: 'slight' })).toThrow(/"s" must be true, false or two likelihoods, not "slight"/);
    expect(ask({ g: true })).toThrow(/"g" must be absent, slight, marked or three likelihoods, not true/);
    expect(ask({ s: [0, 0] })).toThrow(/not all 0/);
    expect(ask({ s: [1, -1] })).toThrow(/2 numbers from 0 up/);
    expect(ask({ g: [1, 1] })).toThrow(/3 numbers/);
    expect(ask({ s: true }, { do: { s: true } })).toThrow(/both observed and set/);
    expect(ask({}, { leaks: { a: 2 } })).toThrow(/leak of "a" must lie in \[0, 1\], not 2/);
    expect(ask({}, { leaks: { g: 0.001 } })).toThrow(/leak of "g" must lie in \[0.01, 1\]/);
    expect(ask({}, { strengths: [{ parent: 'a', child: 's', strength: 0.5 }] })).toThrow(/does not exist/);
    expect(ask({}, { strengths: [{ parent: 'm', child: 'g', strength: 0.1 }] })).toThrow(/marked strength/);
    expect(ask({}, { maxCells: 0 })).toThrow(/maxCells must be above 0/);
  });
});
