import { say } from '../../language/say.js';
import type { Basis, Cause } from '../knowledge/schema.js';
import { applyRatio } from './decibans.js';
import type { DirectWeight } from './direct-weights.js';
import { averageProfiles, circumstanceWeights, ruleWeight } from './direct-weights.js';
import type { MeasuredNode } from './measurement-evidence.js';
import type { PreparedCase, Reasoner } from './prepare.js';
import { setupWeight } from './setup-weight.js';

/** A cause before the network speaks. */
export interface CausePrior {
  readonly id: string;
  readonly base: number;
  /** Probability once setup, rules and circumstances are weighed. */
  readonly prior: number;
  readonly weights: readonly DirectWeight[];
  readonly ruledOut?: { readonly because: string; readonly basis: Basis };
}

/** Kinds of circumstance, in the order in which they are weighed. */
const CIRCUMSTANCES = ['scope', 'onset', 'changed', 'part'] as const;

/**
 * Weighs everything that bears on single causes: the model's verdict on the setup, rules that fired, counts (for "no
 * real fault"), then place, beginning, changes and part trials. Before symptoms are entered the causes are
 * independent, so these likelihood ratios simply multiply.
 *
 * A circumstance tells causes apart; it does not make more of them. Each kind is therefore scaled by one factor for
 * all causes such that the expected number of causes stays what it was: a cause gains what others lose.
 */
export function weighCauses(
  reasoner: Reasoner,
  prepared: PreparedCase,
  measured: readonly MeasuredNode[],
): ReadonlyMap<string, CausePrior> {
  const { book, judgements } = reasoner.knowledge;
  const averages = averageProfiles(book, judgements['unlisted-share']);
  const drafts = [...book.causes.values()].map((cause) => {
    const out = cause['ruled-out']?.find((_, n) => prepared.holds.has(`ruled-out:${cause.id}:${n}`));
    const setup = setupWeight(cause, prepared, judgements);
    const weights: DirectWeight[] = [
      ...(setup === undefined ? [] : [setup]),
      ...firedRules(cause, prepared).map(ruleWeight),
      ...(cause.family === 'chance' ? chanceWeights(measured) : []),
    ];
    const base = cause.prior.base * judgements['before-trouble'];
    return {
      id: cause.id,
      base,
      out,
      prior: out === undefined ? weights.reduce((p, weight) => applyRatio(p, weight.ratio), base) : 0,
      weights,
      circumstances: circumstanceWeights(cause, prepared.input, averages, reasoner.knowledge),
    };
  });
  for (const kind of CIRCUMSTANCES) {
    const own = drafts.map((draft) => draft.circumstances.filter((weight) => weight.kind === kind));
    if (own.every((weights) => weights.length === 0)) continue;
    const ratios = own.map(productOfRatios);
    const scale = keepTotal(
      drafts.map((draft) => draft.prior),
      ratios,
    );
    drafts.forEach((draft, i) => {
      const weights = own[i] ?? [];
      weights.forEach((weight, n) => {
        draft.weights.push({ ...weight, ratio: weight.ratio * (n === 0 ? scale : 1) });
      });
      draft.prior = applyRatio(draft.prior, (ratios[i] ?? 1) * (weights.length === 0 ? 1 : scale));
    });
  }
  return new Map(
    drafts.map(({ id, base, out, prior, weights }) => [
      id,
      {
        id,
        base,
        prior,
        weights,
        ...(out === undefined ? {} : { ruledOut: { because: out.because, basis: out.basis } }),
      },
    ]),
  );
}

/** The factor on all ratios that leaves the sum of the probabilities unchanged, by halving on its logarithm. */
function keepTotal(probabilities: readonly number[], ratios: readonly number[]): number {
  const wanted = probabilities.reduce((sum, p) => sum + p, 0);
  let low = -12;
  let high = 12;
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (totalWith(probabilities, ratios, Math.exp(middle)) < wanted) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}

/** The rules of a cause whose condition holds. */
function firedRules(cause: Cause, { holds }: PreparedCase): NonNullable<Cause['rules']> {
  const fired: NonNullable<Cause['rules']> = [];
  for (const rule of cause.rules ?? []) if (holds.has(`rule:${cause.id}:${rule.id}`)) fired.push(rule);
  return fired;
}

function productOfRatios(weights: readonly DirectWeight[]): number {
  let product = 1;
  for (const weight of weights) product *= weight.ratio;
  return product;
}

/** Sum of the probabilities once each is moved by its ratio and a common factor. */
function totalWith(probabilities: readonly number[], ratios: readonly number[], factor: number): number {
  let sum = 0;
  for (let i = 0; i < probabilities.length; i++)
    sum += applyRatio(probabilities[i] as number, (ratios[i] ?? 1) * factor);
  return sum;
}

/** Counts weigh against chance as much as they weigh for a real rise. */
function chanceWeights(measured: readonly MeasuredNode[]): DirectWeight[] {
  return measured
    .filter((node) => node.node === 'end-breaks')
    .map((node) => ({
      kind: 'measurement' as const,
      label: node.words,
      ratio: 1 / node.ratio,
      because: say('reasoning.counts-against'),
      basis: { standing: 'physics' as const },
    }));
}
