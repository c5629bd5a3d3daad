import { existsSync } from 'node:fs';
import {
  ensureMillZone,
  findStanding,
  isEmptyJournal,
  type Journal,
  JournalError,
  type JournalFault,
  openJournal,
  readMarks,
  wordsOf,
} from '../../journal/index.js';
import { say } from '../../language/say.js';

/** How the journal stands at a moment. */
export type JournalState =
  | { readonly kind: 'open'; readonly journal: Journal; readonly demo: boolean }
  /** The invented mill is being written into an empty journal. */
  | { readonly kind: 'filling'; readonly progress: FillProgress; readonly journal: Journal }
  /** It cannot be opened: why, and what to do, in the language of the moment. */
  | { readonly kind: 'closed'; readonly fault: JournalFault; readonly why: () => string }
  /** The program was started without one. */
  | { readonly kind: 'none' };

export interface FillProgress {
  /** 0–1. */
  readonly share: number;
  readonly words: string;
}

/** Looks after the one journal of a server: opens it, fills it when it is to hold the demo, tries again when it failed. */
export interface JournalKeeper {
  state(): Promise<JournalState>;
  /** How it stood last, without waiting for anything. */
  peek(): JournalState;
  close(): Promise<void>;
}

/** Fills the empty journal at a place with the invented mill. */
export type FillDemo = (
  place: JournalPlace,
  journal: Journal,
  tell: (progress: FillProgress) => void,
) => { readonly done: Promise<void>; stop(): Promise<void> };

export interface JournalPlace {
  readonly folder?: string | undefined;
  readonly url?: string | undefined;
}

/** No journal at all. */
export const noJournal: JournalKeeper = {
  state: async () => ({ kind: 'none' }),
  peek: () => ({ kind: 'none' }),
  close: async () => {},
};

/** A journal that is open already; closing it stays with whoever opened it. */
export const openedJournal = (journal: Journal, demo = false): JournalKeeper => ({
  state: async () => ({ kind: 'open', journal, demo }),
  peek: () => ({ kind: 'open', journal, demo }),
  close: async () => {},
});

/** After a failure the next try waits this long. */
const RETRY_MS = 5000;
/** A journal whose file is gone is closed after this time. */
const LET_GO_MS = 2000;

/**
 * Keeps the journal at a place. It is opened by `start`, in the background, or when somebody asks; a failure is kept and
 * tried again later, so that the other pages never wait for it.
 *
 * @param fill fills an empty journal; left out: it stays empty
 * @param log told when opening or filling failed
 */
export function keepJournal(
  place: JournalPlace,
  options: {
    readonly fill?: FillDemo;
    /** Told once when the journal has been opened, before anything is filled in. */
    readonly opened?: (journal: Journal) => Promise<void>;
    readonly log?: (line: string) => void;
    /** The time zone of a journal that has none yet; left out: the server's own. */
    readonly timeZone?: string;
    /** Least time between two tries to open it; 5000 unless said otherwise. */
    readonly retryMs?: number;
  } = {},
): JournalKeeper & { start(): void } {
  const { fill, log = console.error, timeZone, retryMs = RETRY_MS } = options;
  let journal: Journal | undefined;
  let demo = false;
  let filling: { progress: FillProgress; stop(): Promise<void> } | undefined;
  let failure: { readonly at: number; readonly state: JournalState } | undefined;
  let opening: Promise<void> | undefined;
  let closed = false;
  /** The file that was open last. */
  let seen: string | undefined;

  const fail = (error: unknown): void => {
    const state: JournalState = {
      kind: 'closed',
      fault: error instanceof JournalError ? error.fault : 'unreachable',
      why: () => wordsOf(error),
    };
    failure = { at: performance.now(), state };
    log(`journal: ${sayError(error)}`);
  };

  /** Lets go of a journal whose file was taken away or exchanged, so that nothing is written where nobody finds it. */
  const followFile = (): void => {
    if (journal === undefined || filling !== undefined) return;
    const standing = findStanding(journal);
    if (standing === 'same') return;
    const old = journal;
    journal = undefined;
    // Those under way finish on the old file first.
    setTimeout(() => void old.close().catch(() => undefined), LET_GO_MS).unref();
    if (standing === 'replaced') log(`journal: another file lies at ${old.place}; it is opened`);
    else fail(new JournalError('missing', () => say('away.removed', { place: old.place })));
  };
  /** Once it was there, an empty one must not silently take its place. */
  const isGone = (): boolean =>
    failure?.state.kind === 'closed' &&
    failure.state.fault === 'missing' &&
    seen !== undefined &&
    !existsSync(seen);

  const startFilling = (opened: Journal, with_: FillDemo): void => {
    const state = { progress: { share: 0, words: 'starting' } as FillProgress };
    const work = with_(place, opened, (progress) => {
      state.progress = progress;
    });
    filling = Object.assign(state, { stop: () => work.stop() });
    work.done
      .then(async () => {
        demo = (await readMarks(opened)).demo !== null;
      })
      .catch((error: unknown) => {
        // The journal itself is sound, only empty; it can be worked with.
        if (!closed) log(`journal: the demonstration mill was not written: ${sayError(error)}`);
      })
      .finally(() => {
        filling = undefined;
      });
  };

  const open = async (): Promise<void> => {
    try {
      const opened = await openJournal(place);
      if (closed) {
        await opened.close();
        return;
      }
      // A journal on a disk that cannot be written is still read, by the server's own zone.
      await ensureMillZone(opened, timeZone).catch((error: unknown) =>
        log(`journal: the time zone of the mill was not set: ${sayError(error)}`),
      );
      demo = (await readMarks(opened)).demo !== null;
      if (opened.copyBefore !== undefined)
        log(`journal: brought up to date; as it was before, it is kept in ${opened.copyBefore}`);
      await options.opened?.(opened);
      journal = opened;
      seen = opened.engine === 'sqlite' ? opened.place : undefined;
      failure = undefined;
      if (fill !== undefined && !demo && (await isEmptyJournal(opened))) startFilling(opened, fill);
    } catch (error) {
      fail(error);
    } finally {
      opening = undefined;
    }
  };
  const peek = (): JournalState => {
    if (filling !== undefined && journal !== undefined)
      return { kind: 'filling', progress: filling.progress, journal };
    if (journal !== undefined) return { kind: 'open', journal, demo };
    return failure?.state ?? { kind: 'none' };
  };

  return {
    start() {
      if (journal === undefined) opening ??= open();
    },
    async state() {
      if (!closed) followFile();
      if (journal === undefined && !closed && !isGone()) {
        if (opening === undefined && (failure === undefined || performance.now() - failure.at >= retryMs))
          opening = open();
        await opening;
      }
      return peek();
    },
    peek,
    async close() {
      closed = true;
      await opening;
      await filling?.stop();
      await journal?.close();
      journal = undefined;
    },
  };
}

const sayError = (error: unknown) => (error instanceof Error ? error.message : String(error));
