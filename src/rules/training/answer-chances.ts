import { LEAST_OPEN } from '../diagnosis/answer-weights.js';
import type { CausalGraph } from '../diagnosis/causal-graph.js';
import type { Check } from '../knowledge/schema.js';

/** Outcomes of a check that are nodes of the network; a check without any cannot be predicted. */
export function deviationsOf(check: Check, graph: CausalGraph): string[] {
  return Object.entries(check.outcomes)
    .filter(([id, outcome]) => outcome.means === 'deviation' && graph.kinds.has(`${check.id}:${id}`))
    .map(([id]) => id);
}

/**
 * Chance of each answer of a check: of a deviation, that it holds and those it excludes do not; of "normal", that
 * none holds; what is left over is unclear. The same rule by which the product predicts answers.
 *
 * @param chanceOf chance of a deviation's node, 0–1
 * @returns chances that sum to 1, in the order of the check's outcomes; empty for a check that cannot be predicted
 */
export function answerChances(
  check: Check,
  deviations: readonly string[],
  chanceOf: (outcome: string) => number,
): Map<string, number> {
  const chances = new Map<string, number>();
  if (deviations.length === 0) return chances;
  const known = new Map(deviations.map((id) => [id, chanceOf(id)]));
  let total = 0;
  let open: string | undefined;
  for (const [id, outcome] of Object.entries(check.outcomes)) {
    if (outcome.means === 'open') {
      open ??= id;
      chances.set(id, 0);
      continue;
    }
    if (outcome.means === 'deviation' && !known.has(id)) continue;
    let chance = known.get(id) ?? 1;
    for (const [other, p] of known)
      if (other !== id && (outcome.excludes === undefined || outcome.excludes.includes(other)))
        chance *= 1 - p;
    chances.set(id, chance);
    total += chance;
  }
  if (open !== undefined) {
    const rest = Math.max(LEAST_OPEN, 1 - total);
    chances.set(open, rest);
    total += rest;
  }
  for (const [id, chance] of chances) chances.set(id, chance / total);
  return chances;
}
