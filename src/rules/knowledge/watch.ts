import { type FSWatcher, watch } from 'node:fs';
import { KnowledgeError, type KnowledgeProblem } from './errors.js';
import type { Knowledge } from './knowledge.js';
import { loadKnowledge } from './load-knowledge.js';

/** Stops watching. */
export type StopWatching = () => void;

/** Editors save in several steps; what follows within this time is one change. */
const QUIET_MS = 200;

/**
 * Watches a knowledge-base folder. After every change, once the files have been quiet for a moment, the whole is read
 * again: a base that loads and differs from the last good one goes to `onGood`; one that does not load leaves the
 * last good one in use, and its problems go to `onBad`. Changes that put things back (or touch other files) are silent,
 * except that after a bad state the good one is told again.
 *
 * @param root folder of the knowledge base; it must exist
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
  let last = version;
  let bad = false;
  let timer: NodeJS.Timeout | undefined;
  const read = () => {
    timer = undefined;
    const state = tryLoading(root);
    if ('problems' in state) {
      bad = true;
      onBad(state.problems);
      return;
    }
    if (state.knowledge.version === last && !bad) return;
    last = state.knowledge.version;
    bad = false;
    onGood(state.knowledge);
  };
  const wait = () => {
    clearTimeout(timer);
    timer = setTimeout(read, QUIET_MS);
  };
  const watcher: FSWatcher = watch(root, { recursive: true }, wait);
  // A folder that is moved away while it is replaced gives an error event; the next reading tells what is missing.
  watcher.on('error', wait);
  return () => {
    clearTimeout(timer);
    watcher.close();
  };
}

function tryLoading(
  root: string,
): { readonly knowledge: Knowledge } | { readonly problems: readonly KnowledgeProblem[] } {
  try {
    return { knowledge: loadKnowledge(root) };
  } catch (error) {
    if (error instanceof KnowledgeError) return { problems: error.problems };
    const message = error instanceof Error ? error.message : String(error);
    return { problems: [{ file: '.', line: undefined, field: '', message: `cannot be read: ${message}` }] };
  }
}
