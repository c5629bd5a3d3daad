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
  const numbers = numbered(graph);
  const { index } = numbers;
  const open = new Uint8Array(numbers.links.length);
  for (let at = 0; at < open.length; at++)
    open[at] = cut.has((numbers.links[at] as NumberedLink).name) ? 0 : 1;
  const known = new Map<string, Float64Array>();
  const reach: Reach = (cause, symptom) => {
    let chance = known.get(cause);
    if (chance === undefined) {
      chance = reachFrom(numbers, open, index.get(cause));
      known.set(cause, chance);
    }
    const at = index.get(symptom);
    return at === undefined ? 0 : (chance[at] as number);
  };
  ofGraph.set(cutLinks, reach);
  return reach;
}

/** By cause, the chance that it alone brings a symptom about. */
export function strengthsOf(causes: readonly string[], symptom: string, reach: Reach): Float64Array {
  const strengths = new Float64Array(causes.length);
  for (let c = 0; c < causes.length; c++) strengths[c] = reach(causes[c] as string, symptom);
  return strengths;
}

interface NumberedLink {
  readonly name: string;
  readonly to: number;
  readonly strength: number;
}

/** The graph by numbers: nodes, and the links that leave each. */
interface Numbered {
  readonly index: ReadonlyMap<string, number>;
  /** Parents before children. */
  readonly order: readonly number[];
  readonly links: readonly NumberedLink[];
  readonly from: readonly (readonly number[])[];
}

/** By node, the chance that a cause alone brings it about. @param open by link, 1 unless it is cut */
function reachFrom(
  { index, order, links, from }: Numbered,
  open: Uint8Array,
  cause: number | undefined,
): Float64Array {
  const chance = new Float64Array(index.size);
  if (cause === undefined) return chance;
  chance[cause] = 1;
  for (const node of order) {
    const p = chance[node] as number;
    if (p === 0) continue;
    for (const at of from[node] as readonly number[]) {
      if (open[at] === 0) continue;
      const { to, strength } = links[at] as NumberedLink;
      chance[to] = 1 - (1 - (chance[to] as number)) * (1 - p * strength);
    }
  }
  return chance;
}

const numberings = new WeakMap<CausalGraph, Numbered>();

function numbered(graph: CausalGraph): Numbered {
  const known = numberings.get(graph);
  if (known !== undefined) return known;
  const index = new Map([...graph.kinds.keys()].map((node, n) => [node, n]));
  const numberOf = (node: string): number => index.get(node) as number;
  const links: NumberedLink[] = [];
  const from = [...index.keys()].map((node) =>
    (graph.linksFrom.get(node) ?? []).map(
      ({ name, child, strength }) => links.push({ name, to: numberOf(child), strength }) - 1,
    ),
  );
  const made: Numbered = { index, order: topologicalOrder(graph).map(numberOf), links, from };
  numberings.set(graph, made);
  return made;
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
