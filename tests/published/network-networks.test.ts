import { describe, expect, it } from 'vitest';
import { compile } from '../../src/rules/network/compile.js';
import {
  type Network,
  type NetworkNode,
  netStrength,
  type Observation,
} from '../../src/rules/network/network.js';
import { enumerate } from '../rules/network/enumeration.js';
import { checkOf, layeredNetwork, layeredPriors, nearTo, numbersIn } from './network-checks.js';

const table = (id: string, parents: string[], probability: number[]): NetworkNode => ({
  kind: 'table',
  id,
  parents,
  probability,
});
const root = (id: string, leak: number): NetworkNode => ({ id, leak, parents: [] });

const sprinkler: Network = {
  nodes: [
    root('C', 0.5),
    table('S', ['C'], [0.5, 0.1]),
    table('R', ['C'], [0.2, 0.8]),
    table('W', ['S', 'R'], [0, 0.9, 0.9, 0.99]),
  ],
};

const chestClinic: Network = {
  nodes: [
    root('asia', 0.01),
    root('smoke', 0.5),
    table('tub', ['asia'], [0.01, 0.05]),
    table('lung', ['smoke'], [0.01, 0.1]),
    table('bronc', ['smoke'], [0.3, 0.6]),
    // "Either" is a plain OR: a noisy-OR whose links are certain.
    {
      id: 'either',
      leak: 0,
      parents: [
        { id: 'tub', strength: 1 },
        { id: 'lung', strength: 1 },
      ],
    },
    table('xray', ['either'], [0.05, 0.98]),
    table('dysp', ['either', 'bronc'], [0.1, 0.8, 0.7, 0.9]),
  ],
};

const burglary: Network = {
  nodes: [
    root('B', 0.001),
    root('E', 0.002),
    table('A', ['B', 'E'], [0.001, 0.29, 0.94, 0.95]),
    table('J', ['A'], [0.05, 0.9]),
    table('M', ['A'], [0.01, 0.7]),
  ],
};

describe('published networks with tables', () => {
  it('sprinkler', () => {
    const { expected, tolerance } = checkOf('bn-sprinkler-murphy');
    const net = compile(sprinkler);
    const W = net.query({ W: true });
    nearTo(Math.exp(W.logEvidence), expected['P(W)'], tolerance);
    nearTo(W.probability('S'), expected['P(S|W)'], tolerance);
    nearTo(W.probability('R'), expected['P(R|W)'], tolerance);
    nearTo(net.query({ W: true, R: true }).probability('S'), expected['P(S|W,R)'], tolerance);
  });

  it('sprinkler: seeing it on against turning it on', () => {
    const { expected, tolerance } = checkOf('bn-sprinkler-do');
    const net = compile(sprinkler);
    nearTo(net.query({ S: true }, { targets: ['R'] }).probability('R'), expected.observe, tolerance);
    nearTo(net.query({}, { do: { S: true }, targets: ['R'] }).probability('R'), expected.do, tolerance);
  });

  it('burglary', () => {
    const { expected, tolerance } = checkOf('bn-burglary-precise');
    const net = compile(burglary);
    const calls = net.query({ J: true, M: true });
    for (const id of ['B', 'E', 'A']) nearTo(calls.probability(id), expected[`P(${id}|j,m)`], tolerance);
    const alarm = net.query({ A: true });
    for (const id of ['B', 'E']) nearTo(alarm.probability(id), expected[`P(${id}|a)`], tolerance);
    nearTo(net.query({ A: true, E: true }).probability('B'), expected['P(B|a,e)'], tolerance);
  });

  it('chest clinic, priors', () => {
    const { expected, tolerance } = checkOf('bn-asia-priors');
    const prior = compile(chestClinic).query({}, { targets: 'all' });
    for (const [id, p] of numbersIn(expected)) nearTo(prior.probability(id), p, tolerance);
  });

  it('chest clinic, posteriors', () => {
    const { expected, tolerance } = checkOf('bn-asia-posteriors');
    const net = compile(chestClinic);
    const cases: [string, Record<string, boolean>][] = [
      ['dysp', { dysp: true }],
      ['asia,dysp', { asia: true, dysp: true }],
      ['asia,xray=no,dysp', { asia: true, xray: false, dysp: true }],
      ['smoke,xray,dysp', { smoke: true, xray: true, dysp: true }],
    ];
    for (const [name, evidence] of cases) {
      const posterior = net.query(evidence);
      for (const [id, p] of numbersIn(expected[name])) nearTo(posterior.probability(id), p, tolerance);
    }
  });

  it('student: the grade of three values as two nodes', () => {
    const { expected, tolerance } = checkOf('bn-student');
    // g1 = "first grade"; g2 = "second grade, given not the first".
    const first = [0.3, 0.05, 0.9, 0.5];
    const second = [0.4 / 0.7, 0.25 / 0.95, 0.08 / 0.1, 0.3 / 0.5];
    const net = compile({
      nodes: [
        root('I', 0.3),
        root('D', 0.4),
        table('g1', ['I', 'D'], first),
        table('g2', ['g1', 'I', 'D'], [...second, 0, 0, 0, 0]),
        table('S', ['I'], [0.05, 0.8]),
        table('L', ['g1', 'g2'], [0.01, 0.6, 0.9, 0.9]),
      ],
    });
    const third = { g1: false, g2: false };
    const given = (id: string, evidence: Record<string, Observation>): number =>
      net.query(evidence, { targets: [id] }).probability(id);
    nearTo(given('L', {}), expected['P(l1)'], tolerance);
    nearTo(given('L', { I: false }), expected['P(l1|i0)'], tolerance);
    nearTo(given('L', { I: false, D: false }), expected['P(l1|i0,d0)'], tolerance);
    nearTo(given('I', third), expected['P(i1|g3)'], tolerance);
    nearTo(given('D', third), expected['P(d1|g3)'], tolerance);
    nearTo(given('I', { L: false }), expected['P(i1|l0)'], tolerance);
    nearTo(given('I', { ...third, L: false }), expected['P(i1|l0,g3)'], tolerance);
    nearTo(given('I', { ...third, S: true }), expected['P(i1|g3,s1)'], tolerance);
    nearTo(given('D', { ...third, S: true }), expected['P(d1|g3,s1)'], tolerance);
  });

  it('car start, the meter of three values as evidence of its likelihood', () => {
    const rounded = checkOf('bn-car-start');
    const precise = checkOf('bn-car-start-precise');
    const net = compile({
      nodes: [
        root('no fuel', 0.02),
        root('dirty', 0.04),
        table('starts', ['no fuel', 'dirty'], [0.99, 0.01, 0, 0]),
      ],
    });
    const stalled = net.query({ starts: false });
    nearTo(stalled.probability('no fuel'), rounded.expected['P(no fuel|no start)'], rounded.tolerance);
    nearTo(stalled.probability('dirty'), rounded.expected['P(dirty plugs|no start)'], rounded.tolerance);
    nearTo(stalled.probability('no fuel'), precise.expected['no fuel|ns'], precise.tolerance);
    nearTo(stalled.probability('dirty'), precise.expected['dirty|ns'], precise.tolerance);
    // The meter stands at half: P(half | fuel) = .6, P(half | no fuel) = .001.
    const half = net.query({ starts: false, 'no fuel': [0.6, 0.001] });
    nearTo(half.probability('no fuel'), precise.expected['no fuel|ns,half'], precise.tolerance);
    nearTo(half.probability('dirty'), precise.expected['dirty|ns,half'], precise.tolerance);
  });

  it('an unsure report enters as a likelihood ratio', () => {
    const { inputs, expected, tolerance } = checkOf('bayes-virtual-evidence');
    const net = compile({
      nodes: [root('b', inputs.prior as number), table('alarm', ['b'], [0.01, 0.95])],
    });
    nearTo(net.query({ alarm: [1, 4] }).probability('b'), expected.posterior, tolerance);
  });
});

describe('noisy-OR records', () => {
  it('fever', () => {
    const { expected, tolerance } = checkOf('noisy-or-fever');
    const strengths: Record<string, number> = { cold: 0.4, flu: 0.8, malaria: 0.9 };
    const causes = Object.keys(strengths);
    const net = compile({
      nodes: [
        ...causes.map((id) => root(id, 0.1)),
        { id: 'fever', leak: 0, parents: causes.map((id) => ({ id, strength: strengths[id] as number })) },
      ],
    });
    for (const [names, p] of numbersIn(expected)) {
      const present = names === 'all' ? causes : names.split(',');
      const evidence = Object.fromEntries(causes.map((id) => [id, present.includes(id)]));
      nearTo(net.query(evidence, { targets: ['fever'] }).probability('fever'), p, tolerance);
    }
  });

  it('leak conventions', () => {
    const { inputs, expected, tolerance } = checkOf('noisy-or-leak-conventions');
    const leak = inputs.leak as number;
    const net = (inputs['henrion P(y|only x_i, leak on)'] as number[]).map((c) => netStrength(c, leak));
    net.forEach((c, i) => {
      nearTo(c, (expected.diez as number[])[i], tolerance);
    });
    const both = (links: number[]): number =>
      compile({
        nodes: [
          root('x0', 0.5),
          root('x1', 0.5),
          { id: 'y', leak, parents: links.map((strength, i) => ({ id: `x${i}`, strength })) },
        ],
      })
        .query({ x0: true, x1: true }, { targets: ['y'] })
        .probability('y');
    nearTo(both(net), expected['P(y|x1,x2)'], tolerance);
    nearTo(both([0.9, 0.7]), expected['wrong if compound values are used as net'], tolerance);
  });

  for (const id of ['bn2o-quickscore-a', 'bn2o-quickscore-b', 'bn2o-quickscore-c']) {
    it(`two layers against Quickscore: ${id}`, () => {
      const { inputs, expected, tolerance } = checkOf(id);
      const priors = inputs.priors as number[];
      const strengths = inputs['c[finding][cause]'] as number[][];
      const seen = inputs['evidence finding->state'] as Record<string, number>;
      const net = compile({
        nodes: [
          ...priors.map((p, c) => root(`c${c}`, p)),
          ...strengths.map((row, f) => ({
            id: `f${f}`,
            leak: (inputs.leak as number[])[f] as number,
            parents: row.flatMap((strength, c) => (strength > 0 ? [{ id: `c${c}`, strength }] : [])),
          })),
        ],
      });
      const evidence = Object.fromEntries(Object.entries(seen).map(([f, state]) => [`f${f}`, state === 1]));
      for (const method of ['signed', 'non-negative'] as const) {
        const posterior = net.query(evidence, { method });
        (expected.posterior as number[]).forEach((p, c) => {
          nearTo(posterior.probability(`c${c}`), p, tolerance);
        });
        nearTo(Math.exp(posterior.logEvidence), expected['P(e)'], tolerance);
      }
    });
  }

  for (const id of [
    'noisy-or-multilayer-s1s2-not-s3',
    'noisy-or-multilayer-all',
    'noisy-or-multilayer-s2-m1-known-false',
  ]) {
    it(`three layers: ${id}`, () => {
      const { inputs, expected, tolerance } = checkOf(id);
      const seen = Object.entries(inputs.evidence as Record<string, number>);
      const posterior = compile(layeredNetwork(inputs)).query(
        Object.fromEntries(seen.map(([n, s]) => [n, s === 1])),
      );
      for (const [node, p] of numbersIn(expected.post)) nearTo(posterior.probability(node), p, tolerance);
      nearTo(Math.exp(posterior.logEvidence), expected['P(e)'], tolerance);
    });
  }

  it('explaining away', () => {
    const { inputs, expected, tolerance } = checkOf('noisy-or-explaining-away');
    const posterior = compile(layeredNetwork(inputs)).query({ S1: true, S2: true, S3: true, R2: true });
    for (const [id, p] of numbersIn(expected)) nearTo(posterior.probability(id), p, tolerance);
  });

  it('several faults against one', () => {
    const { inputs, expected, tolerance } = checkOf('single-vs-multi-fault');
    const network = layeredNetwork(inputs);
    const evidence = { S1: true, S2: true, S3: true };
    const net = compile(network);
    const posterior = net.query(evidence);
    for (const [id, p] of numbersIn(expected.marginal)) nearTo(posterior.probability(id), p, tolerance);
    // Exactly one root: P(evidence, that one) from four runs with every root fixed.
    const roots = [...layeredPriors(inputs).keys()];
    const joint = (present: readonly string[]): number =>
      Math.exp(
        net.query({ ...evidence, ...Object.fromEntries(roots.map((id) => [id, present.includes(id)])) })
          .logEvidence,
      );
    const singles = roots.map((id) => joint([id]));
    const sum = singles.reduce((a, b) => a + b, 0);
    roots.forEach((id, i) => {
      nearTo(
        (singles[i] as number) / sum,
        (expected['single-fault'] as Record<string, number>)[id],
        tolerance,
      );
    });
    const whole = Math.exp(posterior.logEvidence);
    nearTo(joint([]) / whole, expected['P(no root|e)'], tolerance);
    nearTo(1 - (joint([]) + sum) / whole, expected['P(>=2 roots|e)'], tolerance);
    expect(enumerate(network, evidence).evidence).toBeCloseTo(whole, 12);
  });

  it('grades: cumulative probabilities multiply', () => {
    const { inputs, expected, tolerance } = checkOf('noisy-max-cpt');
    const [none, mild] = inputs['leak P(Y<=y)'] as [number, number];
    const link = (id: string, key: string) => {
      const [p0, p1] = inputs[key] as [number, number];
      return { id, strength: 1 - p0, marked: 1 - p1 };
    };
    const net = compile({
      nodes: [
        root('A1', 0.5),
        root('A2', 0.5),
        root('B1', 0.5),
        {
          kind: 'graded',
          id: 'Y',
          leak: 1 - none,
          leakMarked: 1 - mild,
          parents: [
            link('A1', 'P(Y<=y|only A=1)'),
            link('A2', 'P(Y<=y|only A=2)'),
            link('B1', 'P(Y<=y|only B=1)'),
          ],
        },
      ],
    });
    const cases: [string, Record<string, boolean>][] = [
      ['A1,B1', { A1: true, A2: false, B1: true }],
      ['A2,B1', { A1: false, A2: true, B1: true }],
      ['A0,B0', { A1: false, A2: false, B1: false }],
    ];
    for (const [name, evidence] of cases) {
      const grades = net.query(evidence, { targets: ['Y'] }).grades.get('Y') as readonly number[];
      (expected[name] as number[]).forEach((p, g) => {
        nearTo(grades[g], p, tolerance);
      });
    }
  });
});
