import type { ICptWithParents, ICptWithParentsItem, INetwork } from 'bayesjs';
import type { Network, NetworkNode } from '../../../src/rules/network/network.js';

const STATES = ['absent', 'slight', 'marked'];

/** States a general network gives this node: T and F, or the grades. */
export function statesOf(node: NetworkNode): string[] {
  return node.kind === 'graded' ? STATES : ['F', 'T'];
}

function distribution(node: NetworkNode, present: ReadonlySet<string>): Record<string, number> {
  if (node.kind === 'table') {
    const row = node.parents.reduce((at, id) => 2 * at + Number(present.has(id)), 0);
    const p = node.probability[row] as number;
    return { F: 1 - p, T: p };
  }
  let absent = 1 - node.leak;
  for (const link of node.parents) if (present.has(link.id)) absent *= 1 - link.strength;
  if (node.kind !== 'graded') return { F: absent, T: 1 - absent };
  let below = 1 - node.leakMarked;
  for (const link of node.parents) if (present.has(link.id)) below *= 1 - link.marked;
  return { absent, slight: below - absent, marked: 1 - below };
}

/** The same network with every family written out as a full table, for a general-purpose library. */
export function toGeneralNetwork(network: Network): INetwork {
  const general: INetwork = {};
  for (const node of network.nodes) {
    const parents = node.kind === 'table' ? [...node.parents] : node.parents.map((link) => link.id);
    const rows: ICptWithParentsItem[] = [];
    for (let config = 0; config < 2 ** parents.length; config++) {
      const present = new Set(parents.filter((_, i) => ((config >> i) & 1) === 1));
      const when = Object.fromEntries(parents.map((id) => [id, present.has(id) ? 'T' : 'F']));
      // biome-ignore lint/suspicious/noThenProperty: the library's own field name
      rows.push({ when, then: distribution(node, present) });
    }
    const cpt = parents.length === 0 ? (rows[0] as ICptWithParentsItem).then : (rows as ICptWithParents);
    general[node.id] = { id: node.id, states: statesOf(node), parents, cpt };
  }
  return general;
}
