import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  complementPosterior,
  expectedCostOfRepair,
  expectedCostOfSequence,
  findBestSequence,
  orderByRatio,
  planWithService,
  type Repair,
  type RepairProblem,
  valueOfQuestion,
} from '../../../src/rules/network/troubleshooting.js';

const repairs: fc.Arbitrary<Repair[]> = fc
  .array(
    fc.record({
      weight: fc.double({ min: 0.01, max: 1, noNaN: true }),
      cost: fc.integer({ min: 1, max: 60 }),
    }),
    {
      minLength: 1,
      maxLength: 7,
    },
  )
  .map((drafts) => {
    const whole = drafts.reduce((sum, { weight }) => sum + weight, 0.2);
    return drafts.map(({ weight, cost }) => ({ probability: weight / whole, cost }));
  });

function permutations(items: readonly number[]): number[][] {
  if (items.length <= 1) return [[...items]];
  return items.flatMap((item, i) => permutations(items.toSpliced(i, 1)).map((rest) => [item, ...rest]));
}

const problems: fc.Arbitrary<RepairProblem> = fc.integer({ min: 1, max: 4 }).chain((faults) =>
  fc.record({
    faults: fc.constant(Array.from({ length: faults }, () => 0.9 / faults)),
    actions: fc.array(
      fc.record({
        cost: fc.integer({ min: 1, max: 20 }),
        cures: fc.array(fc.constantFrom(0, 0.5, 0.9, 1), { minLength: faults, maxLength: faults }),
        access: fc.constantFrom(0, 1),
      }),
      { minLength: 1, maxLength: 5 },
    ),
    access: fc.constant([3, 8]),
    serviceCost: fc.integer({ min: 0, max: 80 }),
  }),
);

describe('expected cost of repair', () => {
  it('no swap of neighbours betters the order by ratio', () => {
    fc.assert(
      fc.property(repairs, fc.integer({ min: 0, max: 100 }), (list, service) => {
        const order = orderByRatio(list);
        const cost = (o: readonly number[]): number =>
          expectedCostOfRepair(
            o.map((i) => list[i] as Repair),
            service,
          );
        for (let i = 0; i + 1 < order.length; i++) {
          const swapped = [...order];
          [swapped[i], swapped[i + 1]] = [swapped[i + 1] as number, swapped[i] as number];
          expect(cost(order)).toBeLessThanOrEqual(cost(swapped) + 1e-9);
        }
        expect(planWithService(list, service).expectedCost).toBeLessThanOrEqual(cost(order) + 1e-9);
        expect(planWithService(list, service).expectedCost).toBeLessThanOrEqual(service);
      }),
      { seed: 3 },
    );
  });

  it('the search over sets finds the best of all sequences, service calls included', () => {
    fc.assert(
      fc.property(problems, (problem) => {
        const best = findBestSequence(problem);
        expect(expectedCostOfSequence(problem, best.order)).toBeCloseTo(best.expectedCost, 9);
        let least = Number.POSITIVE_INFINITY;
        for (const order of permutations(problem.actions.map((_, i) => i))) {
          for (let length = 0; length <= order.length; length++) {
            least = Math.min(least, expectedCostOfSequence(problem, order.slice(0, length)));
          }
        }
        expect(best.expectedCost).toBeCloseTo(least, 9);
      }),
      { seed: 4, numRuns: 60 },
    );
  });

  it('many actions: the bettered greedy order is a sequence of distinct actions and costs what it says', () => {
    const count = 18;
    const problem: RepairProblem = {
      faults: Array.from({ length: count }, () => 1 / count),
      actions: Array.from({ length: count }, (_, a) => ({
        cost: 1 + ((7 * a) % 11),
        cures: Array.from({ length: count }, (_, f) => (f === a ? 0.9 : 0)),
      })),
      serviceCost: 40,
    };
    const plan = findBestSequence(problem);
    expect(new Set(plan.order).size).toBe(plan.order.length);
    expect(expectedCostOfSequence(problem, plan.order)).toBeCloseTo(plan.expectedCost, 9);
    const own = planWithService(
      problem.actions.map(({ cost }) => ({ probability: 1 / count, cost, success: 0.9 })),
      40,
    );
    expect(plan.expectedCost).toBeCloseTo(own.expectedCost, 9);
  });

  it('refuses what cannot be', () => {
    expect(() => expectedCostOfRepair([{ probability: 1.2, cost: 1 }])).toThrow(
      /probability of a repair .* not 1.2/,
    );
    expect(() => expectedCostOfRepair([{ probability: 0.2, cost: 0 }])).toThrow(/cost of a repair/);
    const half = { probability: 0.6, cost: 1 };
    expect(() => expectedCostOfRepair([half, half])).toThrow(/above 1/);
    const bad = { faults: [0.5], actions: [{ cost: 1, cures: [1, 1] }] };
    expect(() => findBestSequence(bad)).toThrow(/2 chances of cure for 1 faults/);
    expect(() => findBestSequence({ faults: [0.5], actions: [{ cost: 1, cures: [1], access: 0 }] })).toThrow(
      /access 0/,
    );
    expect(() => valueOfQuestion(10, [{ probability: 0.5, cost: 1 }], 1)).toThrow(/sum to 0.5/);
  });
});

describe('the other answer by subtraction', () => {
  it('is what total probability says', () => {
    expect(complementPosterior(0.3, 0.6, 0.25)).toBeCloseTo((0.3 - 0.15) / 0.75, 12);
    expect(complementPosterior(0.3, 0.3, 1)).toBeUndefined();
    expect(() => complementPosterior(0.1, 0.9, 0.5)).toThrow(/posterior given "no"/);
  });
});
