import {
  countCases,
  type ExpertCause,
  type Journal,
  type LearnedRate,
  learnBaseRates,
  readSetting,
} from '../../journal/index.js';
import { withBaseRates } from '../../rules/knowledge/base-rates.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import type { JournalKeeper, JournalPlace } from './keeper.js';
import { type Replays, startReplay } from './replay.js';

/** How the replay on closed cases stands. */
export type ReplayState =
  | { readonly kind: 'none' }
  | { readonly kind: 'running'; readonly done: number; readonly of: number }
  | { readonly kind: 'done'; readonly replays: Replays; readonly version: string }
  | { readonly kind: 'failed'; readonly why: string };

/** Learned base rates: whether they are used, since when, and how they do on closed cases. */
export interface Learning {
  /** The knowledge as the files have it, with the expert's rates. */
  readonly expert: Knowledge;
  /** When the rates in use were learned; undefined while the expert's are used. */
  readonly since: string | undefined;
  /** Learns anew and goes over to what the setting says; answers change from the next request on. */
  follow(journal: Journal): Promise<void>;
  replay(): ReplayState;
  /** Starts the replay unless one is running. */
  startReplay(journal: Journal): Promise<void>;
}

/** What the expert says, as the journal's learning asks for it. */
export const expertCauses = (knowledge: Knowledge): ExpertCause[] =>
  [...knowledge.book.causes.values()].map((cause) => ({
    id: cause.id,
    family: cause.family,
    base: cause.prior.base,
    checks: cause.checks,
  }));

/** The rates that this mill's closed cases have taught, beside the expert's. */
export const learnRates = (journal: Journal, expert: Knowledge): Promise<LearnedRate[]> =>
  learnBaseRates(journal, expertCauses(expert));

/** Looks after the learned rates of a server, across the editions of its knowledge. */
export interface LearningKeeper {
  /** What one edition of the app works with: the knowledge to reason from, and the page's side of it. */
  edition(files: Knowledge): { readonly knowledge: Knowledge; readonly learning: Learning };
  /** Begins to look what the journal says; before that the journal is left alone. */
  begin(): void;
  close(): Promise<void>;
}

const LOOK_AGAIN_MS = 5 * 60_000;
const FIRST_LOOK_MS = 1500;

/**
 * @param renew opens the app anew on the same files, so that changed rates come into use
 */
export function keepLearning(
  keeper: JournalKeeper,
  place: JournalPlace | undefined,
  renew: () => Promise<void>,
  log: (line: string) => void,
): LearningKeeper {
  let rates: ReadonlyMap<string, number> | undefined;
  let since: string | undefined;
  let setAt: string | undefined;
  let files: Knowledge | undefined;
  let state: ReplayState = { kind: 'none' };
  let job: { stop(): Promise<void> } | undefined;
  let closed = false;

  /** Other processes on the same journal may have turned the switch. */
  const look = async (): Promise<void> => {
    if (closed || files === undefined) return;
    const at = await keeper.state();
    if (at.kind !== 'open') return;
    const setting = await readSetting(at.journal, 'use-learned-rates');
    if (setting?.changedAt !== setAt) await follow(at.journal);
  };
  const follow = async (journal: Journal): Promise<void> => {
    const expert = files;
    if (expert === undefined) return;
    const setting = await readSetting(journal, 'use-learned-rates');
    setAt = setting?.changedAt;
    const before = rates;
    if (setting?.value === true) {
      const learned = await learnRates(journal, expert);
      rates = new Map(learned.filter((one) => one.cases > 0).map((one) => [one.causeId, one.learned]));
      since = new Date().toISOString();
    } else {
      rates = undefined;
      since = undefined;
    }
    if (before !== undefined || rates !== undefined) await renew();
  };

  const lookOut = () => void look().catch((error: unknown) => log(`learning: ${say(error)}`));
  let timer: NodeJS.Timeout | undefined;
  let first: NodeJS.Timeout | undefined;

  return {
    begin() {
      timer = setInterval(lookOut, LOOK_AGAIN_MS);
      timer.unref();
      first = setTimeout(lookOut, FIRST_LOOK_MS);
      first.unref();
    },
    edition(read) {
      files = read;
      const learning: Learning = {
        expert: read,
        get since() {
          return since;
        },
        follow,
        replay: () => (state.kind === 'done' && state.version !== read.version ? { kind: 'none' } : state),
        async startReplay(journal) {
          if (state.kind === 'running') return;
          const learned = await learnRates(journal, read);
          const cases = await countCases(journal, { outcome: 'confirmed' });
          state = { kind: 'running', done: 0, of: Math.max(1, 2 * cases) };
          const started = startReplay(
            {
              place: place ?? {},
              knowledge: read,
              rates: learned.filter((one) => one.cases > 0).map((one) => [one.causeId, one.learned]),
            },
            journal,
            (done) => {
              if (state.kind === 'running') state = { ...state, done, of: Math.max(state.of, done) };
            },
          );
          job = started;
          started.done
            .then((replays) => {
              state = { kind: 'done', replays, version: read.version };
              if (replays.knowledge.verdict === 'worse')
                log(
                  'replay: on the closed cases, today’s knowledge does worse than what was said when they were opened',
                );
            })
            .catch((error: unknown) => {
              state = { kind: 'failed', why: say(error) };
            })
            .finally(() => {
              job = undefined;
            });
        },
      };
      return { knowledge: rates === undefined ? read : withBaseRates(read, rates), learning };
    },
    async close() {
      closed = true;
      clearInterval(timer);
      clearTimeout(first);
      await job?.stop();
    },
  };
}

const say = (error: unknown) => (error instanceof Error ? error.message : String(error));

/** Learning for an app that was given no keeper: it shows what could be learned and cannot change what is used. */
export function stillLearning(expert: Knowledge): Learning {
  let state: ReplayState = { kind: 'none' };
  return {
    expert,
    since: undefined,
    follow: async () => {},
    replay: () => state,
    async startReplay(journal) {
      const learned = await learnRates(journal, expert);
      state = { kind: 'running', done: 0, of: 1 };
      const { done } = startReplay(
        {
          place: {},
          knowledge: expert,
          rates: learned.filter((one) => one.cases > 0).map((one) => [one.causeId, one.learned]),
        },
        journal,
        () => {},
      );
      try {
        state = { kind: 'done', replays: await done, version: expert.version };
      } catch (error) {
        state = { kind: 'failed', why: say(error) };
      }
    },
  };
}
