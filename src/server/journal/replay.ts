import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { type Journal, openJournal, type Replay, replayClosedCases } from '../../journal/index.js';
import { readCaseObject } from '../../rules/case/case-file.js';
import { createDiagnostician } from '../../rules/diagnosis/diagnose.js';
import type { Diagnostician } from '../../rules/diagnostician.js';
import { withBaseRates } from '../../rules/knowledge/base-rates.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import type { JournalPlace } from './keeper.js';

/** Two comparisons on the same closed cases. */
export interface Replays {
  readonly at: string;
  /** What was said when the cases were opened, against today's knowledge with the expert's rates. */
  readonly knowledge: Replay;
  /** Today's knowledge with the expert's rates, against the same with the learned ones. */
  readonly rates: Replay;
}

/** What the thread is told, and what it answers. */
export interface ReplayOrder {
  readonly place: JournalPlace;
  readonly knowledge: Knowledge;
  readonly rates: readonly (readonly [string, number])[];
}
export type ReplayReply =
  | { readonly done: number }
  | { readonly replays: Replays }
  | { readonly fault: string };

/** Most closed cases replayed, newest first. */
const MOST_CASES = 300;
const SCRIPT = fileURLToPath(new URL('./replay-worker.js', import.meta.url));

/** Ranks kept case files; one that this knowledge cannot read gives nothing. */
export const rankWith =
  (diagnostician: Diagnostician, ranked: () => void = () => {}) =>
  async (file: Readonly<Record<string, unknown>>) => {
    ranked();
    const reading = readCaseObject(file, diagnostician.vocabulary, { partial: true });
    return reading.ok ? diagnostician.rank(reading.case) : undefined;
  };

/**
 * Runs the closed, confirmed cases through the expert's and the learned rates.
 * @param tell called with the number of rankings made so far
 */
export async function replayBoth(
  journal: Journal,
  knowledge: Knowledge,
  rates: ReadonlyMap<string, number>,
  tell: (done: number) => void,
): Promise<Replays> {
  let done = 0;
  const ranked = () => tell(++done);
  const expert = rankWith(createDiagnostician(knowledge), ranked);
  const learned = rankWith(createDiagnostician(withBaseRates(knowledge, rates)), ranked);
  // The expert's ranking of a case is needed twice and made once.
  const kept = new Map<string, ReturnType<typeof expert>>();
  const once = (file: Readonly<Record<string, unknown>>) => {
    const key = JSON.stringify(file);
    const known = kept.get(key);
    if (known !== undefined) return known;
    const answer = expert(file).then((ranking) =>
      ranking === undefined
        ? undefined
        : {
            knowledgeVersion: ranking.knowledgeVersion,
            causes: ranking.causes.map(({ id, probability }) => ({ id, probability })),
          },
    );
    kept.set(key, answer as ReturnType<typeof expert>);
    return answer as ReturnType<typeof expert>;
  };
  return {
    at: new Date().toISOString(),
    knowledge: await replayClosedCases(journal, once, { most: MOST_CASES }),
    rates: await replayClosedCases(journal, learned, { against: once, most: MOST_CASES }),
  };
}

/** Runs {@link replayBoth} on a thread of its own, or, from the TypeScript sources, on this one. */
export function startReplay(
  order: ReplayOrder,
  journal: Journal,
  tell: (done: number) => void,
): { readonly done: Promise<Replays>; stop(): Promise<void> } {
  if (!existsSync(SCRIPT))
    return {
      done: replayBoth(journal, order.knowledge, new Map(order.rates), tell),
      stop: async () => {},
    };
  const worker = new Worker(SCRIPT, { workerData: order });
  const done = new Promise<Replays>((resolve, reject) => {
    worker.on('message', (reply: ReplayReply) => {
      if ('fault' in reply) reject(new Error(reply.fault));
      else if ('done' in reply) tell(reply.done);
      else resolve(reply.replays);
    });
    worker.on('error', reject);
    worker.on('exit', () => reject(new Error('the thread that replays cases was stopped')));
  });
  return {
    done,
    stop: async () => {
      done.catch(() => {});
      await worker.terminate();
    },
  };
}

/** For the thread: opens the journal by its place. */
export const openFor = (place: JournalPlace): Promise<Journal> => openJournal(place);
