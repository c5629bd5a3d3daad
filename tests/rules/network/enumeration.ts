import type {
  Evidence,
  Grade,
  GradedLink,
  Network,
  NodeId,
  Observation,
  QueryOptions,
} from '../../../src/rules/network/network.js';

/** One joint state: 0/1 for two-state nodes, 0/1/2 for graded ones. */
export type JointState = ReadonlyMap<NodeId, number>;

export interface Enumerated {
  readonly evidence: number;
  /** P(state ≥ 1 | evidence) for every node, and the three grades of graded ones. */
  readonly marginals: Map<NodeId, number>;
  readonly grades: Map<NodeId, number[]>;
  /** Every joint state with its probability given the evidence. */
  readonly joint: { readonly state: JointState; readonly probability: number }[];
}

const GRADES: readonly Grade[] = ['absent', 'slight', 'marked'];

function weigh(seen: Observation | undefined, state: number): number {
  if (seen === undefined) return 1;
  if (typeof seen === 'boolean') return Number(seen) === state ? 1 : 0;
  if (typeof seen === 'string') return GRADES.indexOf(seen) === state ? 1 : 0;
  return seen[state] as number;
}

function read<T>(values: ReadonlyMap<NodeId, T> | Readonly<Record<NodeId, T>> | undefined): Map<NodeId, T> {
  if (values === undefined) return new Map();
  return new Map(values instanceof Map ? values : Object.entries(values as Record<NodeId, T>));
}

/** The posterior by summing over every joint state, straight from the definition. For tests on small networks. */
export function enumerate(network: Network, evidence: Evidence, options: QueryOptions = {}): Enumerated {
  const seen = read(evidence);
  const held = read(options.do);
  const leaks = read(options.leaks);
  const ids = network.nodes.map((node) => node.id);
  const state = new Map<NodeId, number>();
  const joint: Enumerated['joint'] = [];
  const changed = (child: NodeId, link: { id: NodeId; strength: number }): number[] => {
    const found = options.strengths?.find((s) => s.child === child && s.parent === link.id);
    const marked = (link as GradedLink).marked ?? 0;
    return [found?.strength ?? link.strength, found?.marked ?? marked];
  };
  const chances = (node: Network['nodes'][number]): number[] => {
    if (held.has(node.id)) {
      const at = [0, 1, 2].findIndex((s) => weigh(held.get(node.id), s) === 1);
      return node.kind === 'graded' ? [0, 1, 2].map((s) => Number(s === at)) : [1 - at, at];
    }
    if (node.kind === 'table') {
      let row = 0;
      for (const parent of node.parents) row = 2 * row + (state.get(parent) as number);
      const p = node.probability[row] as number;
      return [1 - p, p];
    }
    let absent = 1 - (leaks.get(node.id) ?? node.leak);
    let belowMarked = node.kind === 'graded' ? 1 - node.leakMarked : 1;
    for (const link of node.parents) {
      if (state.get(link.id) === 0) continue;
      const [strength, marked] = changed(node.id, link) as [number, number];
      absent *= 1 - strength;
      belowMarked *= 1 - marked;
    }
    return node.kind === 'graded' ? [absent, belowMarked - absent, 1 - belowMarked] : [absent, 1 - absent];
  };
  // Parents first, by repeated search; small networks only.
  const order: Network['nodes'][number][] = [];
  while (order.length < ids.length) {
    const done = new Set(order.map((n) => n.id));
    for (const node of network.nodes) {
      const parents = node.kind === 'table' ? node.parents : node.parents.map((l) => l.id);
      if (!done.has(node.id) && parents.every((p) => done.has(p))) order.push(node);
    }
  }
  const walk = (depth: number, probability: number): void => {
    if (probability === 0) return;
    const node = order[depth];
    if (node === undefined) {
      joint.push({ state: new Map(state), probability });
      return;
    }
    const { id } = node;
    chances(node).forEach((p, s) => {
      state.set(id, s);
      walk(depth + 1, probability * p * weigh(seen.get(id), s));
    });
  };
  walk(0, 1);
  const total = joint.reduce((sum, j) => sum + j.probability, 0);
  const marginals = new Map<NodeId, number>();
  const grades = new Map<NodeId, number[]>();
  for (const node of network.nodes) {
    const sums = [0, 0, 0];
    for (const j of joint) {
      const s = j.state.get(node.id) as number;
      sums[s] = (sums[s] as number) + j.probability / total;
    }
    marginals.set(node.id, 1 - (sums[0] as number));
    if (node.kind === 'graded') grades.set(node.id, sums);
  }
  return {
    evidence: total,
    marginals,
    grades,
    joint: joint.map((j) => ({ state: j.state, probability: j.probability / total })),
  };
}
