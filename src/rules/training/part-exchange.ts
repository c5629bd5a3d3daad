import { expectedSearchMinutes } from '../diagnosis/search-minutes.js';
import type { Judgements } from '../knowledge/judgement-schema.js';
import { PART_RESULTS, PARTS, type Part, type PartResult } from '../knowledge/vocabulary.js';
import { TrainingError } from './errors.js';
import type { HiddenTruth } from './hidden-truth.js';
import type { PracticeCase } from './practice-case.js';
import type { Standing, TrainingRoom } from './room.js';
import { drawWeighted, randomFor } from './seeded.js';

/** The check that needs a part to be named. */
export const PART_EXCHANGE = 'part-exchange';

/** Chances of the results of an exchange, when the fault sits in the part that was exchanged and when it does not. */
export interface ExchangeChances {
  readonly own: Readonly<Record<PartResult, number>>;
  readonly other: Readonly<Record<PartResult, number>>;
}

/**
 * Chances that agree with the weights by which the product itself reads a result: for each result the two stand in
 * the ratio in which a diagnosis weighs the part's own causes against all others. Where the fault sits elsewhere, a
 * chance cure and a fault that seems to move are taken to be as frequent as one another. Standing: judgement.
 */
export function exchangeChances(judgements: Judgements): ExchangeChances {
  // An own cause gains the weight, every other loses its root: together the ratio between them.
  const cured = judgements['part-cured'] ** 1.5;
  const moves = judgements['part-moves'] ** 1.5;
  const none = judgements['part-no-effect'];
  const chance = (1 - none) / (cured + moves - 2 * none);
  const nothing = 1 - 2 * chance;
  return {
    own: { cured: cured * chance, 'moves-with-part': moves * chance, 'no-effect': none * nothing },
    other: { cured: chance, 'moves-with-part': chance, 'no-effect': nothing },
  };
}

/** Parts that can be exchanged with a good position's: none where the frame has no good position next to a bad one. */
export const exchangeableParts = (dealt: Pick<PracticeCase, 'input'>): readonly Part[] =>
  dealt.input.scope.includes('position') ? PARTS : [];

/**
 * What comes of exchanging one part. The result depends on the hidden truth and the part alone.
 * @throws TrainingError when the exchange makes no sense on this frame
 */
export function answerExchange(
  room: TrainingRoom,
  dealt: PracticeCase,
  truth: HiddenTruth,
  part: Part,
): PartResult {
  if (!exchangeableParts(dealt).includes(part))
    throw new TrainingError(
      `a part cannot be tried in place of another here: the trouble is not on single positions`,
    );
  const fixed = PART_RESULTS.find((one) => one === dealt.fixedAnswers?.[`${PART_EXCHANGE}.${part}`]);
  if (fixed !== undefined) return fixed;
  const { book, judgements } = room.reasoner.knowledge;
  const own = truth.causes.some((cause) => book.causes.get(cause)?.part === part);
  const chances = exchangeChances(judgements)[own ? 'own' : 'other'];
  const drawn = drawWeighted(
    randomFor('exchange', dealt.code, part),
    PART_RESULTS.map((result) => [result, chances[result]] as const),
  );
  return drawn ?? 'no-effect';
}

/** Minutes of search that exchanging a part is expected to save from a state. */
export async function promisedByExchange(
  room: TrainingRoom,
  standing: Standing,
  part: Part,
): Promise<number> {
  const { book, judgements } = room.reasoner.knowledge;
  const causes = [...book.causes.values()];
  const none = causes
    .filter((cause) => cause.part === part)
    .reduce((product, cause) => product * (1 - standing.probability(cause.id)), 1);
  const { own, other } = exchangeChances(judgements);
  let after = 0;
  for (const result of PART_RESULTS) {
    const chance = (1 - none) * own[result] + none * other[result];
    const then = await room.weigh(withExchange(standing.input, part, result));
    after +=
      chance *
      expectedSearchMinutes(
        causes.map((cause) => then.probability(cause.id)),
        causes.map((cause) => cause['trace-minutes']),
        judgements['search-hand-over'],
      );
  }
  return standing.searchMinutes - after;
}

/** A case with the result of one more exchange. */
export const withExchange = (
  input: Standing['input'],
  part: Part,
  result: PartResult,
): Standing['input'] => ({ ...input, partExchange: { ...input.partExchange, [part]: result } });
