import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beliefFrom, weighDraws } from '../../../src/rules/plans/belief.js';
import { weightedRange } from '../../../src/rules/plans/weighted.js';
import type { Columns } from '../../../src/spinning/simulation.js';
import { summariseColumn } from '../../../src/spinning/summary.js';
import { caseOf, diagnostician, KNIT, KNIT_SETUP, knowledge, POLYESTER_SETUP } from './cases.js';

describe('belief from a diagnosis', () => {
  it('moves the margin the signs speak of, within its bounds', async () => {
    const tapering = beliefFrom(await diagnostician.rank(caseOf(KNIT)), knowledge, 12);
    expect(tapering.twist).toBeGreaterThan(2);
    expect(tapering.tension).toBeLessThan(1);
    const torn = beliefFrom(
      await diagnostician.rank(
        caseOf(`${KNIT_SETUP}\nobservations: {end-breaks: marked}\nfindings: {broken-tail: short-torn}`),
      ),
      knowledge,
      12,
    );
    expect(torn.tension).toBeGreaterThan(1);
    expect(torn.twist).toBeLessThan(tapering.twist);
    const melted = beliefFrom(
      await diagnostician.rank(caseOf(`${POLYESTER_SETUP}\nobservations: {melt: marked}`)),
      knowledge,
      12,
    );
    expect(melted.heat).toBeGreaterThan(1);
    for (const belief of [tapering, torn, melted])
      for (const factor of Object.values(belief)) {
        expect(factor).toBeGreaterThanOrEqual(1 / 12);
        expect(factor).toBeLessThanOrEqual(12);
      }
  });

  it('is one everywhere where nothing was seen', () => {
    expect(beliefFrom({ causes: [] }, knowledge, 12)).toEqual({ twist: 1, tension: 1, heat: 1 });
  });

  it('weighs draws to a mean of one, the short ones by the factor', () => {
    const column = (values: number[]) => Float64Array.from(values);
    const base = {
      twistMargin: column([-1, 1, 1, -0.2]),
      tensionMargin: column([1, 1, -1, 1]),
      heatMargin: column([9, 9, 9, 9]),
    } as unknown as Columns;
    const weights = weighDraws(base, { twist: 4, tension: 0.5, heat: 3 });
    expect(weights[0]).toBeCloseTo(4 * (weights[1] ?? 0), 12);
    expect(weights[2]).toBeCloseTo(0.5 * (weights[1] ?? 0), 12);
    expect(weights.reduce((sum, one) => sum + one, 0)).toBeCloseTo(4, 12);
    expect([...weighDraws(base, undefined)]).toEqual([1, 1, 1, 1]);
  });
});

describe('weighted ranges', () => {
  const columns = fc.array(fc.double({ min: -100, max: 100, noNaN: true }), { minLength: 20, maxLength: 60 });

  it('are the plain ones when all weigh alike', () => {
    fc.assert(
      fc.property(columns, fc.double({ min: 0.1, max: 5, noNaN: true }), (values, weight) => {
        const column = Float64Array.from(values);
        const { median, low, high } = summariseColumn(column);
        expect(weightedRange(column, new Float64Array(values.length).fill(weight))).toEqual({
          value: median,
          low,
          high,
        });
      }),
    );
  });

  it('keep order and lie among the values, and forget what weighs nothing', () => {
    fc.assert(
      fc.property(columns, (values) => {
        const column = Float64Array.from(values);
        const weights = column.map((_value, i) => (i % 3 === 0 ? 0 : 1 + (i % 2)));
        const range = weightedRange(column, weights);
        const counted = values.filter((_value, i) => i % 3 !== 0);
        expect(range.low).toBeLessThanOrEqual(range.value);
        expect(range.value).toBeLessThanOrEqual(range.high);
        for (const one of [range.low, range.value, range.high]) expect(counted).toContain(one);
      }),
    );
  });
});
