import type { Hono } from 'hono';
import type { KnowledgeProblem } from '../rules/knowledge/errors.js';
import { watchFolder } from '../rules/knowledge/watch.js';
import type { KnowledgeState } from './knowledge-state.js';
import { type LoadedBase, loadBase } from './loaded-base.js';

/** The app on one version of the knowledge base. */
export interface Edition {
  readonly app: Hono;
  /** The version it answers from, with the mark of learned rates where they are in use. */
  readonly version: string;
  /** Resolves when answers come without delay. */
  warm(): Promise<void>;
  /** Ends its threads. */
  close(): Promise<void>;
}

export interface LiveAppOptions {
  readonly knowledgeRoot: string;
  /**
   * Asked before a changed base is put to use, while the one in use goes on; answers true once it may be. It may take
   * long. Left out: every base that loads may. `givenUp` is called off when the files change again.
   */
  admit?(next: LoadedBase, current: LoadedBase, givenUp: AbortSignal): Promise<boolean>;
  /** Told when a base other than the one before has come into use. */
  inUse?(base: LoadedBase): void;
  /** Makes the app for what was read. `state` tells at any time which knowledge is in use. */
  open(base: LoadedBase, state: () => KnowledgeState): Edition;
  readonly log: (line: string) => void;
}

/** An app whose knowledge is exchanged while it runs. */
export interface LiveApp {
  fetch(request: Request, env?: unknown): Promise<Response>;
  state(): KnowledgeState;
  /** What is in use. */
  base(): LoadedBase;
  /**
   * Puts another base to use in place of the one read from the files at the start, and that one forward as a change:
   * for a start on files that differ from what was in use before.
   */
  goBack(base: LoadedBase): Promise<void>;
  /** Opens the app anew on the base in use, when something else it stands on has changed. */
  renew(): Promise<void>;
  close(): Promise<void>;
}

interface Seat {
  readonly edition: Edition;
  readonly base: LoadedBase;
  readonly version: string;
  readonly since: Date;
  /** Requests under way. */
  busy: number;
  retired: boolean;
}

/**
 * Opens the app on a knowledge-base folder and watches the folder. A changed base that loads gets an app of its own;
 * once that is warm, new requests go to it, while those under way finish where they began. A changed base that does
 * not load changes nothing but the state.
 *
 * @throws KnowledgeError when the base cannot be used to begin with
 */
export function startLiveApp(options: LiveAppOptions): LiveApp {
  const { knowledgeRoot, log } = options;
  let problems: readonly KnowledgeProblem[] = [];
  let turn = 0;
  let proposal: AbortController | undefined;
  let closed = false;
  const seats = new Set<Seat>();

  const open = (base: LoadedBase): Seat => {
    const since = new Date();
    const edition = options.open(base, () => ({ version: edition.version, since, problems }));
    const seat: Seat = {
      base,
      edition,
      version: edition.version,
      since,
      busy: 0,
      retired: false,
    };
    seats.add(seat);
    return seat;
  };
  const leave = (seat: Seat): void => {
    if (!seat.retired || seat.busy > 0) return;
    seats.delete(seat);
    void seat.edition.close();
  };
  const retire = (seat: Seat): void => {
    seat.retired = true;
    leave(seat);
  };

  /**
   * Puts a base to use once its app is warm.
   * @param how `anew`: the base in use, since what else the app stands on has changed; `cold`: at once
   */
  const exchange = async (base: LoadedBase, how: 'changed' | 'anew' | 'cold'): Promise<void> => {
    wanted = base;
    const mine = ++turn;
    const next = open(base);
    try {
      if (how !== 'cold') await next.edition.warm();
    } catch (error) {
      retire(next);
      if (closed || mine !== turn) return;
      wanted = current.base;
      const message = error instanceof Error ? error.message : String(error);
      problems = [{ file: '.', line: undefined, field: '', message: `could not be put to use: ${message}` }];
      log(`knowledge base ${next.version} ${problems[0]?.message}`);
      return;
    }
    // A later change, or the end, has overtaken this one.
    if (closed || mine !== turn) {
      retire(next);
      return;
    }
    const old = current;
    current = next;
    retire(old);
    if (old.base === base) return;
    log(`knowledge base ${next.version} is in use, in place of ${old.version}`);
    options.inUse?.(base);
  };

  /** The files have changed: what they say now is put to use as soon as it may be. */
  const propose = async (base: LoadedBase): Promise<void> => {
    proposal?.abort();
    const mine = new AbortController();
    proposal = mine;
    problems = [];
    // What was broken has been put back, or an exchange under way is called off.
    if (base.version === current.base.version) {
      turn++;
      wanted = current.base;
      return;
    }
    if (options.admit !== undefined) {
      const admitted = await options.admit(base, current.base, mine.signal).catch((error: unknown) => {
        const message = error instanceof Error ? error.message : String(error);
        log(`knowledge base ${base.knowledge.version} could not be tried: ${message}`);
        return false;
      });
      if (!admitted || closed || mine.signal.aborted) return;
    }
    await exchange(base, 'changed');
  };

  const base = loadBase(knowledgeRoot);
  let wanted = base;
  let current = open(base);
  const stopWatching = watchFolder(
    knowledgeRoot,
    loadBase,
    (changed) => void propose(changed),
    (found) => {
      // What was put forward before is in no file any more.
      proposal?.abort();
      problems = found;
      log(
        `knowledge base ${current.version} stays in use: the files have ${found.length} ${found.length === 1 ? 'problem' : 'problems'}`,
      );
    },
    base.version,
  );
  return {
    async fetch(request, env) {
      const seat = current;
      seat.busy++;
      try {
        return await seat.edition.app.fetch(request, env as object);
      } finally {
        seat.busy--;
        leave(seat);
      }
    },
    state: () => ({ version: current.version, since: current.since, problems }),
    base: () => current.base,
    async goBack(before) {
      await exchange(before, 'cold');
      void propose(base);
    },
    renew: () => exchange(wanted, 'anew'),
    async close() {
      closed = true;
      proposal?.abort();
      stopWatching();
      await Promise.all([...seats].map((seat) => seat.edition.close()));
    },
  };
}
