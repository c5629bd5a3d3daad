import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CaseInput } from '../../../src/rules/case/types.js';
import { createDiagnostician } from '../../../src/rules/diagnosis/diagnose.js';
import type { Diagnostician } from '../../../src/rules/diagnostician.js';
import { caseOf, diagnostician } from './fixture.js';

const { knowledge } = diagnostician();
const symptoms = [...knowledge.book.symptoms.keys()];

/** Cases on a few setups, with two or three signs each. */
const someCase: fc.Arbitrary<CaseInput> = fc
  .record({
    speed: fc.constantFrom('90000 rpm', '110000 rpm'),
    observations: fc.dictionary(
      fc.constantFrom(...symptoms),
      fc.constantFrom('slight' as const, 'marked' as const, 'absent' as const),
      { minKeys: 1, maxKeys: 3 },
    ),
  })
  .map(({ speed, observations }) => caseOf(JSON.stringify({ setup: { rotor: { speed } }, observations })));

/** An answer without what the clock says. */
const timeless = async (answer: ReturnType<Diagnostician['rank']>) => {
  const { inference, ...rest } = await answer;
  return JSON.parse(JSON.stringify({ ...rest, inference: { ...inference, milliseconds: 0 } }));
};

describe('a case asked about in stages', () => {
  it('gets the very answers of a diagnostician that was never asked before', async () => {
    const asked = createDiagnostician(knowledge);
    await fc.assert(
      fc.asyncProperty(fc.array(someCase, { minLength: 1, maxLength: 3 }), async (cases) => {
        // Rankings first, then whole answers in the other order: what is kept of one must not colour another.
        const rankings = [];
        for (const one of cases) rankings.push(await timeless(asked.rank(one)));
        const wholes = [];
        for (const one of [...cases].reverse()) wholes.unshift(await timeless(asked.diagnose(one)));
        for (const [n, one] of cases.entries()) {
          expect(rankings[n]).toEqual(await timeless(createDiagnostician(knowledge).rank(one)));
          expect(wholes[n]).toEqual(await timeless(createDiagnostician(knowledge).diagnose(one)));
        }
      }),
      { numRuns: 3 },
    );
  });
});
