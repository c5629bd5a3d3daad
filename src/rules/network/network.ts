/**
 * What a belief network is made of, and what may be asked of it.
 *
 * Convention for every link number (net, Díez 1993): `strength` is the chance that this parent, present,
 * produces the node through its own link, apart from the leak and the other parents, so that
 *
 *   P(node absent | parents) = (1 - leak) · Π over the parents present of (1 - strength).
 *
 * A number asked for as "how often does it occur when only this parent is present, everything else as usual"
 * (compound, Henrion 1989) holds the leak as well; `netStrength` turns it into a net one.
 */

/** Name of a node; any non-empty string. */
export type NodeId = string;

/** A link of a noisy-OR node. `strength` in [0, 1], net convention. */
export interface Link {
  readonly id: NodeId;
  readonly strength: number;
}

/** A node with two states. Without parents it is a root and `leak` is its prior probability, in [0, 1]. */
export interface NoisyOrNode {
  readonly kind?: 'noisy-or';
  readonly id: NodeId;
  readonly leak: number;
  readonly parents: readonly Link[];
}

/**
 * A link of a graded node: `strength` is the chance of at least slight, `marked` the chance of marked,
 * with 0 ≤ marked ≤ strength ≤ 1.
 */
export interface GradedLink {
  readonly id: NodeId;
  readonly strength: number;
  readonly marked: number;
}

/**
 * A leaf with the grades absent, slight, marked (noisy-MAX: the worst grade that any link or the leak produces).
 * 0 ≤ leakMarked ≤ leak ≤ 1. A graded node cannot be a parent.
 */
export interface GradedNode {
  readonly kind: 'graded';
  readonly id: NodeId;
  readonly leak: number;
  readonly leakMarked: number;
  readonly parents: readonly GradedLink[];
}

/**
 * A node with two states and a table of its own, for what noisy-OR cannot say (a preventive cause, a guard).
 * `probability` holds P(node true | parents) for all 2^k parent states, the first parent varying slowest and
 * "false" before "true": for parents [a, b] the entries are FF, FT, TF, TT. At most three parents.
 */
export interface TableNode {
  readonly kind: 'table';
  readonly id: NodeId;
  readonly parents: readonly NodeId[];
  readonly probability: readonly number[];
}

export type NetworkNode = NoisyOrNode | GradedNode | TableNode;

/** A directed network without cycles. The order of the nodes does not matter. */
export interface Network {
  readonly nodes: readonly NetworkNode[];
}

export type Grade = 'absent' | 'slight' | 'marked';

/** Relative likelihoods of what was seen, for false and true, or for absent, slight and marked. Not all zero. */
export type Likelihood = readonly [number, number] | readonly [number, number, number];

/** What was seen of a node: a definite state, or likelihoods (soft, also called virtual, evidence). */
export type Observation = boolean | Grade | Likelihood;

/** Per-node values, as a Map or a plain object (own keys only). */
export type ByNode<T> = ReadonlyMap<NodeId, T> | Readonly<Record<NodeId, T>>;

export type Evidence = ByNode<Observation>;

/** Another strength for one link, for one query. For a graded node `marked` may be given as well. */
export interface StrengthOverride {
  readonly parent: NodeId;
  readonly child: NodeId;
  readonly strength: number;
  readonly marked?: number;
}

/** How a result was obtained. `sampling` is an approximation and always carries `exact: false`. */
export type Method = 'signed' | 'non-negative' | 'sampling';

export interface QueryOptions {
  /** Nodes set from outside: their incoming links are cut (an action, as against an observation). */
  readonly do?: ByNode<boolean | Grade>;
  /** Another prior for roots, or another leak for other nodes, for this query only. */
  readonly leaks?: ByNode<number>;
  readonly strengths?: readonly StrengthOverride[];
  /** Nodes whose probability is wanted although no evidence lies at or below them; `'all'` for every node. */
  readonly targets?: readonly NodeId[] | 'all';
  /** Largest number of table cells an exact run may use (default 4 000 000). */
  readonly maxCells?: number;
  /** What to do beyond `maxCells`: throw `TooComplexError` (default) or estimate by importance sampling. */
  readonly beyondLimit?: 'throw' | 'sample';
  /** Samples (default 20 000) and seed (default 1) of that estimate. */
  readonly samples?: number;
  readonly seed?: number;
  /** Force one exact method; the default starts with `signed` and falls back when the numbers call for it. */
  readonly method?: 'auto' | 'signed' | 'non-negative';
}

/** Exact joint samples of the nodes given the evidence. */
export interface PosteriorSamples {
  readonly count: number;
  /** Nodes that have a column: every node but the graded leaves and the leaves nothing was seen of. */
  readonly ids: readonly NodeId[];
  /** All samples of one node, 0 or 1 each. */
  column(id: NodeId): Uint8Array;
  value(row: number, id: NodeId): boolean;
  /** P(leaf true, or at least slight | the parents in that row); for any node without a column. */
  leafProbability(row: number, id: NodeId): number;
  /** `leafProbability` for all rows at once. */
  leafProbabilities(id: NodeId): Float64Array;
  /** For a graded leaf: [P(at least slight), P(marked)] for all rows at once. */
  gradeProbabilities(id: NodeId): { readonly atLeastSlight: Float64Array; readonly marked: Float64Array };
}

export interface Posterior {
  /**
   * P(true | evidence) of every two-state node that the evidence bears on, of all roots, and of the targets.
   * Observed nodes stand with 0 or 1.
   */
  readonly marginals: ReadonlyMap<NodeId, number>;
  /** [absent, slight, marked] given the evidence for graded leaves that are observed or are targets. */
  readonly grades: ReadonlyMap<NodeId, readonly [number, number, number]>;
  /** Marginal of a node; throws `NetworkError` when it is neither relevant nor a target. */
  probability(id: NodeId): number;
  /** Natural logarithm of P(evidence) (for soft evidence: of the expected likelihood). */
  readonly logEvidence: number;
  readonly exact: boolean;
  readonly method: Method;
  /** Largest number of variables in one table, less one; 0 for an estimate. */
  readonly width: number;
  /** Table cells of the run. */
  readonly cells: number;
  /** Largest standard error of the marginals of an estimate; 0 when exact. */
  readonly standardError: number;
  /**
   * The posterior with the observations of some nodes taken back, all else the same: what a query without them answers,
   * to rounding, but cheaper. Throws `NetworkError` for a node that is not observed.
   */
  without(ids: readonly NodeId[]): Posterior;
  /**
   * P(at least two of these two-state nodes are true | evidence): exact where the posterior is, else from its samples.
   * Throws `NetworkError` for a node that is neither relevant, a root nor a target.
   */
  chanceOfTwo(ids: readonly NodeId[]): number;
  /** Draws `count` exact joint samples; the same seed gives the same samples. */
  sample(count: number, seed: number): PosteriorSamples;
}

export interface CompiledNetwork {
  readonly network: Network;
  readonly ids: readonly NodeId[];
  readonly roots: readonly NodeId[];
  has(id: NodeId): boolean;
  node(id: NodeId): NetworkNode;
  childrenOf(id: NodeId): readonly NodeId[];
  query(evidence: Evidence, options?: QueryOptions): Posterior;
}

/**
 * Net strength from a compound one: 1 - (1 - compound) / (1 - leak). Source: Henrion 1989 against Díez 1993.
 * @param compound P(node | only this parent, leak at work), in [leak, 1]
 * @param leak in [0, 1)
 */
export function netStrength(compound: number, leak: number): number {
  if (!(leak >= 0 && leak < 1)) throw new RangeError(`leak must lie in [0, 1), not ${leak}`);
  if (!(compound >= leak && compound <= 1)) {
    throw new RangeError(`compound strength must lie between the leak ${leak} and 1, not ${compound}`);
  }
  return 1 - (1 - compound) / (1 - leak);
}
