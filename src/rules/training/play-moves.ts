import type { CaseInput } from '../case/types.js';
import type { Level, Part } from '../knowledge/vocabulary.js';
import { answerCheck, tryActions } from './answer.js';
import type { Extent, Move } from './attempt.js';
import { exchangeableParts } from './part-exchange.js';
import { canAsk } from './policy.js';
import type { PracticeCase } from './practice-case.js';
import { type TrainingRoom, withAnswer, withTrial } from './room.js';

/** One move with what the trainee is told of it. */
export type PlayedMove =
  | {
      readonly kind: 'check';
      readonly check: string;
      readonly part?: Part;
      readonly outcome: string;
      readonly minutes: number;
      readonly standstill: boolean;
    }
  | { readonly kind: 'propose'; readonly propose: Readonly<Record<string, number>> }
  | {
      readonly kind: 'act';
      readonly actions: readonly string[];
      readonly on: Extent;
      readonly signs: readonly { readonly symptom: string; readonly before: Level; readonly after: Level }[];
    };

/** A case under way as the trainee may see it: nothing here tells of the hidden truth but what was asked for. */
export interface PlayedCase {
  readonly moves: readonly PlayedMove[];
  /** What is known now. */
  readonly input: CaseInput;
  /** Minutes of checks so far. */
  readonly spent: number;
  /** Ids of the checks that can still be asked for. */
  readonly open: readonly string[];
  /** Parts that can still be tried in place of another. */
  readonly parts: readonly Part[];
}

/** Makes moves on a dealt frame, in order. */
export async function playMoves(
  room: TrainingRoom,
  dealt: PracticeCase,
  moves: readonly Move[],
): Promise<PlayedCase> {
  const { book } = room.reasoner.knowledge;
  const played: PlayedMove[] = [];
  let input = dealt.input;
  let truth = dealt.truth;
  let spent = 0;
  for (const move of moves) {
    if ('check' in move) {
      const answer = await answerCheck(room, dealt, move.check, move.part);
      spent += answer.minutes;
      input = withAnswer(input, answer);
      played.push({ kind: 'check', ...answer, standstill: move.standstill === true });
    } else if ('propose' in move) played.push({ kind: 'propose', propose: move.propose });
    else {
      const diagnosis = await room.diagnose(input);
      const outcome = await tryActions(
        room,
        dealt,
        truth,
        move.act.map((id) => ({
          id,
          causes: diagnosis.actions.find((action) => action.id === id)?.causes ?? [],
        })),
      );
      truth = outcome.truth;
      input = withTrial(input, outcome);
      played.push({
        kind: 'act',
        actions: move.act,
        on: move.on ?? 'trial',
        signs: outcome.signs,
      });
    }
  }
  const standing = await room.weigh(input);
  return {
    moves: played,
    input,
    spent,
    open: [...book.checks.values()].filter((check) => canAsk(room, standing, check)).map((check) => check.id),
    parts: exchangeableParts(dealt).filter((part) => input.partExchange[part] === undefined),
  };
}
