import { NetworkError } from './errors.js';
import type { Network, NetworkNode, NodeId } from './network.js';

/** The network as numbered arrays: nodes by number, links in one run per child. */
export interface Structure {
  readonly network: Network;
  readonly ids: readonly NodeId[];
  readonly nodes: readonly NetworkNode[];
  readonly index: ReadonlyMap<NodeId, number>;
  /** Nodes, parents before children. */
  readonly order: readonly number[];
  /** Links of node n are numbered linkStart[n] … linkStart[n + 1] - 1. */
  readonly linkStart: Int32Array;
  readonly linkParent: Int32Array;
  readonly children: readonly (readonly number[])[];
  readonly graded: Uint8Array;
  readonly tables: readonly (Float64Array | undefined)[];
  readonly numbers: Numbers;
}

/** The numbers that a query may replace: leaks by node, strengths by link. */
export interface Numbers {
  readonly leak: Float64Array;
  readonly leakMarked: Float64Array;
  readonly strength: Float64Array;
  readonly marked: Float64Array;
}

/** Largest number of parents of a node with a table of its own. */
export const MAX_TABLE_PARENTS = 3;

function checkProbability(value: number, what: string): void {
  if (!(value >= 0 && value <= 1)) throw new NetworkError(`${what} must lie in [0, 1], not ${value}`);
}

function checkGrades(marked: number, strength: number, what: string): void {
  checkProbability(marked, what);
  if (marked > strength) {
    throw new NetworkError(`${what} is ${marked}, above the chance of at least slight, ${strength}`);
  }
}

function parentsOf(node: NetworkNode): readonly NodeId[] {
  return node.kind === 'table' ? node.parents : node.parents.map((link) => link.id);
}

function sortTopologically(
  ids: readonly NodeId[],
  start: Int32Array,
  parent: Int32Array,
  children: number[][],
) {
  const waiting = ids.map((_, n) => (start[n + 1] ?? 0) - (start[n] ?? 0));
  const order = waiting.flatMap((count, n) => (count === 0 ? [n] : []));
  for (let head = 0; head < order.length; head++) {
    for (const child of children[order[head] as number] as number[]) {
      waiting[child] = (waiting[child] as number) - 1;
      if (waiting[child] === 0) order.push(child);
    }
  }
  if (order.length < ids.length)
    throw new NetworkError(`the links form a cycle: ${nameCycle(ids, start, parent, waiting)}`);
  return order;
}

/** Walks upward among the nodes still waiting until one comes back. */
function nameCycle(ids: readonly NodeId[], start: Int32Array, parent: Int32Array, waiting: number[]): string {
  const path: number[] = [];
  let node = waiting.findIndex((count) => count > 0);
  while (!path.includes(node)) {
    path.push(node);
    const from = start[node] as number;
    const links = parent.subarray(from, start[node + 1] as number);
    node = links.find((p) => (waiting[p] as number) > 0) as number;
  }
  const cycle = path.slice(path.indexOf(node)).reverse();
  return [...cycle, cycle[0] as number].map((n) => ids[n]).join(' -> ');
}

/** Checks a network and numbers it. Throws `NetworkError` naming the node, the value and what is allowed. */
export function buildStructure(network: Network): Structure {
  const { nodes } = network;
  const index = new Map<NodeId, number>();
  nodes.forEach((node, n) => {
    if (typeof node.id !== 'string' || node.id === '') throw new NetworkError('a node has no id');
    if (index.has(node.id)) throw new NetworkError(`node "${node.id}" is defined twice`);
    index.set(node.id, n);
  });
  const count = nodes.length;
  const linkStart = new Int32Array(count + 1);
  nodes.forEach((node, n) => {
    linkStart[n + 1] = (linkStart[n] as number) + node.parents.length;
  });
  const links = linkStart[count] as number;
  const linkParent = new Int32Array(links);
  const children: number[][] = nodes.map(() => []);
  const numbers: Numbers = {
    leak: new Float64Array(count),
    leakMarked: new Float64Array(count),
    strength: new Float64Array(links),
    marked: new Float64Array(links),
  };
  const tables: (Float64Array | undefined)[] = [];
  const graded = new Uint8Array(count);
  nodes.forEach((node, n) => {
    const first = linkStart[n] as number;
    const seen = new Set<NodeId>();
    parentsOf(node).forEach((id, i) => {
      const parent = index.get(id);
      if (parent === undefined) throw new NetworkError(`node "${node.id}" has the unknown parent "${id}"`);
      if (seen.has(id)) throw new NetworkError(`node "${node.id}" names the parent "${id}" twice`);
      if (nodes[parent]?.kind === 'graded') {
        throw new NetworkError(
          `node "${node.id}" has the graded parent "${id}"; graded nodes must be leaves`,
        );
      }
      seen.add(id);
      linkParent[first + i] = parent;
      children[parent]?.push(n);
    });
    if (node.kind === 'table') {
      tables[n] = readTable(node.id, node.parents.length, node.probability);
      return;
    }
    checkProbability(node.leak, `the leak of "${node.id}"`);
    numbers.leak[n] = node.leak;
    if (node.kind === 'graded') {
      graded[n] = 1;
      checkGrades(node.leakMarked, node.leak, `the marked leak of "${node.id}"`);
      numbers.leakMarked[n] = node.leakMarked;
    }
    node.parents.forEach((link, i) => {
      const what = `the strength of the link "${link.id}" -> "${node.id}"`;
      checkProbability(link.strength, what);
      numbers.strength[first + i] = link.strength;
      if (node.kind === 'graded') {
        const { marked } = link as { marked?: number };
        checkGrades(marked ?? Number.NaN, link.strength, `${what} for marked`);
        numbers.marked[first + i] = marked as number;
      }
    });
  });
  const ids = nodes.map((node) => node.id);
  const order = sortTopologically(ids, linkStart, linkParent, children);
  return { network, ids, nodes, index, order, linkStart, linkParent, children, graded, tables, numbers };
}

function readTable(id: NodeId, parents: number, probability: readonly number[]): Float64Array {
  if (parents > MAX_TABLE_PARENTS) {
    throw new NetworkError(
      `the table of "${id}" has ${parents} parents; at most ${MAX_TABLE_PARENTS} are allowed`,
    );
  }
  if (probability.length !== 2 ** parents) {
    throw new NetworkError(
      `the table of "${id}" has ${probability.length} entries; ${parents} parents need ${2 ** parents}`,
    );
  }
  for (const value of probability) checkProbability(value, `an entry of the table of "${id}"`);
  return Float64Array.from(probability);
}
