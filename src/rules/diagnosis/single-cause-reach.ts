import type { StrengthOverride } from '../network/network.js';
import type { CausalGraph } from './causal-graph.js';

/** Chance that a cause alone brings a symptom about. */
export type Reach = (cause: string, symptom: string) => number;

/** Links by name, `parent>child`. */
export const linkNames = (links: readonly StrengthOverride[]): ReadonlySet<string> =>
  new Set(links.map((link) => `${link.parent}>${link.child}`));

const kept = new WeakMap<CausalGraph, WeakMap<readonly StrengthOverride[], Reach>>();

/**
 * Chance that one cause alone brings a symptom about, for all causes and symptoms: noisy-OR forward through the
 * mechanisms, leaks off. Paths that meet again are taken as independent, which overstates a little; it is used to
 * share out what an action takes away, never shown as a belief.
 *
 * What is worked out is kept for the graph and the list of cut links, which belongs to one case: ranking, checks and
 * actions ask alike.
 *
 * @param cutLinks links out of use
 */
export function singleCauseReach(graph: CausalGraph, cutLinks: readonly StrengthOverride[]): Reach {
  const ofGraph = kept.get(graph) ?? new WeakMap<readonly StrengthOverride[], Reach>();
  kept.set(graph, ofGraph);
  const found = ofGraph.get(cutLinks);
  if (found !== undefined) return found;
  const cut = linkNames(cutLinks);
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
  const reach: Reach = (cause, symptom) => {
    let chance = known.get(cause);
    if (chance === undefined) {
      chance = reachOf(cause);
      known.set(cause, chance);
    }
    return chance.get(symptom) ?? 0;
  };
  ofGraph.set(cutLinks, reach);
  return reach;
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
