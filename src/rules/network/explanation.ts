import { logOdds, weightOfEvidence } from './decibans.js';
import { NetworkError } from './errors.js';
import { entriesOf } from './findings.js';
import type { CompiledNetwork, Evidence, NodeId, Observation, Posterior, QueryOptions } from './network.js';
import { seededRandom } from './random.js';

/** What an explanation is about. */
export interface ExplainOptions extends QueryOptions {
  /**
   * The items of evidence to be accounted for, in this order; all of them unless given. The rest of the evidence is
   * background, present in every run (the setup, soft evidence on the roots).
   */
  readonly items?: readonly NodeId[];
}

interface Split {
  readonly background: ReadonlyMap<NodeId, Observation>;
  readonly items: readonly (readonly [NodeId, Observation])[];
}

function split(evidence: Evidence, options: ExplainOptions): Split {
  const all = new Map(entriesOf(evidence));
  const names = options.items ?? [...all.keys()];
  const items = names.map((id) => {
    const seen = all.get(id);
    if (seen === undefined) throw new NetworkError(`items names "${id}", which is not among the evidence`);
    return [id, seen] as const;
  });
  for (const id of names) all.delete(id);
  return { background: all, items };
}

function join(parts: Split, keep: (index: number) => boolean): Map<NodeId, Observation> {
  const evidence = new Map(parts.background);
  parts.items.forEach(([id, seen], i) => {
    if (keep(i)) evidence.set(id, seen);
  });
  return evidence;
}

/** The posterior with one item taken away: "if this had not been looked at". One run an item. */
export function leaveOneOut(
  net: CompiledNetwork,
  evidence: Evidence,
  options: ExplainOptions = {},
): { readonly id: NodeId; readonly posterior: Posterior }[] {
  const parts = split(evidence, options);
  return parts.items.map(([id], i) => ({
    id,
    posterior: net.query(
      join(parts, (j) => j !== i),
      options,
    ),
  }));
}

/**
 * The opposite of a definite observation: true for false; absent for slight or marked, and slight or marked for absent.
 * Undefined for soft evidence, which has no opposite.
 */
export function oppositeOf(seen: Observation): Observation | undefined {
  if (typeof seen === 'boolean') return !seen;
  if (typeof seen !== 'string') return undefined;
  return seen === 'absent' ? [0, 1, 1] : 'absent';
}

/**
 * The posterior with one item turned round: "if this had been the other way". Another question than leave-one-out.
 * Undefined when the item has no opposite. Throws `ImpossibleEvidenceError` when the opposite cannot be.
 */
export function flipOne(
  net: CompiledNetwork,
  evidence: Evidence,
  id: NodeId,
  options: QueryOptions = {},
): Posterior | undefined {
  const all = new Map(entriesOf(evidence));
  const seen = all.get(id);
  if (seen === undefined) throw new NetworkError(`"${id}" is not among the evidence`);
  const opposite = oppositeOf(seen);
  return opposite === undefined ? undefined : net.query(all.set(id, opposite), options);
}

/** Who brought an observed effect about. The shares may sum to more than one: several may have fired. */
export interface Responsibility {
  /** P(the leak produced the observed state | evidence). Above .5: nothing modelled explains the observation. */
  readonly leak: number;
  /** P(this parent was present and its link produced the observed state | evidence). */
  readonly links: ReadonlyMap<NodeId, number>;
}

/**
 * Leak and link responsibility of an observed node: for "true" (or marked), strength · P(parent | evidence without it)
 * · P(evidence without it) / P(evidence); for slight, the share of the link that is slight, with everything else at most
 * slight. Own derivation, checked against networks with explicit link nodes. For noisy-OR and graded nodes that are
 * observed true, slight or marked, or (two states) softly.
 */
export function findResponsibility(
  net: CompiledNetwork,
  evidence: Evidence,
  id: NodeId,
  options: QueryOptions = {},
): Responsibility {
  const node = net.node(id);
  if (node.kind === 'table')
    throw new NetworkError(`"${id}" has a table of its own; its links have no strengths`);
  const all = new Map(entriesOf(evidence));
  const seen = all.get(id);
  const soft = Array.isArray(seen);
  if (seen === undefined || seen === false || seen === 'absent' || (soft && node.kind === 'graded')) {
    throw new NetworkError(`the responsibility for "${id}" needs it observed true, slight or marked`);
  }
  const full = net.query(all, options);
  const slight = seen === 'slight';
  const rest = new Map(all);
  if (slight) rest.set(id, [1, 1, 0]);
  else rest.delete(id);
  const without = net.query(rest, { ...options, targets: node.parents.map((link) => link.id) });
  const likelihood = soft ? (seen as readonly number[])[1] : 1;
  const ratio = (likelihood as number) * Math.exp(without.logEvidence - full.logEvidence);
  /** Chance that a source fires at the observed grade, given (for slight) that it does not fire above it. */
  const share = (strength: number, marked: number): number => {
    if (node.kind !== 'graded') return strength;
    if (!slight) return marked;
    return marked < 1 ? (strength - marked) / (1 - marked) : 0;
  };
  const leak = new Map(entriesOf(options.leaks)).get(id) ?? node.leak;
  const links = new Map<NodeId, number>();
  for (const link of node.parents) {
    const changed = options.strengths?.findLast((s) => s.child === id && s.parent === link.id);
    const strength = changed?.strength ?? link.strength;
    const marked = changed?.marked ?? ('marked' in link ? (link.marked as number) : 0);
    links.set(link.id, share(strength, marked) * without.probability(link.id) * ratio);
  }
  return { leak: share(leak, node.kind === 'graded' ? node.leakMarked : 0) * ratio, links };
}

/**
 * Conflict of the items, in bits: log2(Π P(item) / P(items)), all given the background. Positive: the findings fit
 * together worse than chance. Source: Jensen et al. 1991.
 */
export function measureConflict(
  net: CompiledNetwork,
  evidence: Evidence,
  options: ExplainOptions = {},
): number {
  const parts = split(evidence, options);
  const background = net.query(parts.background, options).logEvidence;
  let sum = 0;
  parts.items.forEach((_, i) => {
    sum +=
      net.query(
        join(parts, (j) => j === i),
        options,
      ).logEvidence - background;
  });
  const together =
    net.query(
      join(parts, () => true),
      options,
    ).logEvidence - background;
  return (sum - together) / Math.LN2;
}

/** A partial assignment and how much better the evidence fits with it than without. */
export interface RankedExplanation {
  readonly states: readonly (readonly [NodeId, boolean])[];
  /** P(evidence | states) / P(evidence | not these states). */
  readonly bayesFactor: number;
  readonly posterior: number;
}

/**
 * Single states and pairs of states of the targets, by falling generalised Bayes factor (posterior odds over prior
 * odds, both given the background). Source: Yuan, Lim & Lu 2011. Two runs a target and two more.
 * @param targets two-state nodes that are not observed
 */
export function rankExplanations(
  net: CompiledNetwork,
  evidence: Evidence,
  targets: readonly NodeId[],
  options: ExplainOptions = {},
): RankedExplanation[] {
  const parts = split(evidence, options);
  const before = pairChances(net, parts.background, targets, options);
  const after = pairChances(
    net,
    join(parts, () => true),
    targets,
    options,
  );
  const ranked: RankedExplanation[] = [];
  const add = (states: RankedExplanation['states'], prior: number, posterior: number): void => {
    if (prior <= 0 || prior >= 1) return;
    const bayesFactor =
      posterior >= 1 ? Number.POSITIVE_INFINITY : (posterior * (1 - prior)) / ((1 - posterior) * prior);
    ranked.push({ states, bayesFactor, posterior });
  };
  const state = (one: number, both: number, a: boolean, b: boolean, other: number): number => {
    if (a && b) return both;
    if (a) return one - both;
    return b ? other - both : 1 - one - other + both;
  };
  targets.forEach((a, i) => {
    for (const x of [true, false]) {
      const of = (chances: number[][]): number => (x ? 1 : -1) * (chances[i]?.[i] as number) + (x ? 0 : 1);
      add([[a, x]], of(before), of(after));
      targets.slice(i + 1).forEach((b, offset) => {
        const j = i + 1 + offset;
        for (const y of [true, false]) {
          const both = (chances: number[][]): number =>
            state(chances[i]?.[i] as number, chances[i]?.[j] as number, x, y, chances[j]?.[j] as number);
          add(
            [
              [a, x],
              [b, y],
            ],
            both(before),
            both(after),
          );
        }
      });
    }
  });
  return ranked.sort((a, b) => b.bayesFactor - a.bayesFactor);
}

/** P(a and b | evidence) for each pair of targets; P(a | evidence) on the diagonal. */
function pairChances(
  net: CompiledNetwork,
  evidence: ReadonlyMap<NodeId, Observation>,
  targets: readonly NodeId[],
  options: QueryOptions,
): number[][] {
  const wanted = { ...options, targets };
  const alone = net.query(evidence, wanted);
  for (const id of targets) {
    if (evidence.has(id) && !Array.isArray(evidence.get(id))) {
      throw new NetworkError(`the target "${id}" is observed`);
    }
  }
  return targets.map((a) => {
    const p = alone.probability(a);
    if (p <= 0) return targets.map(() => 0);
    // A target seen softly keeps its likelihood: being true then weighs what "true" weighs there.
    const fixed = new Map(evidence).set(a, true);
    const given = net.query(fixed, wanted);
    return targets.map((b) => (b === a ? p : p * given.probability(b)));
  });
}

/** One step of a waterfall: the item entered, and every marginal after it. */
export interface WaterfallStep {
  /** Undefined for the first step: the background alone. */
  readonly id: NodeId | undefined;
  readonly posterior: Posterior;
}

/**
 * The posterior after none, one, two … of the items, in their order (chain rule: the weights of the steps add up to the
 * whole). With `targets` holding the roots, each step has all of them. One run a step.
 */
export function buildWaterfall(
  net: CompiledNetwork,
  evidence: Evidence,
  options: ExplainOptions = {},
): WaterfallStep[] {
  const parts = split(evidence, options);
  const steps: WaterfallStep[] = [{ id: undefined, posterior: net.query(parts.background, options) }];
  parts.items.forEach(([id], i) => {
    steps.push({
      id,
      posterior: net.query(
        join(parts, (j) => j <= i),
        options,
      ),
    });
  });
  return steps;
}

/** How Shapley weights are worked out. */
export interface ShapleyOptions extends ExplainOptions {
  /** Up to this many items every subset is run (default 7); beyond, random orders. */
  readonly exactUpTo?: number;
  /** Pairs of opposite random orders beyond that (default 20), from `seed` (default 1). */
  readonly orderPairs?: number;
}

/**
 * Weight of each item for a hypothesis in decibans, averaged over the orders of entry. The weights sum to posterior less
 * prior log-odds, also when the orders are sampled. Source: Shapley values of the log-odds (Good's weight of evidence).
 * @param hypothesis a two-state node that is not observed
 */
export function findShapleyWeights(
  net: CompiledNetwork,
  evidence: Evidence,
  hypothesis: NodeId,
  options: ShapleyOptions = {},
): Map<NodeId, number> {
  const parts = split(evidence, options);
  const count = parts.items.length;
  const known = new Map<string, number>();
  const worth = (inside: readonly boolean[]): number => {
    const key = inside.map(Number).join('');
    let value = known.get(key);
    if (value === undefined) {
      const posterior = net.query(
        join(parts, (i) => inside[i] === true),
        { ...options, targets: [hypothesis] },
      );
      value = logOdds(posterior.probability(hypothesis));
      known.set(key, value);
    }
    return value;
  };
  const weights = new Float64Array(count);
  const { exactUpTo = 7, orderPairs = 20, seed = 1 } = options;
  if (count <= exactUpTo) {
    const factorial = [1];
    for (let i = 1; i <= count; i++) factorial.push((factorial[i - 1] as number) * i);
    for (let set = 0; set < 1 << count; set++) {
      const inside = parts.items.map((_, i) => ((set >> i) & 1) === 1);
      const size = inside.filter(Boolean).length;
      inside.forEach((is, i) => {
        if (is) return;
        const share =
          ((factorial[size] as number) * (factorial[count - size - 1] as number)) /
          (factorial[count] as number);
        weights[i] = (weights[i] as number) + share * (worth(inside.with(i, true)) - worth(inside));
      });
    }
  } else {
    const random = seededRandom(seed);
    const enter = (order: readonly number[]): void => {
      let inside: readonly boolean[] = parts.items.map(() => false);
      for (const i of order) {
        const next: readonly boolean[] = inside.with(i, true);
        weights[i] = (weights[i] as number) + (worth(next) - worth(inside)) / (2 * orderPairs);
        inside = next;
      }
    };
    for (let pair = 0; pair < orderPairs; pair++) {
      const order = parts.items.map((_, i) => i);
      for (let i = count - 1; i > 0; i--) {
        const j = Math.floor(random() * (i + 1));
        [order[i], order[j]] = [order[j] as number, order[i] as number];
      }
      enter(order);
      enter(order.reverse());
    }
  }
  return new Map(parts.items.map(([id], i) => [id, weights[i] as number]));
}

/**
 * Weight of each item for a hypothesis when the others are known: posterior against leave-one-out, in decibans. These do
 * not add up to the whole.
 */
export function findLeaveOneOutWeights(
  net: CompiledNetwork,
  evidence: Evidence,
  hypothesis: NodeId,
  options: ExplainOptions = {},
): Map<NodeId, number> {
  const wanted = { ...options, targets: [hypothesis] };
  const full = net.query(evidence, wanted).probability(hypothesis);
  const without = leaveOneOut(net, evidence, wanted);
  return new Map(
    without.map(({ id, posterior }) => [id, weightOfEvidence(posterior.probability(hypothesis), full)]),
  );
}
