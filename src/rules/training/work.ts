import type { CaseInput } from '../case/types.js';
import type { PreparedCase } from '../diagnosis/prepare.js';
import type { Attempt, Move } from './attempt.js';
import { dealCase } from './deal.js';
import { type Marking, markAttempt } from './marking.js';
import { type PlayedCase, playMoves } from './play-moves.js';
import type { PracticeCase } from './practice-case.js';
import type { PracticeNumber } from './practice-code.js';
import { type ItemKey, type ReplayStep, replayCase } from './replay.js';
import type { TrainingRoom } from './room.js';
import { type TellingCheck, tellApart } from './tell-apart.js';
import { checkAnswerKey, type KeyVerdict, openTrainerCase, type TrainerCase } from './trainer-case.js';
import { type WhyNot, whyNot } from './why-not.js';

/** The position of a case as it is drawn: its completed setup and the model's central state. */
export interface DrawnState {
  readonly setup: PreparedCase['resolved']['uncertain']['central'];
  readonly state: PreparedCase['simulation']['central'];
}

/**
 * What the training room works out. Each of these weighs many states of a case and takes its time; questions and
 * answers are plain data, so that they can be put to another thread. What cannot be used is refused with a
 * TrainingError.
 */
export interface TrainingWork {
  deal(number: PracticeNumber): Promise<PracticeCase>;
  openOwn(own: TrainerCase, code: string): Promise<PracticeCase>;
  play(dealt: PracticeCase, moves: readonly Move[]): Promise<PlayedCase>;
  mark(dealt: PracticeCase, attempt: Attempt): Promise<Marking>;
  /** What checks gave on a dealt frame, the answers of its own entered as findings. */
  known(dealt: PracticeCase, moves: readonly Move[]): Promise<CaseInput>;
  replay(input: CaseInput, order: readonly ItemKey[]): Promise<readonly ReplayStep[]>;
  whyNot(input: CaseInput, cause: string): Promise<WhyNot>;
  checkKey(own: TrainerCase): Promise<KeyVerdict>;
  position(input: CaseInput): Promise<DrawnState>;
  tellApart(one: string, other: string): Promise<TellingCheck | undefined>;
}

/** A question of the training room as it travels to another thread. */
export interface TrainingQuestion {
  readonly work: keyof TrainingWork;
  readonly given: readonly unknown[];
}

/** The training room's work, on this thread. */
export function workIn(room: TrainingRoom): TrainingWork {
  return {
    deal: (number) => dealCase(room, number),
    openOwn: (own, code) => openTrainerCase(room, own, code),
    play: (dealt, moves) => playMoves(room, dealt, moves),
    mark: (dealt, attempt) => markAttempt(room, dealt, attempt),
    known: async (dealt, moves) => (await playMoves(room, dealt, moves)).input,
    replay: (input, order) => replayCase(room, input, order),
    whyNot: (input, cause) => whyNot(room, input, cause),
    checkKey: (own) => checkAnswerKey(room, own),
    async position(input) {
      const { prepared } = await room.weigh(input);
      return { setup: prepared.resolved.uncertain.central, state: prepared.simulation.central };
    },
    tellApart: async (one, other) => tellApart(room, one, other),
  };
}
