import type { ActionResult } from '../diagnosis/types.js';
import type { Level, Part } from '../knowledge/vocabulary.js';
import { answerChances, deviationsOf } from './answer-chances.js';
import { TrainingError } from './errors.js';
import { chanceGiven, type HiddenTruth, type OpenGraph, openGraph, withoutCauses } from './hidden-truth.js';
import { answerExchange, PART_EXCHANGE } from './part-exchange.js';
import type { PracticeCase } from './practice-case.js';
import { checkMinutes, type TrainingRoom } from './room.js';
import { drawWeighted, randomFor } from './seeded.js';

/** What a check told, and what it cost. */
export interface CheckAnswer {
  readonly check: string;
  /** The part that was tried in place of another, for that check alone. */
  readonly part?: Part;
  readonly outcome: string;
  /** Minutes it counts for: work, what stood meanwhile, a tenth of the waiting. */
  readonly minutes: number;
}

/** A simulated trial of one or more actions at once. */
export interface ActionOutcome {
  readonly actions: readonly string[];
  /** True causes that it took away. */
  readonly cured: readonly string[];
  /** Signs that were there, with the level at which they show afterwards. */
  readonly signs: readonly { readonly symptom: string; readonly before: Level; readonly after: Level }[];
  /** The frame as it stands afterwards: what helped is kept, what did nothing is taken back. */
  readonly truth: HiddenTruth;
}

/** The causal graph of a dealt frame, without what its setup takes out. */
export async function graphOf(room: TrainingRoom, dealt: PracticeCase): Promise<OpenGraph> {
  const { prepared } = await room.weigh(dealt.input);
  return openGraph(room.reasoner.graph, prepared.cutLinks);
}

/**
 * The answer to every check that can be predicted, check → outcome. All come from the one hidden sample, each drawn
 * from P(answer | causes and mechanisms at work) with a stream of its own, so that they fit together and do not
 * depend on the order in which they are asked for.
 */
export async function drawAnswers(
  room: TrainingRoom,
  dealt: PracticeCase,
): Promise<ReadonlyMap<string, string>> {
  const { reasoner } = room;
  const { prepared } = await room.weigh(dealt.input);
  const open = openGraph(reasoner.graph, prepared.cutLinks);
  const on = new Set([...dealt.truth.causes, ...dealt.truth.mechanisms]);
  const answers = new Map<string, string>();
  for (const check of reasoner.knowledge.book.checks.values()) {
    if (prepared.holds.has(`check:${check.id}`)) continue;
    const fixed = dealt.fixedAnswers?.[check.id];
    if (fixed !== undefined) {
      answers.set(check.id, fixed);
      continue;
    }
    const chances = answerChances(check, deviationsOf(check, reasoner.graph), (outcome) =>
      chanceGiven(open, `${check.id}:${outcome}`, on),
    );
    const drawn = drawWeighted(randomFor('answer', dealt.code, check.id), [...chances]);
    if (drawn !== undefined) answers.set(check.id, drawn);
  }
  return answers;
}

/**
 * Makes one check on the dealt frame.
 * @param part which part is tried in place of another, for `part-exchange`
 * @throws TrainingError when there is no such check, or it makes no sense on this frame
 */
export async function answerCheck(
  room: TrainingRoom,
  dealt: PracticeCase,
  check: string,
  part?: Part,
): Promise<CheckAnswer> {
  const entry = room.reasoner.knowledge.book.checks.get(check);
  if (entry === undefined) throw new TrainingError(`there is no check "${check}"`);
  const minutes = checkMinutes(entry, room.reasoner.knowledge.judgements);
  if (check === PART_EXCHANGE && part !== undefined)
    return { check, part, outcome: answerExchange(room, dealt, dealt.truth, part), minutes };
  const outcome = (await drawAnswers(room, dealt)).get(check);
  if (outcome === undefined)
    throw new TrainingError(`the check "${check}" makes no sense on this frame, or cannot be practised`);
  return { check, outcome, minutes };
}

/**
 * Tries actions on the dealt frame, several at once if the trainee does so. Each true cause that an action is for is
 * removed with the chance the product states for it; signs go when nothing is left that brings them about.
 *
 * @param truth the frame as it stands: the dealt truth, or what an earlier trial left
 */
export async function tryActions(
  room: TrainingRoom,
  dealt: PracticeCase,
  truth: HiddenTruth,
  actions: readonly Pick<ActionResult, 'id' | 'causes'>[],
): Promise<ActionOutcome> {
  const { book } = room.reasoner.knowledge;
  const open = await graphOf(room, dealt);
  const cured = truth.causes.filter((cause) =>
    actions.some((action) => {
      const cures =
        action.causes.find((one) => one.id === cause)?.cures ??
        book.causes.get(cause)?.actions.find((one) => one.do === action.id)?.cures ??
        0;
      return randomFor('cure', dealt.code, action.id, cause)() < cures;
    }),
  );
  const after = withoutCauses(open, truth, new Set(cured), dealt.code);
  return {
    actions: actions.map((action) => action.id),
    cured,
    signs: Object.entries(truth.signs)
      .filter(([, level]) => level !== 'absent')
      .map(([symptom, before]) => ({ symptom, before, after: after.signs[symptom] ?? 'absent' })),
    truth: after,
  };
}
