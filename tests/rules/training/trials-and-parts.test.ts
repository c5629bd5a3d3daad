import { describe, expect, it } from 'vitest';
import { circumstanceWeights } from '../../../src/rules/diagnosis/direct-weights.js';
import type { Part, TrialResult } from '../../../src/rules/knowledge/vocabulary.js';
import {
  dealCase,
  exchangeableParts,
  exchangeChances,
  markAttempt,
  type PracticeCase,
  playMoves,
  withTrial,
} from '../../../src/rules/training/index.js';
import { trainingRoom } from './fixture.js';

const room = trainingRoom();
const { book, judgements } = room.reasoner.knowledge;

/** A dealt case whose one fault sits in a part of a single position. */
async function caseWithPart(): Promise<{ dealt: PracticeCase; part: Part; cause: string }> {
  const dealt = await dealCase(room, { level: 5, seed: 2 });
  const [cause = ''] = dealt.truth.causes;
  const part = book.causes.get(cause)?.part;
  if (part === undefined || !exchangeableParts(dealt).includes(part)) throw new Error('take another case');
  return { dealt, part, cause };
}

describe('a part tried in place of another', () => {
  it('comes out as often as the product’s own weights say', () => {
    const { own, other } = exchangeChances(judgements);
    for (const chances of [own, other])
      expect(Object.values(chances).reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 12);
    expect(own.cured / other.cured).toBeCloseTo(judgements['part-cured'] ** 1.5, 9);
    expect(own['moves-with-part'] / other['moves-with-part']).toBeCloseTo(judgements['part-moves'] ** 1.5, 9);
    expect(own['no-effect'] / other['no-effect']).toBeCloseTo(judgements['part-no-effect'], 9);
  });

  it('is answered alike every time, enters the findings and is marked', async () => {
    const { dealt, part, cause } = await caseWithPart();
    const move = { check: 'part-exchange', part, standstill: true };
    const played = await playMoves(room, dealt, [move]);
    expect(await playMoves(room, dealt, [move])).toEqual(played);
    const result = played.input.partExchange[part];
    expect(result).toBeDefined();
    expect(played.parts).not.toContain(part);
    const before = (await room.weigh(dealt.input)).probability(cause);
    const after = (await room.weigh(played.input)).probability(cause);
    if (result === 'no-effect') expect(after).toBeLessThan(before);
    else expect(after).toBeGreaterThan(before);
    const marking = await markAttempt(room, dealt, { moves: [move, move] });
    expect(marking.checks.map((check) => check.verdict)[1]).toBe('again');
    expect(marking.checks[0]?.label).toContain('(');
    expect(marking.unsafe).toEqual([]);
  });

  it('is refused where no position is better than another', async () => {
    const dealt = await dealCase(room, { level: 1, seed: 3 });
    expect(dealt.input.scope).not.toContain('position');
    await expect(playMoves(room, dealt, [{ check: 'part-exchange', part: 'rotor' }])).rejects.toThrow(
      'not on single positions',
    );
  });
});

describe('a trial', () => {
  it('that changed nothing speaks against what it should have cured, and for the rest', async () => {
    const dealt = await dealCase(room, { level: 2, seed: 3 });
    const before = await room.weigh(dealt.input);
    const [leader] = before.ranking();
    const cause = book.causes.get(leader?.cause ?? '');
    const action = [...(cause?.actions ?? [])].sort((a, b) => b.cures - a.cures)[0];
    if (cause === undefined || action === undefined) throw new Error('the leader has no action');
    const sign = { before: 'marked', after: 'marked' };
    const failed = await room.weigh(withTrial(dealt.input, { actions: [action.do], signs: [sign] }));
    expect(failed.probability(cause.id)).toBeLessThan(before.probability(cause.id));
    const helped = await room.weigh(
      withTrial(dealt.input, { actions: [action.do], signs: [{ ...sign, after: 'absent' }] }),
    );
    expect(helped.probability(cause.id)).toBeGreaterThan(before.probability(cause.id));
    expect(withTrial(dealt.input, { actions: [action.do], signs: [] })).toBe(dealt.input);
  });

  it('weighs by the judged chances of failing and of easing anyway', async () => {
    const cause = [...book.causes.values()].find((one) => one.actions.some((action) => action.cures > 0.6));
    const action = cause?.actions.find((one) => one.cures > 0.6);
    if (cause === undefined || action === undefined) throw new Error('no action cures well');
    const { input } = await dealCase(room, { level: 2, seed: 3 });
    const ratio = (result: TrialResult, judged: typeof judgements) =>
      circumstanceWeights(
        cause,
        {
          ...input,
          scope: [],
          onset: [],
          changed: [],
          partExchange: {},
          tried: [{ actions: [action.do], result }],
        },
        { scope: {}, onset: {} },
        { judgements: judged, book },
      ).map((weight) => weight.ratio);
    expect(ratio('helped', judgements)).toEqual([action.cures / judgements['eases-anyway']]);
    expect(ratio('helped', { ...judgements, 'eases-anyway': 0.3 })).toEqual([action.cures / 0.3]);
    expect(ratio('no-change', { ...judgements, 'fails-anyway': 0.9 })).toEqual([0.9]);
    expect(ratio('undecided', judgements)).toEqual([]);
  });
});
