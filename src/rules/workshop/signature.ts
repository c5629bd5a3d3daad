import type { CausalGraph } from '../diagnosis/causal-graph.js';
import { singleCauseReach } from '../diagnosis/single-cause-reach.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { Cause } from '../knowledge/schema.js';
import { WEIGHTS } from '../knowledge/vocabulary.js';

/** An observation that speaks differently of two causes. */
export interface Separation {
  /** What would be observed, in words. */
  readonly observation: string;
  /** How many times likelier it is under the one than under the other, 1 or more. */
  readonly ratio: number;
  readonly favours: string;
}

/**
 * Everything by which observations bear on a cause: for each symptom and finding the chance that it is seen with this
 * cause alone, shares of place and beginning, weights of changes, its part, its rules, exclusions and model margin.
 */
export interface Signature {
  readonly seen: ReadonlyMap<string, number>;
  readonly shares: ReadonlyMap<string, number>;
  readonly weights: ReadonlyMap<string, number>;
}

/** Share counted where a profile does not mention a place or beginning. */
const UNLISTED = 0.02;

/** The signatures of all causes. */
export function signaturesOf(book: RuleBook, graph: CausalGraph): ReadonlyMap<string, Signature> {
  const reach = singleCauseReach(graph, []);
  const leaves = [...graph.kinds].filter(([, kind]) => kind === 'symptom' || kind === 'finding');
  return new Map(
    [...book.causes].map(([id, cause]) => [
      id,
      {
        seen: new Map(leaves.map(([node]) => [node, 1 - (1 - leakOf(node, book)) * (1 - reach(id, node))])),
        shares: new Map([
          ...Object.entries(cause.scope).map(([key, share]): [string, number] => [`where: ${key}`, share]),
          ...Object.entries(cause.onset).map(([key, share]): [string, number] => [`began: ${key}`, share]),
        ]),
        weights: directWeights(cause),
      },
    ]),
  );
}

/** The observation that tells two causes apart best; undefined when nothing does. */
export function bestSeparation(
  a: string,
  b: string,
  of: ReadonlyMap<string, Signature>,
): Separation | undefined {
  const first = of.get(a);
  const second = of.get(b);
  if (first === undefined || second === undefined) return undefined;
  let best: Separation | undefined;
  const offer = (observation: string, ratio: number) => {
    const size = Math.max(ratio, 1 / ratio);
    if (size > 1 && (best === undefined || size > best.ratio))
      best = { observation, ratio: size, favours: ratio > 1 ? a : b };
  };
  for (const [node, p] of first.seen) {
    const q = second.seen.get(node) ?? p;
    offer(`${node} seen`, p / q);
    offer(`${node} not seen`, (1 - p) / (1 - q));
  }
  for (const key of new Set([...first.shares.keys(), ...second.shares.keys()]))
    offer(key, (first.shares.get(key) ?? UNLISTED) / (second.shares.get(key) ?? UNLISTED));
  for (const key of new Set([...first.weights.keys(), ...second.weights.keys()]))
    offer(key, (first.weights.get(key) ?? 1) / (second.weights.get(key) ?? 1));
  return best;
}

function leakOf(node: string, book: RuleBook): number {
  const [head = '', state] = node.split(':');
  if (state === undefined) return book.symptoms.get(head)?.leak ?? 0.03;
  return book.checks.get(head)?.outcomes[state]?.leak ?? 0.05;
}

/** Weights that fall on the cause alone, by what brings them about; exclusions count like the strongest rule. */
function directWeights(cause: Cause): Map<string, number> {
  const weights = new Map<string, number>();
  for (const [change, weight] of Object.entries(cause.after ?? {}))
    weights.set(`changed: ${change}`, WEIGHTS[weight]);
  if (cause.part !== undefined) weights.set(`part tried: ${cause.part}`, WEIGHTS.clearly);
  for (const rule of cause.rules ?? [])
    weights.set(
      `rule: ${JSON.stringify(rule.when)}`,
      rule.for === undefined ? 1 / WEIGHTS[rule.against ?? 'slightly'] : WEIGHTS[rule.for],
    );
  for (const out of cause['ruled-out'] ?? [])
    weights.set(`excluded: ${JSON.stringify(out.when)}`, 1 / WEIGHTS.decisively);
  const { model } = cause.prior;
  if (model !== undefined)
    weights.set(
      `model: ${model.margin} but for ${model['but-for']} ${model.side ?? 'either side'}`,
      WEIGHTS.clearly,
    );
  return weights;
}
