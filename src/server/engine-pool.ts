import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import type { Language } from '../language/languages.js';
import { language } from '../language/scope.js';
import type { Books } from '../rules/books.js';
import type { CaseInput } from '../rules/case/types.js';
import type { Diagnostician } from '../rules/diagnostician.js';
import type { Diagnosis, Ranking, SetupReport } from '../rules/index.js';
import type { Knowledge } from '../rules/knowledge/knowledge.js';
import { plainKnowledge } from '../rules/knowledge/localise.js';
import type { PlanRequest } from '../rules/plans/make-plans.js';
import type { PlanReport } from '../rules/plans/types.js';
import type { TrainingQuestion, TrainingWork } from '../rules/training/index.js';
import type { Finding } from '../rules/workshop/finding.js';
import type { SensitivityReport } from '../rules/workshop/sensitivity.js';
import type { NextView } from '../templates/models.js';
import type { BenchAnswer, BenchEngine, CauseInCase, PaperResult, PaperTrial } from './bench-engine.js';
import type { TableJudgement, TableQuestion } from './counts/judge-table.js';
import {
  type Lane,
  type Outcome,
  type PoolLoad,
  type SeatReply,
  type SeatStart,
  startSeats,
} from './seats.js';
import { remoteWork, type TrainingReply } from './training/remote-work.js';
import type { AnswerInBrief } from './views/brief-answer.js';
import type { Workshop } from './workshop.js';

export { EngineBusy, EngineFault, EngineTimeout, type PoolLoad } from './seats.js';

/** What a worker is given to start with: the knowledge itself, so that it never depends on what the files say later. */
export interface EngineStart extends SeatStart {
  readonly knowledge: Knowledge;
  readonly knowledgeRoot: string;
  readonly books?: Books | undefined;
  /** Answered before the first question: the first answer of a fresh thread is slow and shall be nobody's. */
  readonly example: CaseInput | undefined;
  readonly warmUpCases: readonly CaseInput[];
}
/** What can be asked of a worker. */
export type EngineRequest =
  | { readonly ask: 'rank' | 'diagnose' | 'report'; readonly input: CaseInput }
  | { readonly ask: 'answer'; readonly input: CaseInput }
  | { readonly ask: 'next' | 'whole'; readonly input: CaseInput; readonly later: readonly string[] }
  | { readonly ask: 'cause'; readonly input: CaseInput; readonly cause: string }
  | { readonly ask: 'paper'; readonly input: CaseInput; readonly trial: PaperTrial }
  | { readonly ask: 'sensitivities'; readonly input: CaseInput; readonly also: readonly string[] }
  | { readonly ask: 'plan'; readonly input: CaseInput; readonly request: PlanRequest }
  | { readonly ask: 'table'; readonly question: TableQuestion }
  | { readonly ask: 'training'; readonly question: TrainingQuestion }
  | { readonly ask: 'lint' };
/** A question in the language that its answer's texts are wanted in. */
export type EngineWish = EngineRequest & { readonly language: Language };
export type EngineQuestion = EngineWish & { readonly id: number };
export type EngineResult =
  | AnswerInBrief
  | NextView
  | BenchAnswer
  | CauseInCase
  | undefined
  | PaperResult
  | Ranking
  | Diagnosis
  | SetupReport
  | SensitivityReport
  | PlanReport
  | TrainingReply
  | TableJudgement
  | readonly Finding[];
/** What a worker answers; `ready` is its first word. */
export type EngineReply = SeatReply<EngineResult>;

/**
 * Three kinds of question. Quick: what a supervisor waits for while ticking. Full: a whole page with checks and actions.
 * Long: what one sits down for. Bulk: as long as what was sent is large.
 */
export type EngineLane = 'quick' | 'full' | 'long' | 'bulk';

const LANE_OF: Readonly<Record<EngineRequest['ask'], EngineLane>> = {
  answer: 'quick',
  rank: 'quick',
  report: 'quick',
  next: 'full',
  whole: 'full',
  cause: 'full',
  paper: 'full',
  diagnose: 'full',
  sensitivities: 'long',
  plan: 'long',
  training: 'long',
  table: 'bulk',
  lint: 'long',
};

export interface EnginePoolOptions {
  /** Loaded in this thread too: pages need its labels, the case reader its vocabulary. */
  readonly diagnostician: Pick<Diagnostician, 'knowledge' | 'vocabulary'>;
  /** Folder of the knowledge base, for the check of its files. */
  readonly knowledgeRoot: string;
  /** Plans and training material; those supplied when left out. */
  readonly books?: Books | undefined;
  /** A case that threads make themselves warm with. */
  readonly example?: CaseInput | undefined;
  /** Cases to work out while nobody waits, so that the first people meet threads at full speed. */
  readonly warmUpCases?: readonly CaseInput[];
  /**
   * Threads for quick and full questions; as many as processors unless said, from 1 to {@link MOST_FRONT}. One
   * more does the long work.
   */
  readonly workers?: number;
  /** Seconds for one quick or full answer; a long one may take {@link LONG_TIMES} as much. */
  readonly timeoutSeconds?: number;
  /** The worker's script, for tests. */
  readonly script?: string;
  /** Told when a question leaves the queue and when it is answered. */
  readonly watch?: PoolWatch;
}

/** What becomes of questions, for who measures. */
export interface PoolWatch {
  /** A question is given to a thread after waiting in the queue. */
  begun(ask: EngineRequest['ask'], waitedSeconds: number): void;
  /** `seconds` since it was asked. */
  ended(ask: EngineRequest['ask'], seconds: number, outcome: Outcome): void;
}

/** A diagnostician that reasons on other threads, so that pages stay quick while a case is worked out. */
export interface EnginePool extends Diagnostician, Workshop {
  /** Resolves when every thread answers without delay. */
  ready(): Promise<void>;
  load(): PoolLoad;
  /** What the pages of the bench ask. */
  readonly bench: BenchEngine;
  /** What the training room works out. */
  readonly training: TrainingWork;
  close(): Promise<void>;
}

const DEFAULT_SCRIPT = fileURLToPath(new URL('./engine-worker.js', import.meta.url));
const MOST_FRONT = 4;
const LONG_TIMES = 3;
/**
 * The main thread goes before those that reason: every page passes through it, for milliseconds. What one sits down for
 * comes last. Judgement.
 */
const FRONT_NICENESS = 3;
const BACK_NICENESS = 10;
/** Sixteen megabytes of breaks on a slow machine. */
const BULK_TIMES = 12;
/** A thread that needs more has met a case or a table that nobody meant. With less it sweeps so often that all wait longer. */
const MOST_MEGABYTES = 1024;

/** Whether the worker's script is there; it is not when the program runs from its TypeScript sources. */
export const canPool = () => existsSync(DEFAULT_SCRIPT);

/**
 * Starts the threads. Long work has a seat of its own and never holds a ranking up; that seat yields to the others, so
 * nothing that somebody waits for is given to it. Too many questions at once are refused as busy rather than kept waiting
 * beyond use.
 */
export function startEnginePool(options: EnginePoolOptions): EnginePool {
  const { timeoutSeconds: seconds = 10, watch } = options;
  const front = Math.max(1, Math.min(options.workers ?? availableParallelism(), MOST_FRONT));
  const lane = (patience: number, most: number, times = 1): Lane => ({
    patience,
    most,
    seconds: seconds * times,
    waitSeconds: 10 * times,
  });
  const start: Omit<EngineStart, keyof SeatStart> = {
    knowledge: plainKnowledge(options.diagnostician.knowledge),
    knowledgeRoot: options.knowledgeRoot,
    books: options.books,
    example: options.example,
    warmUpCases: options.warmUpCases ?? [],
  };
  const seats = startSeats<EngineLane, EngineWish, EngineResult>({
    script: options.script ?? DEFAULT_SCRIPT,
    start,
    lanes: {
      // Rankings come before full answers that have not waited for long. When there is more to do than can be done, only so
      // many are kept waiting: the rest is refused at once rather than held in a queue that never empties. The figures are
      // judgement; with half the patience full answers were no sooner under load, and rankings later.
      quick: lane(0, 100),
      full: lane(200, 80),
      long: lane(4000, 20, LONG_TIMES),
      bulk: lane(5000, 10, BULK_TIMES),
    },
    seats: [
      ...Array.from({ length: front }, () => ({
        takes: ['quick', 'full'] as const,
        niceness: FRONT_NICENESS,
      })),
      { takes: ['long', 'bulk'], niceness: BACK_NICENESS },
    ],
    mostMegabytes: MOST_MEGABYTES,
    watch: watch && {
      begun: (question, waited) => watch.begun(question.ask, waited),
      ended: (question, spent, outcome) => watch.ended(question.ask, spent, outcome),
    },
  });
  const ask = <Result extends EngineResult>(question: EngineRequest): Promise<Result> =>
    seats.ask(
      LANE_OF[question.ask],
      { ...question, language: language() },
      // A thread keeps what it worked out of the last cases and setups: the next question about one goes where the first
      // was.
      'input' in question
        ? { near: [JSON.stringify(question.input), JSON.stringify(question.input.given)] }
        : {},
    ) as Promise<Result>;
  return {
    knowledge: options.diagnostician.knowledge,
    vocabulary: options.diagnostician.vocabulary,
    rank: (input) => ask<Ranking>({ ask: 'rank', input }),
    diagnose: (input) => ask<Diagnosis>({ ask: 'diagnose', input }),
    report: (input) => ask<SetupReport>({ ask: 'report', input }),
    bench: {
      answer: (input) => ask<AnswerInBrief>({ ask: 'answer', input }),
      next: (input, later) => ask<NextView>({ ask: 'next', input, later }),
      whole: (input, later) => ask<BenchAnswer>({ ask: 'whole', input, later }),
      cause: (input, cause) => ask<CauseInCase | undefined>({ ask: 'cause', input, cause }),
      onPaper: (input, trial) => ask<PaperResult>({ ask: 'paper', input, trial }),
    },
    sensitivities: (input, also = []) => ask<SensitivityReport>({ ask: 'sensitivities', input, also }),
    plan: (input, request) => ask<PlanReport>({ ask: 'plan', input, request }),
    judgeTable: (question) => ask<TableJudgement>({ ask: 'table', question }),
    lint: () => ask<readonly Finding[]>({ ask: 'lint' }),
    training: remoteWork((question) => ask<TrainingReply>({ ask: 'training', question })),
    ready: seats.ready,
    load: seats.load,
    close: seats.close,
  };
}
