import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import {
  type Journal,
  readSetting,
  replayVersions,
  type Tolerance,
  type VersionReplay,
} from '../../journal/index.js';
import { createDiagnostician } from '../../rules/diagnosis/diagnose.js';
import { withBaseRates } from '../../rules/knowledge/base-rates.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import type { JournalPlace } from './keeper.js';
import { learnRates } from './learning.js';
import { rankWith } from './replay.js';

/** What the thread is told, and what it answers. */
export interface ProofOrder {
  readonly place: JournalPlace;
  readonly before: Knowledge;
  readonly after: Knowledge;
}
export type ProofReply =
  | { readonly done: number; readonly of: number }
  | { readonly replay: VersionReplay }
  | { readonly fault: string };

/** What the version in use lets pass in the one that is to follow it; a version cannot loosen its own measure. */
export const toleranceOf = ({ judgements }: Knowledge): Tolerance => ({
  logScore: judgements['replay-log-score'],
  firstThree: judgements['replay-first-three'],
});

/**
 * Runs closed cases through two versions of the knowledge, each as it would be used: with the rates this mill's cases
 * teach, where the mill has turned them on.
 */
export async function proveVersion(
  journal: Journal,
  before: Knowledge,
  after: Knowledge,
  tell: (done: number, of: number) => void | Promise<void> = () => {},
): Promise<VersionReplay> {
  const useLearned = (await readSetting(journal, 'use-learned-rates'))?.value === true;
  const asUsed = async (knowledge: Knowledge) =>
    useLearned
      ? withBaseRates(
          knowledge,
          new Map(
            (await learnRates(journal, knowledge))
              .filter((one) => one.cases > 0)
              .map((one) => [one.causeId, one.learned]),
          ),
        )
      : knowledge;
  return replayVersions(
    journal,
    rankWith(createDiagnostician(await asUsed(before))),
    rankWith(createDiagnostician(await asUsed(after))),
    {
      newest: before.judgements['replay-newest'],
      random: before.judgements['replay-random'],
      // Another draw for each version, so that none can be fitted to the cases it will be tried on.
      seed: Number.parseInt(after.reasoning.slice(0, 7), 16),
    },
    tell,
  );
}

const SCRIPT = fileURLToPath(new URL('./prove-worker.js', import.meta.url));

/** Runs {@link proveVersion} on a thread of its own, or, from the TypeScript sources, on this one. */
export function startProof(
  order: ProofOrder,
  journal: Journal,
  tell: (done: number, of: number) => void,
): { readonly done: Promise<VersionReplay>; stop(): Promise<void> } {
  if (!existsSync(SCRIPT)) return proveHere(order, journal, tell);
  const worker = new Worker(SCRIPT, { workerData: order });
  const done = new Promise<VersionReplay>((resolve, reject) => {
    worker.on('message', (reply: ProofReply) => {
      if ('fault' in reply) reject(new Error(reply.fault));
      else if ('done' in reply) tell(reply.done, reply.of);
      else resolve(reply.replay);
    });
    worker.on('error', reject);
    worker.on('exit', () => reject(new Error('the thread that tries it on closed cases was stopped')));
  });
  return {
    done,
    stop: async () => {
      done.catch(() => {});
      await worker.terminate();
    },
  };
}

function proveHere(
  { before, after }: ProofOrder,
  journal: Journal,
  tell: (done: number, of: number) => void,
): ReturnType<typeof startProof> {
  let stopped = false;
  const done = proveVersion(journal, before, after, async (count, of) => {
    // Whoever else waits for this thread gets a turn.
    await new Promise((resolve) => setImmediate(resolve));
    if (stopped) throw new Error('it was called off');
    tell(count, of);
  });
  return {
    done,
    stop: async () => {
      stopped = true;
      await done.catch(() => {});
    },
  };
}
