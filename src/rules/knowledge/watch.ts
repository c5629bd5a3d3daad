import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { KnowledgeError, type KnowledgeProblem } from './errors.js';
import type { Knowledge } from './knowledge.js';
import { loadKnowledge } from './load-knowledge.js';

/** Stops watching. */
export type StopWatching = () => void;

/** How often the files are looked at. */
const LOOK_MS = 500;
/** Part of the time that looking may take: on a slow or busy machine it is done less often. */
const LOOK_SHARE = 0.01;
/** Editors save in several steps; what follows within this time is one change. */
const QUIET_MS = 200;
const LONGEST_REST_MS = 2000;

/**
 * Watches a knowledge-base folder. After every change, once the files have been quiet for a moment, the whole is read
 * again: a base that loads and differs from the last good one goes to `onGood`; one that does not load leaves the
 * last good one in use, and its problems go to `onBad`. Changes that put things back (or touch other files) are silent,
 * except that after a bad state the good one is told again.
 *
 * @param root folder of the knowledge base
 * @param onGood new knowledge to use from now on
 * @param onBad what is wrong, every problem
 * @param version version in use now, so that a change that alters nothing is not told
 * @returns a function that stops the watching
 */
export function watchKnowledge(
  root: string,
  onGood: (knowledge: Knowledge) => void,
  onBad: (problems: readonly KnowledgeProblem[]) => void,
  version?: string,
): StopWatching {
  return watchFolder(root, loadKnowledge, onGood, onBad, version);
}

/**
 * As {@link watchKnowledge}, for whatever is read from the folder.
 *
 * The YAML files are looked at twice a second, every two seconds where that is dear. Notices of the file system are not used: after a file was replaced as a
 * whole, as most editors and version control do it, they fall silent, and on shared folders they never come.
 *
 * @param load reads the folder; what it throws is told as a problem
 */
export function watchFolder<Loaded extends { readonly version: string }>(
  root: string,
  load: (root: string) => Loaded,
  onGood: (loaded: Loaded) => void,
  onBad: (problems: readonly KnowledgeProblem[]) => void,
  version?: string,
): StopWatching {
  let last = version;
  let bad = false;
  let read = stampOf(root);
  let seen = read;
  let timer: NodeJS.Timeout;
  let stopped = false;

  const look = () => {
    const began = performance.now();
    const now = stampOf(root);
    const rest = Math.min(LONGEST_REST_MS, (performance.now() - began) / LOOK_SHARE);
    const quiet = now === seen;
    seen = now;
    if (quiet && now !== read) {
      read = now;
      tell();
    }
    // Whoever was told may have stopped the watching.
    if (!stopped) wait(quiet ? Math.max(LOOK_MS, rest) : QUIET_MS);
  };
  const tell = () => {
    const state = tryLoading(root, load);
    if ('problems' in state) {
      bad = true;
      onBad(state.problems);
      return;
    }
    if (state.loaded.version === last && !bad) return;
    last = state.loaded.version;
    bad = false;
    onGood(state.loaded);
  };
  const wait = (ms: number) => {
    timer = setTimeout(look, ms);
    timer.unref();
  };
  wait(LOOK_MS);
  return () => {
    stopped = true;
    clearTimeout(timer);
  };
}

/** Names, sizes and times of the YAML files below a folder as one text; "gone" while it cannot be listed. */
function stampOf(root: string): string {
  try {
    return stampsOf(root).join('\n');
  } catch {
    // A file or folder that vanishes while it is being looked at is in the middle of being replaced.
    return 'gone';
  }
}

function stampsOf(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory() || (entry.isSymbolicLink() && statSync(path).isDirectory()))
      return stampsOf(path);
    if (!entry.name.endsWith('.yaml')) return [];
    const { mtimeMs, size, ino } = statSync(path);
    return [`${path} ${mtimeMs} ${size} ${ino}`];
  });
}

function tryLoading<Loaded>(
  root: string,
  load: (root: string) => Loaded,
): { readonly loaded: Loaded } | { readonly problems: readonly KnowledgeProblem[] } {
  try {
    return { loaded: load(root) };
  } catch (error) {
    if (error instanceof KnowledgeError) return { problems: error.problems };
    const message = error instanceof Error ? error.message : String(error);
    return { problems: [{ file: '.', line: undefined, field: '', message: `cannot be read: ${message}` }] };
  }
}
