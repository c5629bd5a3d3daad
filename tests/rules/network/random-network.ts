import fc from 'fast-check';
import type {
  Evidence,
  Grade,
  Network,
  NetworkNode,
  Observation,
  QueryOptions,
} from '../../../src/rules/network/network.js';
import { seededRandom } from '../../../src/rules/network/random.js';

export interface RandomCase {
  readonly network: Network;
  readonly evidence: Evidence;
  readonly options: QueryOptions;
}

export interface RandomCaseWish {
  readonly maxNodes: number;
  /** Parents a node has at most. */
  readonly maxParents: number;
}

const GRADES: readonly Grade[] = ['absent', 'slight', 'marked'];

/** A random network, evidence of every kind, interventions and overrides, all from one seed. */
export function buildRandomCase(seed: number, wish: RandomCaseWish): RandomCase {
  const random = seededRandom(seed);
  const upTo = (n: number): number => Math.floor(random() * n);
  const size = 3 + upTo(wish.maxNodes - 2);
  // Now and then a link that is certain, without effect, or a leak of nothing.
  const strength = (): number => {
    const kind = random();
    return kind < 0.04 ? 1 : kind < 0.08 ? 0 : 0.05 + 0.9 * random();
  };
  const leak = (): number => (random() < 0.08 ? 0 : 0.3 * random() ** 2 + 0.001);
  const nodes: NetworkNode[] = [];
  for (let i = 0; i < size; i++) {
    const id = `n${i}`;
    const candidates = nodes.filter((node) => node.kind !== 'graded').map((node) => node.id);
    const parents: string[] = [];
    const wanted = random() < 0.25 ? 0 : upTo(Math.min(wish.maxParents, candidates.length) + 1);
    while (parents.length < wanted) parents.push(...candidates.splice(upTo(candidates.length), 1));
    const kind = random();
    if (kind < 0.15 && parents.length <= 3) {
      nodes.push({
        kind: 'table',
        id,
        parents,
        probability: Array.from({ length: 2 ** parents.length }, () => random()),
      });
    } else if (kind < 0.45 && parents.length > 0) {
      const own = leak();
      nodes.push({
        kind: 'graded',
        id,
        leak: own,
        leakMarked: own * random(),
        parents: parents.map((parent) => {
          const whole = strength();
          return { id: parent, strength: whole, marked: whole * random() };
        }),
      });
    } else {
      const links = parents.map((parent) => ({ id: parent, strength: strength() }));
      nodes.push({ id, leak: parents.length === 0 ? 0.05 + 0.5 * random() : leak(), parents: links });
    }
  }
  const evidence = new Map<string, Observation>();
  const held = new Map<string, boolean | Grade>();
  const leaks = new Map<string, number>();
  const strengths: NonNullable<QueryOptions['strengths']>[number][] = [];
  for (const node of nodes) {
    const graded = node.kind === 'graded';
    const kind = random();
    if (kind < 0.25) evidence.set(node.id, graded ? (GRADES[upTo(3)] as Grade) : random() < 0.5);
    else if (kind < 0.4) {
      evidence.set(node.id, graded ? [random(), random(), random()] : [random(), 3 * random()]);
    } else if (kind < 0.45) held.set(node.id, graded ? (GRADES[upTo(3)] as Grade) : random() < 0.5);
    if (node.kind !== 'table' && random() < 0.05) leaks.set(node.id, 0.3 + 0.5 * random());
    if (node.kind !== 'table' && node.parents.length > 0 && random() < 0.05) {
      const link = node.parents[upTo(node.parents.length)] as { id: string };
      const value = random();
      strengths.push({ parent: link.id, child: node.id, strength: value, marked: value * random() });
    }
  }
  // Numbering is not to matter, so the nodes come in any order.
  const mixed = [...nodes];
  for (let i = mixed.length - 1; i > 0; i--) {
    const j = upTo(i + 1);
    [mixed[i], mixed[j]] = [mixed[j] as NetworkNode, mixed[i] as NetworkNode];
  }
  return { network: { nodes: mixed }, evidence, options: { do: held, leaks, strengths } };
}

export function randomCases(wish: RandomCaseWish): fc.Arbitrary<RandomCase> {
  return fc.integer({ min: 1, max: 2 ** 31 - 1 }).map((seed) => buildRandomCase(seed, wish));
}
