import type { Basis } from '../knowledge/schema.js';
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

/**
 * Weighs everything that bears on single causes: the model's verdict on the setup, rules that fired, place,
 * beginning, changes, part trials and, for "no real fault", the counts. Before symptoms are entered the causes are
 * independent, so these likelihood ratios simply multiply.
 */
export function weighCauses(
  reasoner: Reasoner,
  prepared: PreparedCase,
  measured: readonly MeasuredNode[],
): ReadonlyMap<string, CausePrior> {
  const { book, judgements } = reasoner.knowledge;
  const averages = averageProfiles(book, judgements['unlisted-share']);
  const priors = new Map<string, CausePrior>();
  for (const cause of book.causes.values()) {
    const out = cause['ruled-out']?.find((_, n) => prepared.holds.has(`ruled-out:${cause.id}:${n}`));
    const setup = setupWeight(cause, prepared, judgements['model-credibility']);
    const weights = [
      ...(setup === undefined ? [] : [setup]),
      ...(cause.rules ?? [])
        .filter((rule) => prepared.holds.has(`rule:${cause.id}:${rule.id}`))
        .map(ruleWeight),
      ...circumstanceWeights(cause, prepared.input, averages, judgements),
      ...(cause.family === 'chance' ? chanceWeights(measured) : []),
    ];
    const base = cause.prior.base;
    priors.set(cause.id, {
      id: cause.id,
      base,
      prior: out === undefined ? weights.reduce((p, weight) => applyRatio(p, weight.ratio), base) : 0,
      weights,
      ...(out === undefined ? {} : { ruledOut: { because: out.because, basis: out.basis } }),
    });
  }
  return priors;
}

/** Counts weigh against chance as much as they weigh for a real rise. */
function chanceWeights(measured: readonly MeasuredNode[]): DirectWeight[] {
  return measured
    .filter((node) => node.node === 'end-breaks')
    .map((node) => ({
      kind: 'measurement' as const,
      label: node.words,
      ratio: 1 / node.ratio,
      because: 'What the counts say for a real rise they say against chance.',
      basis: { standing: 'physics' as const },
    }));
}
