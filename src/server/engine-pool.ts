import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
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
import { remoteWork, type TrainingReply } from './training/remote-work.js';
import type { Workshop } from './workshop.js';

/** What a worker is given to start with: the knowledge itself, so that it never depends on what the files say later. */
export interface EngineStart {
  readonly knowledge: Knowledge;
  readonly knowledgeRoot: string;
  readonly books?: Books | undefined;
}
/** What can be asked of a worker. */
export type EngineRequest =
  | { readonly ask: 'rank' | 'diagnose' | 'report'; readonly input: CaseInput }
  | { readonly ask: 'sensitivities'; readonly input: CaseInput; readonly also: readonly string[] }
  | { readonly ask: 'plan'; readonly input: CaseInput; readonly request: PlanRequest }
  | { readonly ask: 'training'; readonly question: TrainingQuestion }
  | { readonly ask: 'lint' };
export type EngineQuestion = EngineRequest & {
  readonly id: number;
  /** Language of the texts in the answer. */
  readonly language: Language;
};
export type EngineResult =
  | Ranking
  | Diagnosis
  | SetupReport
  | SensitivityReport
  | PlanReport
  | TrainingReply
  | readonly Finding[];
/** What a worker answers; `ready` is its first word. */
export type EngineReply =
  | { readonly ready: true }
  | { readonly id: number; readonly result: EngineResult }
  | { readonly id: number; readonly fault: string };

/** Questions that let others go before them. */
const SLOW: readonly EngineRequest['ask'][] = ['diagnose', 'sensitivities', 'plan', 'training', 'lint'];

/** An answer did not come in time. */
export class EngineTimeout extends Error {
  constructor(seconds: number) {
    super(`the case was not worked out within ${seconds} s`);
    this.name = 'EngineTimeout';
  }
}

/** The reasoning failed, or its worker died. */
export class EngineFault extends Error {
  constructor(message: string, options?: ErrorOptions) {
    super(message, options);
    this.name = 'EngineFault';
  }
}

export interface EnginePoolOptions {
  /** Loaded in this thread too: pages need its labels, the case reader its vocabulary. */
  readonly diagnostician: Pick<Diagnostician, 'knowledge' | 'vocabulary'>;
  /** Folder of the knowledge base, for the check of its files. */
  readonly knowledgeRoot: string;
  /** Plans and training material; those supplied when left out. */
  readonly books?: Books | undefined;
  /** Threads; never more than the processors less one, never less than one. */
  readonly workers?: number;
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
  ended(ask: EngineRequest['ask'], seconds: number, outcome: 'done' | 'fault' | 'timeout'): void;
}

/** How busy the threads are. */
export interface PoolLoad {
  /** Questions in the queue. */
  readonly waiting: number;
  /** Threads that work on a question. */
  readonly busy: number;
  readonly threads: number;
  /** Threads that have said that they are ready. */
  readonly ready: number;
}

/** A diagnostician that reasons on other threads, so that pages stay quick while a case is worked out. */
export interface EnginePool extends Diagnostician, Workshop {
  load(): PoolLoad;
  /** What the training room works out. */
  readonly training: TrainingWork;
  close(): Promise<void>;
}

interface Job {
  readonly question: EngineQuestion;
  resolve(result: EngineResult): void;
  reject(error: Error): void;
  timer: NodeJS.Timeout;
  /** When it was asked, ms of the steady clock. */
  readonly since: number;
}

interface Seat {
  worker: Worker;
  ready: boolean;
  job: Job | undefined;
}

const DEFAULT_SCRIPT = fileURLToPath(new URL('./engine-worker.js', import.meta.url));
/** A worker that dies this often in a row before it says it is ready has no future. */
const MOST_STARTS = 3;

/** Whether the worker's script is there; it is not when the program runs from its TypeScript sources. */
export const canPool = () => existsSync(DEFAULT_SCRIPT);

/**
 * Starts the threads. Quick questions go before slow ones. A question whose answer takes too long is refused and its
 * worker replaced, since a computation cannot be interrupted; so is a worker that died.
 */
export function startEnginePool(options: EnginePoolOptions): EnginePool {
  const seconds = options.timeoutSeconds ?? 10;
  const size = Math.max(1, Math.min(options.workers ?? 1, availableParallelism() - 1));
  const script = options.script ?? DEFAULT_SCRIPT;
  const start: EngineStart = {
    knowledge: plainKnowledge(options.diagnostician.knowledge),
    knowledgeRoot: options.knowledgeRoot,
    books: options.books,
  };
  const waiting: Job[] = [];
  const seats = new Set<Seat>();
  let failures = 0;
  let nextId = 1;
  let closed = false;

  const tell = (job: Job, outcome: 'done' | 'fault' | 'timeout'): void =>
    options.watch?.ended(job.question.ask, (performance.now() - job.since) / 1000, outcome);

  const hire = (): void => {
    const worker = new Worker(script, { workerData: start });
    const seat: Seat = { worker, ready: false, job: undefined };
    seats.add(seat);
    worker.on('message', (reply: EngineReply) => {
      if ('ready' in reply) {
        failures = 0;
        seat.ready = true;
        return;
      }
      const job = seat.job;
      if (job === undefined || job.question.id !== reply.id) return;
      seat.job = undefined;
      clearTimeout(job.timer);
      if ('fault' in reply) job.reject(new EngineFault(reply.fault));
      else {
        tell(job, 'done');
        job.resolve(reply.result);
      }
      assign();
    });
    worker.on('error', (error) => leave(seat, new EngineFault('the reasoning stopped', { cause: error })));
    worker.on('exit', () => leave(seat, new EngineFault('the reasoning stopped')));
  };

  const leave = (seat: Seat, error: Error): void => {
    if (!seats.delete(seat)) return;
    const { job } = seat;
    if (job !== undefined) {
      clearTimeout(job.timer);
      job.reject(error);
    }
    if (closed) return;
    failures++;
    if (failures < MOST_STARTS) hire();
    else if (seats.size === 0) for (const one of waiting.splice(0)) one.reject(error);
    assign();
  };

  const assign = (): void => {
    for (const seat of seats) {
      if (seat.job !== undefined) continue;
      const quick = waiting.findIndex((job) => !SLOW.includes(job.question.ask));
      const [job] = waiting.splice(Math.max(0, quick), 1);
      if (job === undefined) return;
      seat.job = job;
      options.watch?.begun(job.question.ask, (performance.now() - job.since) / 1000);
      seat.worker.postMessage(job.question);
    }
  };

  const ask = <Result>(question: EngineRequest): Promise<Result> =>
    new Promise<Result>((resolve, reject) => {
      if (closed) {
        reject(new EngineFault('the server is stopping'));
        return;
      }
      // After a row of deaths a new question is a reason to try again.
      if (seats.size === 0) {
        failures = 0;
        hire();
      }
      const job: Job = {
        question: { ...question, id: nextId++, language: language() },
        resolve: (result) => resolve(result as Result),
        since: performance.now(),
        reject: (error) => {
          tell(job, error instanceof EngineTimeout ? 'timeout' : 'fault');
          reject(error);
        },
        timer: setTimeout(() => {
          const at = waiting.indexOf(job);
          if (at >= 0) {
            waiting.splice(at, 1);
            job.reject(new EngineTimeout(seconds));
            return;
          }
          for (const seat of seats)
            if (seat.job === job) {
              leave(seat, new EngineTimeout(seconds));
              void seat.worker.terminate();
            }
        }, seconds * 1000),
      };
      waiting.push(job);
      assign();
    });

  for (let i = 0; i < size; i++) hire();
  return {
    knowledge: options.diagnostician.knowledge,
    vocabulary: options.diagnostician.vocabulary,
    rank: (input) => ask<Ranking>({ ask: 'rank', input }),
    diagnose: (input) => ask<Diagnosis>({ ask: 'diagnose', input }),
    report: (input) => ask<SetupReport>({ ask: 'report', input }),
    sensitivities: (input, also = []) => ask<SensitivityReport>({ ask: 'sensitivities', input, also }),
    plan: (input, request) => ask<PlanReport>({ ask: 'plan', input, request }),
    lint: () => ask<readonly Finding[]>({ ask: 'lint' }),
    load: () => ({
      waiting: waiting.length,
      busy: [...seats].filter((seat) => seat.job !== undefined).length,
      threads: seats.size,
      ready: [...seats].filter((seat) => seat.ready).length,
    }),
    training: remoteWork((question) => ask<TrainingReply>({ ask: 'training', question })),
    async close() {
      closed = true;
      for (const job of waiting.splice(0)) {
        clearTimeout(job.timer);
        job.reject(new EngineFault('the server is stopping'));
      }
      await Promise.all([...seats].map((seat) => seat.worker.terminate()));
    },
  };
}
