import type { Columns } from '../../spinning/simulation.js';
import type { Ranking } from '../diagnosis/types.js';
import type { Knowledge } from '../knowledge/knowledge.js';

/** Margins whose being short a diagnosis can speak of. */
export const BELIEF_MARGINS = ['twist', 'tension', 'heat'] as const;
export type BeliefMargin = (typeof BELIEF_MARGINS)[number];

/** How many times likelier what was seen is when the margin is short than when it is not. */
export type Belief = Readonly<Record<BeliefMargin, number>>;

const FIELDS = { twist: 'twistMargin', tension: 'tensionMargin', heat: 'heatMargin' } as const;

/** Kinds of ledger entry that come from the setup itself and are in the model's draws already. */
const OF_THE_SETUP = new Set(['base', 'setup']);

/**
 * What a diagnosis says about the margins beyond what the setup says: for each margin the odds that any of its causes
 * holds, with everything that was seen over without it. The draws of the model are weighted by these factors, so that
 * a plan answers the complaint and not the setup alone.
 *
 * @param most bound of a factor, 1 or more; the least is 1/most
 * @returns 1 for a margin the diagnosis does not speak of. Standing: judgement (causes of one margin are joined as if
 *   independent).
 */
export function beliefFrom(ranking: Pick<Ranking, 'causes'>, knowledge: Knowledge, most: number): Belief {
  const without: Record<BeliefMargin, number> = { twist: 1, tension: 1, heat: 1 };
  const withAll: Record<BeliefMargin, number> = { twist: 1, tension: 1, heat: 1 };
  for (const cause of ranking.causes) {
    const margin = knowledge.book.causes.get(cause.id)?.prior.model?.margin;
    if (margin === undefined || !isBeliefMargin(margin) || cause.ruledOut !== undefined) continue;
    const seen = cause.ledger
      .filter((entry) => !OF_THE_SETUP.has(entry.kind))
      .reduce((sum, entry) => sum + entry.decibans, 0);
    const p = Math.min(1 - 1e-6, Math.max(1e-6, cause.probability));
    const odds = p / (1 - p) / 10 ** (seen / 10);
    withAll[margin] *= 1 - p;
    without[margin] *= 1 / (1 + odds);
  }
  const factor = (margin: BeliefMargin) => {
    const after = (1 - withAll[margin]) / withAll[margin];
    const before = (1 - without[margin]) / without[margin];
    return before > 0 && after > 0 ? Math.min(most, Math.max(1 / most, after / before)) : 1;
  };
  return { twist: factor('twist'), tension: factor('tension'), heat: factor('heat') };
}

const isBeliefMargin = (margin: string): margin is BeliefMargin =>
  (BELIEF_MARGINS as readonly string[]).includes(margin);

/** Weights of the draws, with mean 1: each draw by the factors of the margins that are short in it. */
export function weighDraws(base: Columns, belief: Belief | undefined): Float64Array {
  const weights = new Float64Array(base.twistMargin.length).fill(1);
  if (belief === undefined) return weights;
  let sum = 0;
  for (let i = 0; i < weights.length; i++) {
    let weight = 1;
    for (const margin of BELIEF_MARGINS) if ((base[FIELDS[margin]][i] ?? 0) < 0) weight *= belief[margin];
    weights[i] = weight;
    sum += weight;
  }
  return weights.map((weight) => (weight * weights.length) / sum);
}
