import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FactValue } from '../../../src/rules/case/types.js';
import { evaluateConditions } from '../../../src/rules/conditions/evaluate.js';
import type { Condition } from '../../../src/rules/knowledge/schema.js';
import {
  canHold,
  type DomainOf,
  holdsWheneverKnown,
  implies,
  meetingOf,
} from '../../../src/rules/workshop/condition-logic.js';
import type { FactDomain } from '../../../src/rules/workshop/fact-domains.js';

/** Three small facts; the grid of numbers meets every limit used below, both ends and the gaps. */
const DOMAINS: Readonly<Record<string, FactDomain>> = {
  size: { kind: 'number', low: 0, high: 4 },
  groove: { kind: 'word', words: ['narrow', 'medium', 'wide'] },
  where: { kind: 'list', words: ['frame', 'lot'] },
};
const domainOf: DomainOf = (fact) => DOMAINS[fact];
const VALUES: Readonly<Record<string, readonly (FactValue | undefined)[]>> = {
  size: [undefined, 0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4],
  groove: [undefined, 'narrow', 'medium', 'wide'],
  where: [undefined, ['frame'], ['lot'], ['frame', 'lot']],
};

const comparison: fc.Arbitrary<Condition> = fc.oneof(
  fc.record({
    fact: fc.constant('size'),
    operator: fc.constantFrom('is', 'is-not', 'below', 'at-most', 'at-least', 'above' as const),
    value: fc.constantFrom(1, 2, 3),
  }),
  fc.record({
    fact: fc.constant('groove'),
    operator: fc.constantFrom('is', 'is-not' as const),
    value: fc.constantFrom('narrow', 'medium', 'wide'),
  }),
  fc.record({
    fact: fc.constant('groove'),
    operator: fc.constantFrom('is-one-of', 'is-none-of' as const),
    value: fc.subarray(['narrow', 'medium', 'wide'], { minLength: 1 }),
  }),
  fc.record({
    fact: fc.constant('where'),
    operator: fc.constantFrom('includes', 'excludes' as const),
    value: fc.constantFrom('frame', 'lot'),
  }),
);
const condition: fc.Arbitrary<Condition> = fc.letrec<{ node: Condition }>((tie) => ({
  node: fc.oneof(
    { maxDepth: 2, withCrossShrink: true },
    comparison,
    fc.array(tie('node'), { minLength: 1, maxLength: 3 }).map((all): Condition => ({ all })),
    fc.array(tie('node'), { minLength: 1, maxLength: 3 }).map((any): Condition => ({ any })),
  ),
})).node;

/** What the rule engine says of both conditions for every combination of values. */
async function table(first: Condition, second: Condition) {
  const rows: { first: boolean; second: boolean; unknown: boolean }[] = [];
  for (const size of VALUES.size ?? [])
    for (const groove of VALUES.groove ?? [])
      for (const where of VALUES.where ?? []) {
        const facts = new Map<string, FactValue>();
        for (const [name, value] of Object.entries({ size, groove, where }))
          if (value !== undefined) facts.set(name, value);
        const holds = await evaluateConditions(
          [
            { id: 'first', when: first },
            { id: 'second', when: second },
          ],
          facts,
        );
        rows.push({ first: holds.has('first'), second: holds.has('second'), unknown: facts.size < 3 });
      }
  return rows;
}

describe('condition logic', () => {
  it('agrees with the rule engine on every combination of values', async () => {
    await fc.assert(
      fc.asyncProperty(condition, condition, async (first, second) => {
        const rows = await table(first, second);
        expect(canHold(first, domainOf)).toBe(rows.some((row) => row.first));
        expect(holdsWheneverKnown(first, domainOf)).toBe(
          rows.filter((row) => !row.unknown).every((row) => row.first),
        );
        expect(implies(first, second, domainOf)).toBe(
          rows.some((row) => row.first) && rows.every((row) => !row.first || row.second),
        );
        expect(meetingOf(first, second, domainOf) !== undefined).toBe(
          rows.some((row) => row.first && row.second),
        );
      }),
      { numRuns: 150 },
    );
  });

  it('says nothing of a condition with too many ways of holding', () => {
    const wide: Condition = {
      all: Array.from({ length: 7 }, (_, i) => ({
        any: [1, 2, 3].map((value) => ({ fact: `f${i}`, operator: 'is' as const, value })),
      })),
    };
    expect(canHold(wide, () => ({ kind: 'number', low: 0, high: 9 }))).toBeUndefined();
  });

  it('shows a case in which two conditions meet', () => {
    expect(
      meetingOf(
        { fact: 'size', operator: 'above', value: 2 },
        { all: [{ fact: 'where', operator: 'includes', value: 'lot' }] },
        domainOf,
      ),
    ).toBe('size 4, where [lot]');
  });
});
