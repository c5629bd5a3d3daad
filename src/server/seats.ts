import { setTimeout as later } from 'node:timers';
import { Worker } from 'node:worker_threads';
import { keepRecent } from '../rules/keep-recent.js';

/** An answer did not come in time. */
export class EngineTimeout extends Error {
  constructor(seconds: number) {
    super(`the case was not worked out within ${seconds} s`);
    this.name = 'EngineTimeout';
  }
}

/** The work failed, or its thread died. */
export class EngineFault extends Error {
  constructor(message: string, options?: ErrorOptions) {
    super(message, options);
    this.name = 'EngineFault';
  }
}

/** Too many questions wait already, or this one waited too long: nothing was begun, so asking again does no harm. */
export class EngineBusy extends Error {
  /** @param retrySeconds when to ask again, whole seconds from 1 */
  constructor(readonly retrySeconds: number) {
    super(`too many questions are waiting; ask again in ${retrySeconds} s`);
    this.name = 'EngineBusy';
  }
}

/** A kind of work, by how long people wait for it. */
export interface Lane {
  /**
   * Milliseconds this kind may be let wait for others: of all that waits, what is due first is begun first, so that a
   * short question passes a long one, and no question waits for ever.
   */
  readonly patience: number;
  /** Most questions waiting; one more is refused as busy. */
  readonly most: number;
  /** Seconds for the work itself; then its thread is replaced. */
  readonly seconds: number;
  /** Seconds for waiting; then it is refused as busy. */
  readonly waitSeconds: number;
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

/** How a question ended; `busy`: it was refused before anything was begun. */
export type Outcome = 'done' | 'fault' | 'timeout' | 'busy';

/** What becomes of questions, for who measures. */
export interface SeatsWatch<Question> {
  /** A question is given to a thread after waiting in the queue. */
  begun(question: Question, waitedSeconds: number): void;
  /** `seconds` since it was asked. */
  ended(question: Question, seconds: number, outcome: Outcome): void;
}

/** Threads that answer questions, each seat taking the lanes it was told to. */
export interface Seats<LaneName extends string, Question, Result> {
  ask(lane: LaneName, question: Question, how?: AskOptions): Promise<Result>;
  /** Resolves when every thread has begun to take questions, rejects when they cannot start. */
  ready(): Promise<void>;
  load(): PoolLoad;
  close(): Promise<void>;
}

export interface AskOptions {
  readonly transfer?: readonly ArrayBuffer[];
  /**
   * Names of what the question is about, the narrowest first. Questions that share one are best answered by the same
   * thread, which has kept something from the last one; a narrower name goes before a wider one.
   */
  readonly near?: readonly string[];
}

/** What a thread says: `ready` is its first word. */
export type SeatReply<Result> =
  | { readonly ready: true }
  | { readonly id: number; readonly result: Result }
  | { readonly id: number; readonly fault: string };

/** What one thread is for. */
export interface SeatPlace<LaneName extends string> {
  readonly takes: readonly LaneName[];
  /** How far it lets other threads go first when there are more of them than processors: 0, not at all, to 19. */
  readonly niceness?: number;
}

/** What every thread is told besides what the caller wants it to know. */
export interface SeatStart<LaneName extends string = string> extends SeatPlace<LaneName> {
  readonly niceness: number;
}

export interface SeatsOptions<LaneName extends string, Question> {
  /** The threads' script. */
  readonly script: string;
  /** Told to every thread as its `workerData`, with {@link SeatStart}. */
  readonly start: object;
  readonly lanes: Readonly<Record<LaneName, Lane>>;
  /** One thread for each entry. */
  readonly seats: readonly SeatPlace<LaneName>[];
  /** Memory that a thread may take before it is stopped as failed, MB; the less, the sooner it sweeps. */
  readonly mostMegabytes?: number;
  readonly watch?: SeatsWatch<Question> | undefined;
}

interface Job<LaneName, Question, Result> {
  readonly id: number;
  readonly lane: LaneName;
  readonly question: Question;
  readonly transfer: readonly ArrayBuffer[];
  readonly near: readonly string[];
  readonly asked: number;
  /** When it should be begun, on the clock of `performance.now()`. */
  readonly due: number;
  begun: number;
  timer: NodeJS.Timeout;
  resolve(result: Result): void;
  reject(error: Error): void;
}

interface Seat<LaneName extends string, Question, Result> {
  readonly worker: Worker;
  readonly place: SeatPlace<LaneName>;
  /** It has said its first word. */
  ready: boolean;
  job: Job<LaneName, Question, Result> | undefined;
}

/** A worker that dies this often in a row before it says it is ready has no future. */
const MOST_STARTS = 3;
/** How long a question waits for the thread that knows its case, ms: about what that saves. */
const NEAR_PATIENCE_MS = 40;
/** Names of which it is known who answered last: cases under way and the setups of a mill's frames. */
const HOMES_KEPT = 1000;
/** Room for what is dropped at once, MB: an answer leaves tens of megabytes behind, and small rooms are swept often. */
const YOUNG_MEGABYTES = 192;
const STOPPING = 'the server is stopping';

/**
 * Starts the threads. A question whose answer takes too long is refused and its thread replaced, since a computation
 * cannot be interrupted; so is a thread that died.
 */
export function startSeats<LaneName extends string, Question, Result>(
  options: SeatsOptions<LaneName, Question>,
): Seats<LaneName, Question, Result> {
  type OwnJob = Job<LaneName, Question, Result>;
  type OwnSeat = Seat<LaneName, Question, Result>;
  const { lanes, watch } = options;
  const waiting: OwnJob[] = [];
  /** Who answered last, by name. */
  const homes = keepRecent<string, OwnSeat>(HOMES_KEPT);
  let nearTimer: NodeJS.Timeout | undefined;
  const expecting: { resolve(): void; reject(error: Error): void }[] = [];
  const seats = new Set<OwnSeat>();
  /** Answers given, and milliseconds worked on them. */
  const done = new Map<LaneName, { answers: number; worked: number }>();
  let failures = 0;
  let nextId = 1;
  let closed = false;

  const tell = (job: OwnJob, outcome: Outcome): void =>
    watch?.ended(job.question, (performance.now() - job.asked) / 1000, outcome);

  const hire = (place: SeatPlace<LaneName>): void => {
    const worker = new Worker(options.script, {
      workerData: { ...options.start, takes: place.takes, niceness: place.niceness ?? 0 },
      ...(options.mostMegabytes === undefined
        ? {}
        : {
            resourceLimits: {
              maxOldGenerationSizeMb: options.mostMegabytes,
              maxYoungGenerationSizeMb: YOUNG_MEGABYTES,
            },
          }),
    });
    const seat: OwnSeat = { worker, place, ready: false, job: undefined };
    seats.add(seat);
    worker.on('message', (reply: SeatReply<Result>) => {
      if ('ready' in reply) {
        failures = 0;
        seat.ready = true;
        if ([...seats].every((one) => one.ready)) for (const one of expecting.splice(0)) one.resolve();
        assign();
        return;
      }
      const { job } = seat;
      if (job === undefined || job.id !== reply.id) return;
      seat.job = undefined;
      clearTimeout(job.timer);
      if ('fault' in reply) job.reject(new EngineFault(reply.fault));
      else {
        const { answers, worked } = done.get(job.lane) ?? { answers: 0, worked: 0 };
        done.set(job.lane, { answers: answers + 1, worked: worked + performance.now() - job.begun });
        job.resolve(reply.result);
      }
      assign();
    });
    worker.on('error', (error) => leave(seat, new EngineFault('the reasoning stopped', { cause: error })));
    worker.on('exit', () => leave(seat, new EngineFault('the reasoning stopped')));
  };

  const leave = (seat: OwnSeat, error: Error): void => {
    if (!seats.delete(seat)) return;
    const { job } = seat;
    if (job !== undefined) {
      clearTimeout(job.timer);
      job.reject(error);
    }
    if (closed) return;
    failures++;
    if (failures < MOST_STARTS * options.seats.length) hire(seat.place);
    else if (seats.size === 0) {
      for (const one of expecting.splice(0)) one.reject(error);
      for (const one of waiting.splice(0)) {
        clearTimeout(one.timer);
        one.reject(error);
      }
    }
    assign();
  };

  const assign = (): void => {
    for (const seat of seats) {
      if (!seat.ready || seat.job !== undefined) continue;
      let next: OwnJob | undefined;
      for (const job of waiting)
        if (
          seat.place.takes.includes(job.lane) &&
          (next === undefined || job.due < next.due) &&
          !waitsForOther(job, seat)
        )
          next = job;
      if (next === undefined) continue;
      waiting.splice(waiting.indexOf(next), 1);
      begin(seat, next);
    }
  };

  /** Whether a question is better left to the thread that has kept something for it, for a moment. */
  const waitsForOther = (job: OwnJob, seat: OwnSeat): boolean => {
    const named = job.near.find((name) => homes.has(name));
    const home = named === undefined ? undefined : homes.get(named);
    if (home === undefined || home === seat || !seats.has(home) || !home.place.takes.includes(job.lane))
      return false;
    const left = job.asked + NEAR_PATIENCE_MS - performance.now();
    if (left <= 0) return false;
    // Nobody else may become free meanwhile: looked at again when the moment is over.
    nearTimer ??= later(() => {
      nearTimer = undefined;
      assign();
    }, left + 1);
    return true;
  };

  const begin = (seat: OwnSeat, job: OwnJob): void => {
    for (const name of job.near) homes.set(name, seat);
    clearTimeout(job.timer);
    const { seconds } = lanes[job.lane];
    job.begun = performance.now();
    watch?.begun(job.question, (job.begun - job.asked) / 1000);
    job.timer = later(() => {
      leave(seat, new EngineTimeout(seconds));
      void seat.worker.terminate();
    }, seconds * 1000);
    seat.job = job;
    seat.worker.postMessage({ ...job.question, id: job.id }, [...job.transfer]);
  };

  /** When a thread should be free again, going by what such questions have taken so far. */
  const retrySeconds = (lane: LaneName): number => {
    const { answers, worked } = done.get(lane) ?? { answers: 0, worked: 0 };
    const each = answers === 0 ? 1000 : worked / answers;
    const ahead = waiting.filter((job) => job.lane === lane).length;
    const able = options.seats.filter((seat) => seat.takes.includes(lane)).length;
    return Math.min(60, Math.max(1, Math.ceil((ahead * each) / Math.max(1, able) / 1000)));
  };

  for (const place of options.seats) hire(place);
  return {
    ask: (lane, question, { transfer = [], near = [] } = {}) =>
      new Promise<Result>((resolve, reject) => {
        if (closed) {
          reject(new EngineFault(STOPPING));
          return;
        }
        const { patience, most, waitSeconds } = lanes[lane];
        if (waiting.filter((job) => job.lane === lane).length >= most) {
          watch?.ended(question, 0, 'busy');
          reject(new EngineBusy(retrySeconds(lane)));
          return;
        }
        // After a row of deaths a new question is a reason to try again.
        if (seats.size === 0) {
          failures = 0;
          for (const place of options.seats) hire(place);
        }
        const now = performance.now();
        const job: OwnJob = {
          id: nextId++,
          lane,
          question,
          transfer,
          near,
          asked: now,
          due: now + patience,
          begun: now,
          resolve: (result) => {
            tell(job, 'done');
            resolve(result);
          },
          reject: (error) => {
            tell(
              job,
              error instanceof EngineTimeout ? 'timeout' : error instanceof EngineBusy ? 'busy' : 'fault',
            );
            reject(error);
          },
          timer: later(() => {
            const at = waiting.indexOf(job);
            if (at >= 0) waiting.splice(at, 1);
            job.reject(new EngineBusy(retrySeconds(lane)));
          }, waitSeconds * 1000),
        };
        waiting.push(job);
        assign();
      }),
    ready: () =>
      new Promise<void>((resolve, reject) => {
        if (closed) reject(new EngineFault(STOPPING));
        else if (seats.size > 0 && [...seats].every((one) => one.ready)) resolve();
        else expecting.push({ resolve, reject });
      }),
    load: () => ({
      waiting: waiting.length,
      busy: [...seats].filter((seat) => seat.job !== undefined).length,
      threads: seats.size,
      ready: [...seats].filter((seat) => seat.ready).length,
    }),
    async close() {
      closed = true;
      clearTimeout(nearTimer);
      for (const one of expecting.splice(0)) one.reject(new EngineFault(STOPPING));
      for (const job of waiting.splice(0)) {
        clearTimeout(job.timer);
        job.reject(new EngineFault(STOPPING));
      }
      await Promise.all([...seats].map((seat) => seat.worker.terminate()));
    },
  };
}
