import type { ResolvedSetup } from '../case/resolve-setup.js';

const kept = new WeakMap<ResolvedSetup, Map<string, unknown>>();

/**
 * Works something out once for a completed setup and keeps it as long as the setup is kept: the same setup is asked about
 * with every sign that is added.
 *
 * @param name what is worked out; whatever it depends on besides the setup must be in it
 */
export function onceASetup<Result>(setup: ResolvedSetup, name: string, workOut: () => Result): Result {
  const ofSetup = kept.get(setup) ?? new Map<string, unknown>();
  kept.set(setup, ofSetup);
  if (!ofSetup.has(name)) ofSetup.set(name, workOut());
  return ofSetup.get(name) as Result;
}
