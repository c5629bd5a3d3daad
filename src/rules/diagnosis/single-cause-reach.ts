import type { CausalGraph } from './causal-graph.js';

/**
 * Chance that one cause alone brings a symptom about, for all causes and symptoms: noisy-OR forward through the
 * mechanisms, leaks off. Paths that meet again are taken as independent, which overstates a little; it is used to
 * share out what an action takes away, never shown as a belief.
 *
 * @param cut links out of use, as `parent>child`
 */
export function singleCauseReach(
  graph: CausalGraph,
  cut: ReadonlySet<string>,
): (cause: string, symptom: string) => number {
  const order = topologicalOrder(graph);
  const known = new Map<string, Map<string, number>>();
  const reachOf = (cause: string) => {
    const chance = new Map<string, number>([[cause, 1]]);
    for (const node of order) {
      const p = chance.get(node);
      if (p === undefined || p === 0) continue;
      for (const link of graph.linksFrom.get(node) ?? []) {
        if (cut.has(`${link.parent}>${link.child}`)) continue;
        chance.set(link.child, 1 - (1 - (chance.get(link.child) ?? 0)) * (1 - p * link.strength));
      }
    }
    return chance;
  };
  return (cause, symptom) => {
    let chance = known.get(cause);
    if (chance === undefined) {
      chance = reachOf(cause);
      known.set(cause, chance);
    }
    return chance.get(symptom) ?? 0;
  };
}

/** Nodes with every parent before its children. */
function topologicalOrder(graph: CausalGraph): string[] {
  const waiting = new Map<string, number>();
  for (const link of graph.links) waiting.set(link.child, (waiting.get(link.child) ?? 0) + 1);
  const order = [...graph.kinds.keys()].filter((node) => !waiting.has(node));
  for (let i = 0; i < order.length; i++)
    for (const link of graph.linksFrom.get(order[i] ?? '') ?? []) {
      const left = (waiting.get(link.child) ?? 0) - 1;
      waiting.set(link.child, left);
      if (left === 0) order.push(link.child);
    }
  return order;
}
