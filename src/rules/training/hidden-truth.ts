import type { CausalGraph, GraphLink } from '../diagnosis/causal-graph.js';
import { groupBy } from '../group.js';
import type { Level } from '../knowledge/vocabulary.js';
import type { StrengthOverride } from '../network/network.js';
import type { Random } from '../network/random.js';
import { randomFor } from './seeded.js';

/** What is really the matter on a dealt frame: the causes and one whole sample of what they bring about. */
export interface HiddenTruth {
  /** Causes at work; `no-assignable-cause` alone where nothing is wrong. */
  readonly causes: readonly string[];
  /** Mechanism states that hold, as `mechanism:state`. */
  readonly mechanisms: readonly string[];
  /** Every symptom with the level at which it shows. */
  readonly signs: Readonly<Record<string, Level>>;
}

/** The graph as a case sees it: without the links that its setup takes out. */
export interface OpenGraph {
  readonly graph: CausalGraph;
  /** Links that hold, by their child. */
  readonly into: ReadonlyMap<string, readonly GraphLink[]>;
  /** Mechanism states with every parent before its children. */
  readonly mechanisms: readonly string[];
  readonly symptoms: readonly string[];
}

/** Leaves out the links that a setup cuts. */
export function openGraph(graph: CausalGraph, cutLinks: readonly StrengthOverride[]): OpenGraph {
  const cut = new Set(cutLinks.map((link) => `${link.parent}>${link.child}`));
  const open = graph.links.filter((link) => !cut.has(`${link.parent}>${link.child}`));
  const of = (kind: string) => [...graph.kinds].filter(([, one]) => one === kind).map(([id]) => id);
  return {
    graph,
    into: groupBy(open, (link) => link.child),
    mechanisms: parentsFirst(of('mechanism'), graph),
    symptoms: of('symptom'),
  };
}

/**
 * Draws what the causes bring about, from the network itself: mechanism states and symptoms, parents before children,
 * each from its noisy-OR (symptoms: noisy-MAX) distribution, leaks included.
 */
export function sampleTruth(open: OpenGraph, causes: readonly string[], random: Random): HiddenTruth {
  const on = new Set(causes);
  const mechanisms = open.mechanisms.filter((id) => {
    const holds = random() < chanceGiven(open, id, on);
    if (holds) on.add(id);
    return holds;
  });
  const signs: Record<string, Level> = {};
  for (const id of open.symptoms) {
    const { seen, marked } = gradesGiven(open, id, on);
    const u = random();
    signs[id] = u < marked ? 'marked' : u < seen ? 'slight' : 'absent';
  }
  return { causes, mechanisms, signs };
}

/** P(node | the nodes that are on), for a mechanism state or a finding. */
export function chanceGiven(open: OpenGraph, id: string, on: ReadonlySet<string>): number {
  const node = open.graph.network.node(id);
  let none = node.kind === undefined || node.kind === 'noisy-or' ? 1 - node.leak : 1;
  for (const link of open.into.get(id) ?? []) if (on.has(link.parent)) none *= 1 - link.strength;
  return 1 - none;
}

/** P(at least slight) and P(marked) of a symptom, given the nodes that are on. */
export function gradesGiven(open: OpenGraph, id: string, on: ReadonlySet<string>) {
  const node = open.graph.network.node(id);
  let none = node.kind === 'graded' ? 1 - node.leak : 1;
  let unmarked = node.kind === 'graded' ? 1 - node.leakMarked : 1;
  for (const link of open.into.get(id) ?? [])
    if (on.has(link.parent)) {
      none *= 1 - link.strength;
      unmarked *= 1 - link.marked;
    }
  return { seen: 1 - none, marked: 1 - unmarked };
}

/**
 * The same frame with some causes taken away. What held keeps holding with the chance that one of the remaining
 * parents, or the leak, had brought it about, given that something had; what did not hold stays away. One number a
 * node is drawn for the whole case, so that taking more away never brings anything back.
 *
 * @param key what the case is called, so that the same removal always ends alike
 */
export function withoutCauses(
  open: OpenGraph,
  truth: HiddenTruth,
  removed: ReadonlySet<string>,
  key: string,
): HiddenTruth {
  const causes = truth.causes.filter((id) => !removed.has(id));
  if (causes.length === truth.causes.length) return truth;
  const before = new Set([...truth.causes, ...truth.mechanisms]);
  const after = new Set(causes);
  const drawn = (id: string) => randomFor(key, 'stays', id)();
  const mechanisms = truth.mechanisms.filter((id) => {
    const stays = drawn(id) * chanceGiven(open, id, before) < chanceGiven(open, id, after);
    if (stays) after.add(id);
    return stays;
  });
  const signs = Object.fromEntries(
    Object.entries(truth.signs).map(([id, level]): [string, Level] => {
      if (level === 'absent') return [id, level];
      const was = gradesGiven(open, id, before);
      const is = gradesGiven(open, id, after);
      const u = drawn(id);
      if (level === 'marked' && u * was.marked < is.marked) return [id, 'marked'];
      return [id, u * was.seen < is.seen ? 'slight' : 'absent'];
    }),
  );
  return { causes, mechanisms, signs };
}

function parentsFirst(ids: readonly string[], graph: CausalGraph): string[] {
  const wanted = new Set(ids);
  const parents = groupBy(
    graph.links.filter((link) => wanted.has(link.child) && wanted.has(link.parent)),
    (link) => link.child,
  );
  const placed = new Set<string>();
  const order: string[] = [];
  const place = (id: string): void => {
    if (placed.has(id)) return;
    placed.add(id);
    for (const link of parents.get(id) ?? []) place(link.parent);
    order.push(id);
  };
  for (const id of ids) place(id);
  return order;
}
