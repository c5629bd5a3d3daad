import {
  type By,
  countTriedCases,
  findKnowledgeVersion,
  type HowUsed,
  holdKnowledgeVersion,
  isEmptyJournal,
  type Journal,
  JournalError,
  type KeptReplay,
  keepReplay,
  knowledgeInUse,
  listReplays,
  seeKnowledgeVersion,
  useKnowledgeVersion,
  whyHeld,
} from '../../journal/index.js';
import { say } from '../../language/say.js';
import { KnowledgeError } from '../../rules/knowledge/errors.js';
import type { LiveApp } from '../live-app.js';
import { type LoadedBase, loadBase } from '../loaded-base.js';
import type { JournalKeeper, JournalPlace } from './keeper.js';
import { startProof, toleranceOf } from './prove.js';

/** What stands between a changed knowledge base and its use. */
export type GateState =
  | { readonly kind: 'none' }
  /** It is being tried on the closed cases. */
  | { readonly kind: 'trying'; readonly version: string; readonly done: number; readonly of: number }
  /** It does worse, or could not be tried; somebody must look. */
  | {
      readonly kind: 'held';
      readonly version: string;
      readonly reasons: readonly string[];
      /** Number of the replay with the figures; undefined when it could not be tried. */
      readonly replay: number | undefined;
    };

/** The page's side of the gate. */
export interface KnowledgeGate {
  state(): GateState;
  /** How the version in use came into use; undefined as long as no journal could say. */
  how(): HowUsed | undefined;
  /**
   * Takes a version that is held back into use on somebody's word.
   * @throws JournalError `refused` when it is not the one held back now
   */
  accept(journal: Journal, version: string, by: By, note: string): Promise<void>;
  /** Tries a version that is held back once more. */
  tryAgain(): void;
}

/** A gate for an app whose knowledge stays as it is. */
export const openGate: KnowledgeGate = {
  state: () => ({ kind: 'none' }),
  how: () => undefined,
  accept: async (_, version) => {
    throw notHeld(version);
  },
  tryAgain: () => {},
};

const notHeld = (version: string) => new JournalError('refused', say('refused.not-held-here', { version }));

/** How often the journal is looked at: for a start that could not be settled, and for a word given elsewhere. */
const LOOK_MS = 2000;
/** Whoever accepts a version waits this long for it at most. */
const PATIENCE_MS = 8000;

/**
 * Looks after the passage of knowledge versions into use, on one server. Every version that rests on other rules than
 * the one in use is first tried on the closed cases of the journal. One that is no worse than the judgements let pass
 * is taken over; another one is held back until somebody accepts it or the files are mended. What was seen, how it did
 * and who accepted it stays in the journal, and so do the texts of the version in use: a server that starts on changed
 * files goes on with that one until the new one has passed.
 * @param prove runs the trial; by default on a thread of its own
 */
export function keepGate(
  keeper: JournalKeeper,
  place: JournalPlace | undefined,
  live: () => LiveApp,
  log: (line: string) => void,
  prove: typeof startProof = startProof,
): KnowledgeGate & {
  admit(next: LoadedBase, current: LoadedBase, givenUp: AbortSignal): Promise<boolean>;
  inUse(base: LoadedBase): void;
  /** Settles with the journal what is in use; resolves when that is done or the journal is not open. */
  begin(): Promise<void>;
  close(): Promise<void>;
} {
  let state: GateState = { kind: 'none' };
  let how: HowUsed | undefined;
  /** How the next version comes into use, once admitted. */
  let next: HowUsed = 'unproved';
  let settled = false;
  let settling: Promise<void> | undefined;
  let closed = false;
  let tellInUse: (() => void) | undefined;
  let decide: ((word: 'accepted' | 'again') => void) | undefined;
  /** A use that the journal does not know of yet. */
  let unrecorded: { readonly base: LoadedBase; readonly how: HowUsed } | undefined;

  const openJournal = (): Journal | undefined => {
    const at = keeper.peek();
    return at.kind === 'open' ? at.journal : undefined;
  };

  const record = async (journal: Journal): Promise<void> => {
    const use = unrecorded;
    if (use === undefined || (await isEmptyJournal(journal))) return;
    const { version, reasoning } = use.base.knowledge;
    await seeKnowledgeVersion(journal, { id: version, reasoning, texts: use.base.texts });
    if ((await knowledgeInUse(journal))?.id !== version) await useKnowledgeVersion(journal, version, use.how);
    if (unrecorded === use) unrecorded = undefined;
  };

  /** Compares what was read at the start with what the journal says was in use. */
  const settle = async (journal: Journal): Promise<void> => {
    const base = live().base();
    const { version, reasoning } = base.knowledge;
    const before = await knowledgeInUse(journal);
    const use = async (way: HowUsed) => {
      how = way;
      unrecorded = { base, how: way };
      settled = true;
      await record(journal);
    };
    if (before === undefined) return use('first');
    if (before.id === version) {
      how = before.how ?? undefined;
      settled = true;
      return;
    }
    if (before.reasoning === reasoning) return use('same-reasoning');
    if ((await countTriedCases(journal)) === 0) return use('no-cases');
    const old = readAgain(before.texts);
    if (old === undefined) {
      log(
        `knowledge base ${version} is in use UNPROVED: version ${before.id}, which was in use before, cannot be read any more, so there is nothing to hold it against`,
      );
      return use('unproved');
    }
    if (old.knowledge.reasoning === reasoning) return use('same-reasoning');
    log(
      `knowledge base ${version} differs from ${before.id}, which was in use before; that one stays in use until the new one has been tried on the closed cases`,
    );
    settled = true;
    next = before.how ?? 'unproved';
    await live().goBack(old);
  };

  const look = async (): Promise<void> => {
    const journal = openJournal();
    if (closed || journal === undefined) return;
    if (!settled) {
      settling ??= settle(journal).finally(() => {
        settling = undefined;
      });
      await settling;
    }
    if (unrecorded !== undefined) await record(journal);
    // Another server on the same journal may have been given the word.
    if (state.kind === 'held' && (await findKnowledgeVersion(journal, state.version))?.how === 'accepted') {
      const current = await knowledgeInUse(journal);
      if (state.kind === 'held' && current?.id === state.version) decide?.('accepted');
    }
  };
  const timer = setInterval(
    () => void look().catch((error: unknown) => log(`knowledge: ${sayError(error)}`)),
    LOOK_MS,
  );
  timer.unref();

  const hold = (
    version: string,
    reasons: readonly string[],
    replay: number | undefined,
    off: AbortSignal,
  ) => {
    state = { kind: 'held', version, reasons, replay };
    return new Promise<'accepted' | 'again' | 'off'>((resolve) => {
      decide = resolve;
      off.addEventListener('abort', () => resolve('off'), { once: true });
      if (off.aborted) resolve('off');
    }).finally(() => {
      decide = undefined;
      state = { kind: 'none' };
    });
  };

  /** @returns the last replay of a version against another, kept or made now; undefined when it was called off */
  const replayOf = async (
    journal: Journal,
    candidate: LoadedBase,
    current: LoadedBase,
    off: AbortSignal,
    anew: boolean,
  ): Promise<Pick<KeptReplay, 'number' | 'heldBecause'> | undefined> => {
    const { version } = candidate.knowledge;
    const against = current.knowledge.version;
    const kept = (await listReplays(journal, { version, most: 1 }))[0];
    const row = await findKnowledgeVersion(journal, version);
    // One that was held back before the server was stopped need not be tried again.
    if (!anew && row?.state === 'held' && kept?.against === against && kept.heldBecause.length > 0)
      return kept;
    state = { kind: 'trying', version, done: 0, of: 0 };
    const proof = prove(
      { place: place ?? {}, before: current.knowledge, after: candidate.knowledge },
      journal,
      (done, of) => {
        if (state.kind === 'trying' && state.version === version) state = { ...state, done, of };
      },
    );
    let stop = () => {};
    const calledOff = new Promise<undefined>((resolve) => {
      stop = () => {
        void proof.stop();
        resolve(undefined);
      };
    });
    off.addEventListener('abort', stop, { once: true });
    if (off.aborted) stop();
    try {
      const replay = await Promise.race([proof.done, calledOff]);
      if (replay === undefined || off.aborted || closed) return undefined;
      const heldBecause = whyHeld(replay, toleranceOf(current.knowledge));
      return { number: await keepReplay(journal, replay, { version, against, heldBecause }), heldBecause };
    } catch (error) {
      if (off.aborted || closed) return undefined;
      throw error;
    } finally {
      off.removeEventListener('abort', stop);
      if (state.kind === 'trying' && state.version === version) state = { kind: 'none' };
    }
  };

  return {
    state: () => state,
    how: () => how,
    async admit(candidate, current, off) {
      const { version, reasoning } = candidate.knowledge;
      if (version === current.knowledge.version) {
        next = how ?? 'first';
        return true;
      }
      next = 'unproved';
      const at = await keeper.state();
      if (at.kind !== 'open') {
        if (at.kind !== 'none')
          log(`knowledge base ${version} is taken over untried: the journal is not open`);
        return true;
      }
      const { journal } = at;
      if (reasoning === current.knowledge.reasoning) {
        next = 'same-reasoning';
        return true;
      }
      for (let anew = false; !off.aborted; anew = true) {
        let replay: Awaited<ReturnType<typeof replayOf>>;
        let reasons: readonly string[];
        try {
          if ((await countTriedCases(journal)) === 0) {
            next = 'no-cases';
            return true;
          }
          await seeKnowledgeVersion(journal, { id: version, reasoning, texts: candidate.texts });
          replay = await replayOf(journal, candidate, current, off, anew);
          if (replay === undefined) return false;
          reasons = replay.heldBecause;
        } catch (error) {
          reasons = [`it could not be tried on the closed cases: ${sayError(error)}`];
        }
        if (reasons.length === 0) {
          next = 'proved';
          return true;
        }
        await holdKnowledgeVersion(journal, version, reasons).catch((error: unknown) =>
          log(`knowledge: ${sayError(error)}`),
        );
        log(
          `knowledge base ${version} is held back: ${reasons.join('; ')}. ${current.knowledge.version} stays in use`,
        );
        const word = await hold(version, reasons, replay?.number, off);
        if (word === 'off') return false;
        if (word === 'accepted') {
          next = 'accepted';
          return true;
        }
      }
      return false;
    },
    inUse(base) {
      how = next;
      tellInUse?.();
      // What was accepted stands in the journal already, and so does what was gone back to.
      if (!settled || next === 'accepted') return;
      unrecorded = { base, how: next };
      void look().catch((error: unknown) => log(`knowledge: ${sayError(error)}`));
    },
    async begin() {
      await keeper.state();
      await look();
    },
    async accept(journal, version, by, note) {
      if (state.kind !== 'held' || state.version !== version) throw notHeld(version);
      await useKnowledgeVersion(journal, version, 'accepted', by, note);
      const inUse = new Promise<void>((resolve) => {
        tellInUse = resolve;
      });
      decide?.('accepted');
      // So that the page that is shown next stands on it already; a slow start of its threads is not waited for.
      await Promise.race([inUse, new Promise((resolve) => setTimeout(resolve, PATIENCE_MS).unref())]);
    },
    tryAgain() {
      decide?.('again');
    },
    async close() {
      closed = true;
      clearInterval(timer);
      await settling?.catch(() => {});
    },
  };
}

/** The base of kept texts; undefined when they are kept no longer or today's program cannot read them. */
function readAgain(texts: ReadonlyMap<string, string> | undefined): LoadedBase | undefined {
  if (texts === undefined) return undefined;
  try {
    return loadBase(texts);
  } catch (error) {
    if (!(error instanceof KnowledgeError)) throw error;
    return undefined;
  }
}

const sayError = (error: unknown) => (error instanceof Error ? error.message : String(error));
