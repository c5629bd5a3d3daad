import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareSetups } from '../../../src/rules/plans/compare.js';
import { setupDifferences } from '../../../src/rules/plans/setup-differences.js';
import { shapleyShares } from '../../../src/rules/plans/shapley.js';
import { quantityById } from '../../../src/spinning/quantities.js';
import { caseOf, KNIT_SETUP, knowledge, WARP_SETUP } from './cases.js';

const knit = caseOf(KNIT_SETUP);
const rougher = caseOf(
  KNIT_SETUP.replace('surface: smooth', 'surface: notched, notches: 6').replace(
    'insert: none',
    'insert: 2-groove',
  ),
);
const hard = caseOf(KNIT_SETUP.replace('3.5 alpha-e', '4.2 alpha-e'));

describe('shares of a difference', () => {
  it('add up to it, whatever is measured', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 5 }).chain((count) =>
          fc.tuple(
            fc.constant(count),
            fc.array(fc.double({ min: -50, max: 50, noNaN: true }), {
              minLength: 2 ** count,
              maxLength: 2 ** count,
            }),
          ),
        ),
        ([count, values]) => {
          const shares = shapleyShares(count, (mask) => values[mask] ?? 0);
          const sum = shares.reduce((total, share) => total + share, 0);
          expect(sum).toBeCloseTo((values.at(-1) ?? 0) - (values[0] ?? 0), 6);
        },
      ),
    );
  });

  it('are each one’s own effect where effects simply add', () => {
    const effects = [3, -1, 0.5];
    const shares = shapleyShares(3, (mask) =>
      effects.reduce((sum, effect, i) => sum + ((mask >> i) & 1) * effect, 0),
    );
    shares.forEach((share, i) => {
      expect(share).toBeCloseTo(effects[i] ?? 0, 12);
    });
  });

  it('halve what two do together', () => {
    expect(shapleyShares(2, (mask) => (mask === 3 ? 1 : 0))).toEqual([0.5, 0.5]);
  });

  it('refuse more switches than can be gone through', () => {
    expect(() => shapleyShares(9, () => 0)).toThrow(/switches: 9/);
  });
});

describe('setups side by side', () => {
  const comparison = compareSetups(knowledge, [
    { name: 'now', case: knit },
    { name: 'rougher', case: rougher },
    { name: 'harder', case: hard },
  ]);
  const row = (id: string) => {
    const found = comparison.quantities.find((one) => one.id === id);
    if (found === undefined) throw new Error(id);
    return found;
  };

  it('name what differs', () => {
    expect(comparison.differing.map((list) => list.map((one) => one.id))).toEqual([
      ['texture', 'insert'],
      ['twist'],
    ]);
    expect(comparison.differing[0]?.[0]).toMatchObject({ first: 'smooth', second: '6 notches' });
  });

  it('share the difference at the central values out among the settings', () => {
    for (const quantity of comparison.quantities)
      quantity.against.forEach((against, i) => {
        const field = quantityById(quantity.id)?.field;
        if (field === undefined) throw new Error(quantity.id);
        const whole = (comparison.states[i + 1]?.[field] ?? 0) - (comparison.states[0]?.[field] ?? 0);
        const sum = against.drivers.reduce((total, driver) => total + driver.part, 0);
        expect(sum).toBeCloseTo(whole, 6);
      });
  });

  it('say which way a difference goes only as surely as the draws do', () => {
    const output = row('output');
    expect(output.against[0]?.difference).toEqual({ value: 0, low: 0, high: 0 });
    const harder = output.against[1];
    expect(harder?.sure).toBe(true);
    expect(harder?.difference.high).toBeLessThan(0);
    expect(harder?.drivers.map((driver) => driver.id)).toEqual(['twist']);
    expect(harder?.words).toMatch(/^Output of a rotor is .* lower in “harder”, by the twist/);
  });

  it('take the same draws for both, so that a difference is narrower than the values', () => {
    const hair = row('hairiness');
    const [first] = hair.values;
    const against = hair.against[0];
    if (first === undefined || against === undefined) throw new Error('no values');
    expect(against.difference.value).toBeGreaterThan(0);
    expect(row('twist-margin').against[1]?.difference.low).toBeGreaterThan(0);
    const margin = row('twist-margin');
    const width = (range: { low: number; high: number }) => range.high - range.low;
    expect(width(margin.against[1]?.difference ?? { low: 0, high: 9 })).toBeLessThan(
      width(margin.values[1] ?? { low: 0, high: 0 }),
    );
  });

  it('find nothing between a setup and itself', () => {
    const same = compareSetups(knowledge, [
      { name: 'one', case: knit },
      { name: 'two', case: caseOf(KNIT_SETUP) },
    ]);
    expect(same.summary[0]).toEqual(['“two” is set up as “one”.']);
    for (const quantity of same.quantities)
      expect(quantity.against[0]?.difference).toEqual({ value: 0, low: 0, high: 0 });
  });

  it('swap one setting at a time where more than five differ, and say so', () => {
    const far = compareSetups(knowledge, [
      { name: 'knit', case: knit },
      { name: 'warp', case: caseOf(WARP_SETUP) },
    ]);
    expect(far.differing[0]?.length ?? 0).toBeGreaterThan(5);
    expect(far.method[0]).toMatch(/swapped by itself/);
  });

  it('take two or three', () => {
    expect(() => compareSetups(knowledge, [{ name: 'one', case: knit }])).toThrow(/setups: 1 given/);
  });
});

describe('differences of setups', () => {
  it('swapped one after the other make the second out of the first', () => {
    const comparison = compareSetups(knowledge, [
      { name: 'knit', case: knit },
      { name: 'warp', case: caseOf(WARP_SETUP) },
    ]);
    const [first, second] = comparison.setups;
    if (first === undefined || second === undefined) throw new Error('no setups');
    const swapped = setupDifferences(first, second).reduce((setup, one) => one.swap(setup), first);
    expect(setupDifferences(swapped, second)).toEqual([]);
    expect(swapped.twistPerMetre).toBeCloseTo(second.twistPerMetre, 6);
  });
});
