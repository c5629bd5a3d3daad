import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluateConditions, type FactSource } from '../../../src/rules/conditions/evaluate.js';
import { type Condition, conditionSchema, OPERATORS } from '../../../src/rules/knowledge/schema.js';

const facts: FactSource = new Map<string, string | number | string[] | (() => number | undefined)>([
  ['setup.nozzle.surface', 'smooth'],
  ['setup.nozzle.notches', 4],
  ['where', ['position', 'section']],
  ['computed.draft', () => 166],
  ['computed.back-doublings', () => undefined],
]);
const holds = async (when: Condition) => (await evaluateConditions([{ id: 'x', when }], facts)).has('x');

describe('conditions', () => {
  it.each([
    ['setup.nozzle.surface', 'is', 'smooth', true],
    ['setup.nozzle.surface', 'is-not', 'smooth', false],
    ['setup.nozzle.surface', 'is-not', 'spiral', true],
    ['setup.nozzle.surface', 'is-one-of', ['spiral', 'smooth'], true],
    ['setup.nozzle.surface', 'is-none-of', ['spiral'], true],
    ['setup.nozzle.notches', 'at-least', 4, true],
    ['setup.nozzle.notches', 'above', 4, false],
    ['setup.nozzle.notches', 'at-most', 3, false],
    ['setup.nozzle.notches', 'below', 10, true],
    ['where', 'includes', 'section', true],
    ['where', 'excludes', 'frame', true],
    ['where', 'excludes', 'position', false],
    ['computed.draft', 'above', 100, true],
  ] as const)('%s %s %s is %s', async (fact, operator, value, expected) => {
    expect(await holds({ fact, operator, value: value as string | number | string[] })).toBe(expected);
  });

  it('is false on an unknown fact for every word, the negative ones too', async () => {
    for (const operator of OPERATORS)
      for (const fact of ['setup.tube.insert', 'computed.back-doublings', 'constructor', '__proto__'])
        expect(await holds({ fact, operator, value: 'x' }), `${operator} ${fact}`).toBe(false);
  });

  it('does not compare text as numbers', async () => {
    expect(await holds({ fact: 'setup.nozzle.surface', operator: 'above', value: 1 })).toBe(false);
    expect(await holds({ fact: 'setup.nozzle.notches', operator: 'above', value: '1' })).toBe(false);
  });

  it('keeps runs apart when many overlap', async () => {
    const runs = await Promise.all(
      Array.from({ length: 40 }, (_, i) =>
        evaluateConditions(
          [{ id: `r${i}`, when: { fact: 'n', operator: 'is', value: i } }],
          new Map([['n', i % 2 === 0 ? i : () => i]]),
        ),
      ),
    );
    runs.forEach((fired, i) => {
      expect([...fired]).toEqual([`r${i}`]);
    });
  });

  it('reads a shared fact function once a run', async () => {
    let calls = 0;
    const counted: FactSource = new Map([['n', () => ++calls]]);
    const rules = Array.from({ length: 5 }, (_, i) => ({
      id: `${i}`,
      when: { fact: 'n', operator: 'is', value: 1 } as Condition,
    }));
    expect((await evaluateConditions(rules, counted)).size).toBe(5);
    expect(calls).toBe(1);
  });

  it('agrees with a plain reading of all and any on random trees', async () => {
    const leaf = fc.record({
      fact: fc.constantFrom('a', 'b', 'c'),
      operator: fc.constant('is' as const),
      value: fc.constantFrom(0, 1),
    });
    const { tree } = fc.letrec<{ tree: Condition }>((tie) => ({
      tree: fc.oneof(
        { maxDepth: 3 },
        leaf,
        fc.record({ all: fc.array(tie('tree'), { minLength: 1, maxLength: 3 }) }),
        fc.record({ any: fc.array(tie('tree'), { minLength: 1, maxLength: 3 }) }),
      ),
    }));
    const values = { a: 0, b: 1 } as Record<string, number>;
    const plain = (c: Condition): boolean =>
      'all' in c ? c.all.every(plain) : 'any' in c ? c.any.some(plain) : values[c.fact] === c.value;
    await fc.assert(
      fc.asyncProperty(tree, async (when) => {
        const fired = await evaluateConditions([{ id: 'x', when }], new Map(Object.entries(values)));
        expect(fired.has('x')).toBe(plain(when));
      }),
      { numRuns: 100, seed: 11 },
    );
  });

  it('are refused when empty, doubled or with keys the engine would act on', () => {
    for (const bad of [
      { all: [] },
      { any: [] },
      { all: [{ fact: 'a', operator: 'is', value: 1 }], any: [{ fact: 'a', operator: 'is', value: 1 }] },
      { not: { fact: 'a', operator: 'is', value: 1 } },
      { fact: 'a', operator: 'is', value: 1, path: '$.x' },
      { fact: 'a', operator: 'equal', value: 1 },
      { fact: 'a', operator: 'is', value: { fact: 'b' } },
      JSON.parse('{"fact":"a","operator":"is","value":1,"__proto__":{"x":1}}'),
    ])
      expect(conditionSchema.safeParse(bad).success, JSON.stringify(bad)).toBe(false);
  });
});
