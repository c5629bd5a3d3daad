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
  /** Makes the app for what was read. `state` tells at any time which knowledge is in use. */
  open(base: LoadedBase, state: () => KnowledgeState): Edition;
  readonly log: (line: string) => void;
}

/** An app whose knowledge is exchanged while it runs. */
export interface LiveApp {
  fetch(request: Request, env?: unknown): Promise<Response>;
  state(): KnowledgeState;
  /** Opens the app anew on the files last read, when something else it stands on has changed. */
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

  /** @param anew even when the files are the ones in use, because what else the app stands on has changed */
  const exchange = async (base: LoadedBase, anew = false): Promise<void> => {
    latest = base;
    const mine = ++turn;
    if (!anew) problems = [];
    // What was broken has been put back.
    if (!anew && base.version === current.base.version) return;
    const next = open(base);
    try {
      await next.edition.warm();
    } catch (error) {
      retire(next);
      if (closed || mine !== turn) return;
      const message = error instanceof Error ? error.message : String(error);
      problems = [{ file: '.', line: undefined, field: '', message: `could not be put to use: ${message}` }];
      log(`knowledge base ${base.knowledge.version} ${problems[0]?.message}`);
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
    if (!anew) log(`knowledge base ${next.version} is in use, in place of ${old.version}`);
  };

  const base = loadBase(knowledgeRoot);
  let latest = base;
  let current = open(base);
  const stopWatching = watchFolder(
    knowledgeRoot,
    loadBase,
    (changed) => void exchange(changed),
    (found) => {
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
    renew: () => exchange(latest, true),
    async close() {
      closed = true;
      stopWatching();
      await Promise.all([...seats].map((seat) => seat.edition.close()));
    },
  };
}
