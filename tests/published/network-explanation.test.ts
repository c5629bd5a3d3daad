import { describe, expect, it } from 'vitest';
import { compile } from '../../src/rules/network/compile.js';
import { decibansOfRatio, logOdds, weightOfEvidence } from '../../src/rules/network/decibans.js';
import {
  buildWaterfall,
  findLeaveOneOutWeights,
  findResponsibility,
  findShapleyWeights,
  flipOne,
  leaveOneOut,
  measureConflict,
  rankExplanations,
} from '../../src/rules/network/explanation.js';
import type { Network } from '../../src/rules/network/network.js';
import { checkOf, layeredNetwork, nearTo, numbersIn } from './network-checks.js';

const burglary: Network = {
  nodes: [
    { id: 'B', leak: 0.001, parents: [] },
    { id: 'E', leak: 0.002, parents: [] },
    { kind: 'table', id: 'A', parents: ['B', 'E'], probability: [0.001, 0.29, 0.94, 0.95] },
    { kind: 'table', id: 'j', parents: ['A'], probability: [0.05, 0.9] },
    { kind: 'table', id: 'm', parents: ['A'], probability: [0.01, 0.7] },
  ],
};

const chestClinic: Network = {
  nodes: [
    { id: 'asia', leak: 0.01, parents: [] },
    { id: 'smoke', leak: 0.5, parents: [] },
    { kind: 'table', id: 'tub', parents: ['asia'], probability: [0.01, 0.05] },
    { kind: 'table', id: 'lung', parents: ['smoke'], probability: [0.01, 0.1] },
    { kind: 'table', id: 'bronc', parents: ['smoke'], probability: [0.3, 0.6] },
    { kind: 'table', id: 'either', parents: ['tub', 'lung'], probability: [0, 1, 1, 1] },
    { kind: 'table', id: 'xray', parents: ['either'], probability: [0.05, 0.98] },
    { kind: 'table', id: 'dysp', parents: ['either', 'bronc'], probability: [0.1, 0.8, 0.7, 0.9] },
  ],
};

const EVIDENCE = { S1: true, S2: true, S3: true };

describe('explanation records', () => {
  it('decibans: two machines and their bad parts', () => {
    const { expected, tolerance } = checkOf('woe-decibans');
    nearTo(decibansOfRatio(1 / 3 / (1 / 6)), expected.bad, tolerance);
    nearTo(decibansOfRatio(2 / 3 / (5 / 6)), expected.good, tolerance);
    nearTo(logOdds(1 / 11), expected.prior, tolerance);
    nearTo(decibansOfRatio(2), expected['LR 2'], tolerance);
    nearTo(decibansOfRatio(10), expected['LR 10'], tolerance);
  });

  it('chain rule: steps add up, single and leave-one-out weights do not', () => {
    const { expected, tolerance } = checkOf('woe-chain-rule');
    const net = compile(burglary);
    const weigh = (items: string[]): number[] => {
      const steps = buildWaterfall(net, { j: true, m: true }, { items, targets: ['B'] });
      const chances = steps.map((step) => step.posterior.probability('B'));
      return chances.slice(1).map((p, i) => weightOfEvidence(chances[i] as number, p));
    };
    const [first, second] = weigh(['j', 'm']);
    const [other, last] = weigh(['m', 'j']);
    nearTo(logOdds(0.001), expected.prior, tolerance);
    nearTo(first, expected['W(j)'], tolerance);
    nearTo(second, expected['W(m|j)'], tolerance);
    nearTo(other, expected['W(m)'], tolerance);
    nearTo(last, expected['W(j|m)'], tolerance);
    nearTo((first as number) + (second as number), expected.total, tolerance);
    nearTo((first as number) + (other as number), expected['sum of singles'], tolerance);
    const alone = findLeaveOneOutWeights(net, { j: true, m: true }, 'B');
    nearTo(
      (alone.get('j') as number) + (alone.get('m') as number),
      expected['sum of leave-one-out'],
      tolerance,
    );
  });

  it('Shapley weights, by all subsets and by random orders', () => {
    const { expected, tolerance } = checkOf('woe-shapley');
    for (const exactUpTo of [7, 1]) {
      const weights = findShapleyWeights(compile(burglary), { j: true, m: true }, 'B', { exactUpTo });
      nearTo(weights.get('j'), expected.j, tolerance);
      nearTo(weights.get('m'), expected.m, tolerance);
      nearTo((weights.get('j') as number) + (weights.get('m') as number), expected.sum, tolerance);
    }
  });

  it('generalised Bayes factor of single states and pairs', () => {
    const { inputs, expected, tolerance } = checkOf('mre-gbf');
    const ranked = rankExplanations(compile(layeredNetwork(inputs)), EVIDENCE, inputs.targets as string[]);
    const names = ranked.map(({ states }) => states.map(([id, state]) => `${id}=${Number(state)}`).join('&'));
    expect(names.slice(0, 4)).toEqual(expected.ranking);
    (expected.GBF as number[]).forEach((factor, i) => {
      nearTo(ranked[i]?.bayesFactor, factor, tolerance);
    });
  });

  it('leave-one-out and flip', () => {
    const { inputs, expected, tolerance } = checkOf('explain-loo-and-flip');
    const net = compile(layeredNetwork(inputs));
    nearTo(net.query(EVIDENCE).probability('R2'), expected.full, tolerance);
    const without = new Map(leaveOneOut(net, EVIDENCE).map(({ id, posterior }) => [id, posterior]));
    for (const [id, p] of numbersIn(expected.without))
      nearTo(without.get(id)?.probability('R2'), p, tolerance);
    for (const [id, p] of numbersIn(expected.flipped)) {
      nearTo(flipOne(net, EVIDENCE, id)?.probability('R2'), p, tolerance);
    }
  });

  it('leak and link responsibility', () => {
    const { inputs, expected, tolerance } = checkOf('explain-leak-and-link-responsibility');
    const net = compile(layeredNetwork(inputs));
    const { leak, links } = findResponsibility(net, EVIDENCE, inputs.finding as string);
    nearTo(leak, expected.leak, tolerance);
    nearTo(links.get('M1'), expected['link M1->S1'], tolerance);
  });

  it('conflict measure', () => {
    const { expected, tolerance } = checkOf('evidence-conflict-measure');
    const clinic = compile(chestClinic);
    nearTo(
      measureConflict(clinic, { xray: true, dysp: true }),
      expected['asia xray=yes,dysp=yes'],
      tolerance,
    );
    nearTo(
      measureConflict(clinic, { bronc: false, dysp: true, xray: false }),
      expected['asia bronc=no,dysp=yes,xray=no'],
      tolerance,
    );
    const layered = compile(layeredNetwork(checkOf('mre-gbf').inputs));
    nearTo(measureConflict(layered, EVIDENCE), expected['multilayer S1,S2,S3'], tolerance);
    nearTo(
      measureConflict(layered, { S1: true, S2: false, M1: false }),
      expected['multilayer S1=1,S2=0,M1=0'],
      tolerance,
    );
  });
});
