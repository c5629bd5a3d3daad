import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { buildDemoMill, type Journal } from '../../journal/index.js';
import { createDiagnostician } from '../../rules/diagnosis/diagnose.js';
import { loadKnowledge } from '../../rules/knowledge/load-knowledge.js';
import { loadMill } from '../../rules/knowledge/load-mill.js';
import { demoEngine } from './demo-engine.js';
import type { FillDemo, FillProgress } from './keeper.js';

/** What the worker is told, and what it tells. */
export interface DemoOrder {
  readonly folder?: string | undefined;
  readonly url?: string | undefined;
  readonly knowledgeRoot: string;
}
export type DemoReply = { readonly progress: FillProgress } | { readonly fault: string };

/** Diagnoses asked for; the rest of the cases go without, as in a mill that took the program up during the year. */
export const DEMO_RANKINGS = 120;
/** Share of the work that the diagnoses are; writing is the rest. */
const RANKING_SHARE = 0.8;

const SCRIPT = fileURLToPath(new URL('./demo-worker.js', import.meta.url));

/** How far the work is after so many diagnoses. */
export const progressAfter = (asked: number): FillProgress =>
  asked >= DEMO_RANKINGS
    ? { share: RANKING_SHARE, words: 'writing a year of cases, setups and counts' }
    : {
        share: (RANKING_SHARE * asked) / DEMO_RANKINGS,
        words: `diagnosing case ${asked} of ${DEMO_RANKINGS}`,
      };

/**
 * Fills a journal with the invented mill on a thread of its own, so that pages stay quick; from the TypeScript sources,
 * where there is no script for a thread, on this one.
 */
export function fillDemo(knowledgeRoot: string): FillDemo {
  return (place, journal, tell) =>
    existsSync(SCRIPT) ? inWorker({ ...place, knowledgeRoot }, tell) : here(journal, knowledgeRoot, tell);
}

function inWorker(order: DemoOrder, tell: (progress: FillProgress) => void): ReturnType<FillDemo> {
  const worker = new Worker(SCRIPT, { workerData: order });
  const done = new Promise<void>((resolve, reject) => {
    worker.on('message', (reply: DemoReply) => {
      if ('fault' in reply) reject(new Error(reply.fault));
      else tell(reply.progress);
    });
    worker.on('error', reject);
    worker.on('exit', (code) =>
      code === 0 ? resolve() : reject(new Error('the thread that writes it was stopped')),
    );
  });
  return {
    done,
    stop: async () => {
      await worker.terminate();
      await done.catch(() => {});
    },
  };
}

function here(
  journal: Journal,
  knowledgeRoot: string,
  tell: (progress: FillProgress) => void,
): ReturnType<FillDemo> {
  const diagnostician = createDiagnostician(loadKnowledge(knowledgeRoot));
  const mill = loadMill(knowledgeRoot, diagnostician.vocabulary);
  let asked = 0;
  let stopped = false;
  const engine = demoEngine(diagnostician, mill, () => {
    if (stopped) throw new Error('the server is stopping');
    tell(progressAfter(++asked));
  });
  const done = buildDemoMill(journal, engine, { rankings: DEMO_RANKINGS }).then(() => {});
  return {
    done,
    stop: async () => {
      stopped = true;
      await done.catch(() => {});
    },
  };
}
