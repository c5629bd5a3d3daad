import { beforeAll, describe, expect, it } from 'vitest';
import type { Cause } from '../../src/rules/knowledge/schema.js';
import { type ExampleResult, findTableFaults, runExamples } from '../../src/rules/workshop/run-examples.js';
import { diagnostician, knowledge } from './engine.js';

const causes = [...knowledge.book.causes.values()];

describe('the tables of examples', () => {
  it('have no faults', () => {
    expect(findTableFaults(causes)).toEqual([]);
  });

  it('are caught when a name or a case stands twice, or a cause is only found or only left out', () => {
    const [some] = causes;
    if (some === undefined) throw new Error('no causes');
    const example = (name: string, expected: 'first' | 'below-2-percent', fibre: string) => ({
      name,
      expect: expected,
      given: { setup: { fibre } },
    });
    const made = (id: string, examples: Cause['examples']): Cause => ({ ...some, id, examples });
    expect(
      findTableFaults([
        made('a', [example('One', 'first', 'cotton'), example('Two', 'first', 'cotton')]),
        made('b', [example('one', 'below-2-percent', 'cotton')]),
      ]),
    ).toEqual([
      'a: "Two" is the same case as "One"',
      'a: no example that leaves it out (below-2-percent)',
      'b: the name "one" is used by a too',
      'b: no example that finds it (first or first-three)',
    ]);
  });
});

describe('examples through the engine', () => {
  let results: ReadonlyMap<string, ExampleResult>;
  const key = (cause: string, name: string) => `${cause}: ${name}`;
  beforeAll(async () => {
    results = new Map(
      (await runExamples(diagnostician)).map((result) => [key(result.cause, result.name), result]),
    );
  }, 120_000);

  for (const cause of causes)
    describe(cause.id, () => {
      for (const { name, expect: expected } of cause.examples ?? [])
        it(`${expected}: ${name}`, () => {
          const result = results.get(key(cause.id, name));
          expect(result?.unreadable).toEqual([]);
          const seen = result?.leading.map((one) => `${one.id} ${one.probability.toFixed(3)}`).join(', ');
          expect(
            result?.passed,
            `number ${result?.rank} with ${result?.probability.toFixed(3)}; leading: ${seen}`,
          ).toBe(true);
        });
    });

  it('can be run for single causes', async () => {
    const some = await runExamples(diagnostician, ['too-few-fibres']);
    expect(new Set(some.map((result) => result.cause))).toEqual(new Set(['too-few-fibres']));
  });
});
