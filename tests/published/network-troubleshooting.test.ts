import { describe, expect, it } from 'vitest';
import {
  bestExpectedPayoff,
  entropy,
  expectedCostOfRepair,
  expectedCostOfSequence,
  findBestSequence,
  mutualInformation,
  orderByRatio,
  orderGreedily,
  outlookOfAnswers,
  planWithService,
  type Repair,
  type RepairProblem,
  valueOfAnswer,
  valueOfQuestion,
} from '../../src/rules/network/troubleshooting.js';
import { checkOf, nearTo } from './network-checks.js';

function repairsOf(inputs: Readonly<Record<string, unknown>>): Repair[] {
  const costs = (inputs.C ?? inputs.C_observe) as number[];
  return (inputs.p as number[]).map((probability, i) => ({
    probability,
    cost: costs[i] as number,
    success: (inputs.success as number[] | undefined)?.[i] ?? 1,
    repairCost: (inputs.C_repair as number[] | undefined)?.[i] ?? 0,
  }));
}

function permutations(items: readonly number[]): number[][] {
  if (items.length <= 1) return [[...items]];
  return items.flatMap((item, i) => permutations(items.toSpliced(i, 1)).map((rest) => [item, ...rest]));
}

const inOrder = (repairs: readonly Repair[], order: readonly number[]): Repair[] =>
  order.map((i) => repairs[i] as Repair);

describe('troubleshooting records', () => {
  it('p over C is the best of all orders', () => {
    const { inputs, expected, tolerance } = checkOf('ts-p-over-c');
    const repairs = repairsOf(inputs);
    const order = orderByRatio(repairs);
    expect(order).toEqual(expected.order);
    nearTo(expectedCostOfRepair(inOrder(repairs, order)), expected.ECR, tolerance);
    const all = permutations([0, 1, 2, 3, 4]).map((o) => expectedCostOfRepair(inOrder(repairs, o)));
    nearTo(Math.min(...all), expected.ECR, tolerance);
    nearTo(Math.max(...all), expected['worst order ECR'], tolerance);
  });

  it('observe, then repair: only the cost of the look decides the order', () => {
    const { inputs, expected, tolerance } = checkOf('ts-observe-then-repair');
    const repairs = repairsOf(inputs);
    expect(orderByRatio(repairs)).toEqual(expected.order);
    nearTo(expectedCostOfRepair(inOrder(repairs, orderByRatio(repairs))), expected.ECR, tolerance);
  });

  it('repairs that may fail, then the service', () => {
    const { inputs, expected, tolerance } = checkOf('ts-imperfect-repair');
    const repairs = repairsOf(inputs);
    expect(orderByRatio(repairs)).toEqual(expected.order);
    nearTo(expectedCostOfRepair(repairs, inputs.service as number), expected.ECR, tolerance);
  });

  it('where to stop and call the service', () => {
    const { inputs, expected, tolerance } = checkOf('ts-call-service');
    const repairs = repairsOf(inputs);
    const service = inputs.service as number;
    const plan = planWithService(repairs, service);
    expect(plan.order).toEqual(expected['best prefix']);
    nearTo(plan.expectedCost, expected.ECR, tolerance);
    nearTo(expectedCostOfRepair(repairs, service), expected['ECR without service'], tolerance);
    nearTo(expectedCostOfRepair([], service), expected['ECR service first'], tolerance);
  });

  it('actions that share faults: greedy is not the best', () => {
    const { inputs, expected, tolerance } = checkOf('ts-dependent-actions-greedy-fails');
    const faults = inputs['P(fault)'] as number[];
    const problem: RepairProblem = {
      faults,
      actions: Object.values(inputs.fixes as Record<string, number[]>).map((fixed) => ({
        cost: inputs.cost as number,
        cures: faults.map((_, f) => (fixed.includes(f) ? 1 : 0)),
      })),
    };
    nearTo(expectedCostOfSequence(problem, orderGreedily(problem)), expected['greedy ECR'], tolerance);
    nearTo(findBestSequence(problem).expectedCost, expected['optimal ECR'], tolerance);
  });

  it('actions that share an access', () => {
    const { inputs, expected, tolerance } = checkOf('ts-cost-clusters');
    const clusters = Object.values(
      inputs.clusters as Record<string, { open: number; 'actions (p,C)': number[][] }>,
    );
    const all = clusters.flatMap((cluster, access) =>
      cluster['actions (p,C)'].map(([p, cost]) => ({ p, cost, access })),
    );
    const problem: RepairProblem = {
      faults: all.map(({ p }) => p as number),
      actions: all.map(({ cost, access }, a) => ({
        cost: cost as number,
        access,
        cures: all.map((_, f) => (f === a ? 1 : 0)),
      })),
      access: clusters.map(({ open }) => open),
    };
    const best = findBestSequence(problem);
    expect(best.order).toEqual(expected['optimal order']);
    nearTo(best.expectedCost, expected['optimal ECR'], tolerance);
    const plain = expected['plain p/C order'] as number[];
    nearTo(expectedCostOfSequence(problem, plain), expected['plain p/C ECR'], tolerance);
  });
});

describe('value of information records', () => {
  it('oil wildcatter', () => {
    const { inputs, expected, tolerance } = checkOf('voi-oil-wildcatter');
    const prior = inputs['prior dry/wet/soaking'] as number[];
    const payoff = [inputs['net payoff of drilling'] as number[], [0, 0, 0]];
    const byState = inputs['P(closed,open,diffuse|state)'] as number[][];
    // The record may list the table by state or by answer; each state's chances must sum to one.
    const sums = byState.map((row) => row.reduce((a, b) => a + b, 0));
    expect(sums.every((sum) => Math.abs(sum - 1) < 1e-12)).toBe(true);
    const likelihood = [0, 1, 2].map((answer) => byState.map((row) => row[answer] as number));
    const answers = outlookOfAnswers(prior, likelihood);
    const now = bestExpectedPayoff(prior, payoff);
    nearTo(now, expected['EV without test'], tolerance);
    nearTo(valueOfAnswer(prior, answers, payoff), expected.EVSI, tolerance);
    nearTo(
      now + valueOfAnswer(prior, answers, payoff) - (inputs['test cost'] as number),
      expected['EV with test'],
      tolerance,
    );
    const perfect = outlookOfAnswers(prior, [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ]);
    nearTo(valueOfAnswer(prior, perfect, payoff), expected.EVPI, tolerance);
  });

  it('used car: answers, posteriors and mutual information', () => {
    const { inputs, expected, tolerance } = checkOf('voi-used-car-tests');
    const information = checkOf('voi-mutual-information');
    const defect = inputs['P(defect)'] as number;
    const prior = [1 - defect, defect];
    nearTo(entropy(prior), information.expected['H(prior)'], information.tolerance);
    for (const [name, key] of [
      ['test1', 'test1 P(result|ok), P(result|defect)'],
      ['test2', 'test2'],
    ] as const) {
      const table = inputs[key] as Record<string, number[]>;
      const wanted = expected[name] as Record<string, Record<string, number>>;
      const answers = outlookOfAnswers(prior, Object.values(table));
      Object.keys(table).forEach((result, i) => {
        nearTo(answers[i]?.probability, wanted[result]?.['P(result)'], tolerance);
        nearTo(answers[i]?.posterior[1], wanted[result]?.['P(defect|result)'], tolerance);
      });
      nearTo(mutualInformation(prior, answers), information.expected[`I(${name})`], information.tolerance);
    }
  });

  it('two coins: each answer alone is worth nothing', () => {
    const { inputs, expected, tolerance } = checkOf('voi-myopic-trap');
    // States: the two coins, (0,0), (0,1), (1,0), (1,1); the fault is there when they differ.
    const prior = [0.25, 0.25, 0.25, 0.25];
    const wrong = -(inputs['wrong action cost'] as number);
    const payoff = [
      [wrong, 0, 0, wrong],
      [0, wrong, wrong, 0],
    ];
    const first = [
      [1, 1, 0, 0],
      [0, 0, 1, 1],
    ];
    const second = [
      [1, 0, 1, 0],
      [0, 1, 0, 1],
    ];
    const both = first.flatMap((a) => second.map((b) => a.map((v, s) => v * (b[s] as number))));
    nearTo(valueOfAnswer(prior, outlookOfAnswers(prior, first), payoff), expected['EVSI(X1)'], tolerance);
    nearTo(valueOfAnswer(prior, outlookOfAnswers(prior, second), payoff), expected['EVSI(X2)'], tolerance);
    nearTo(valueOfAnswer(prior, outlookOfAnswers(prior, both), payoff), expected['EVSI(X1,X2)'], tolerance);
  });

  it('a question before the repairs', () => {
    const { inputs, expected, tolerance } = checkOf('voi-question-ecr');
    const p = inputs.p as number[];
    const yes = inputs['P(yes|fault)'] as number[];
    const costOf = (distribution: readonly number[]): number => {
      const repairs = distribution.map((probability, i) => ({
        probability,
        cost: (inputs.C as number[])[i] as number,
      }));
      return expectedCostOfRepair(inOrder(repairs, orderByRatio(repairs)));
    };
    const answers = outlookOfAnswers(p, [yes, yes.map((y) => 1 - y)]);
    const costs = answers.map((a) => ({ probability: a.probability, cost: costOf(a.posterior) }));
    nearTo(costOf(p), expected['ECR now'], tolerance);
    const after = costs.reduce((sum, a) => sum + a.probability * a.cost, 0);
    nearTo(after, expected['ECR after answer (excl. cost)'], tolerance);
    // The record's "value" is what the answer saves before the cost of asking.
    nearTo(valueOfQuestion(costOf(p), costs, 0), expected.value, tolerance);
    expect(valueOfQuestion(costOf(p), costs, inputs['question cost'] as number) > 0).toBe(expected.ask);
  });
});
