import type { JournalFault } from '../../journal/index.js';
import { JournalError, pingJournal } from '../../journal/index.js';
import type { PoolLoad } from '../engine-pool.js';
import type { JournalKeeper } from '../journal/keeper.js';
import type { KnowledgeState } from '../knowledge-state.js';

/** How the parts of a running server stand; words for programs, without any place, name or address in them. */
export interface Readiness {
  /** Whether requests should be sent here. */
  readonly ready: boolean;
  readonly stopping: boolean;
  /** `none`: started without one, which is no fault. */
  readonly journal: 'open' | 'none' | 'filling' | 'slow' | JournalFault;
  readonly engine: 'ready' | 'starting' | 'stopped';
  /** `older`: the files cannot be used, the version before them is. The server answers as ever. */
  readonly knowledge: 'good' | 'older';
}

export interface ReadinessParts {
  readonly journal: JournalKeeper;
  readonly knowledgeState: () => KnowledgeState;
  /** How busy the threads are; undefined where the reasoning is done on the main thread. */
  readonly engine?: (() => PoolLoad) | undefined;
  readonly stopping: () => boolean;
}

/** A journal that does not answer within this time is called slow. */
const PATIENCE_MS = 2000;
/** Anyone may ask; the journal is asked once in this time however often that is. */
const FRESH_MS = 1000;

/** Tells how the server stands; asks the journal at most once a second. */
export function watchReadiness(parts: ReadinessParts): () => Promise<Readiness> {
  let asked: { readonly at: number; readonly answer: Promise<Readiness['journal']> } | undefined;
  let started = false;
  const journal = (): Promise<Readiness['journal']> => {
    if (asked === undefined || performance.now() - asked.at >= FRESH_MS)
      asked = { at: performance.now(), answer: askJournal(parts.journal) };
    return asked.answer;
  };
  const engine = (): Readiness['engine'] => {
    const load = parts.engine?.();
    if (load === undefined || load.ready > 0) started = true;
    else if (load.threads === 0) return 'stopped';
    // A thread that is being replaced after a time-out is no reason to send the work elsewhere.
    return started ? 'ready' : 'starting';
  };
  return async () => {
    const now = {
      stopping: parts.stopping(),
      journal: await journal(),
      engine: engine(),
      knowledge: parts.knowledgeState().problems.length === 0 ? ('good' as const) : ('older' as const),
    };
    return {
      ready: !now.stopping && ['open', 'none'].includes(now.journal) && now.engine === 'ready',
      ...now,
    };
  };
}

async function askJournal(keeper: JournalKeeper): Promise<Readiness['journal']> {
  let timer: NodeJS.Timeout | undefined;
  const slow = new Promise<'slow'>((resolve) => {
    timer = setTimeout(() => resolve('slow'), PATIENCE_MS);
  });
  const ask = async (): Promise<Readiness['journal']> => {
    const state = await keeper.state();
    if (state.kind === 'closed') return state.fault;
    if (state.kind !== 'open') return state.kind;
    await pingJournal(state.journal);
    return 'open';
  };
  try {
    return await Promise.race([ask(), slow]);
  } catch (error) {
    return error instanceof JournalError ? error.fault : 'unreachable';
  } finally {
    clearTimeout(timer);
  }
}
