import { type AdjustmentRule, adjustPValues } from './adjustment.js';
import { requireFraction, requireMembers } from './checks.js';
import { type CountOverHours, pool, requireExposure } from './exposure.js';
import { compareRates } from './rate-ratio.js';
import { computeRate, type Rate } from './rates.js';

/** A named count: a frame, a lot, a shift, a machine part. */
export interface NamedCount extends CountOverHours {
  readonly id: string;
}

/** One line of the ranking. */
export interface RankedRate {
  readonly id: string;
  readonly rate: Rate;
  /** Its rate over the rate of all the others together. */
  readonly ratioToRest: number;
  /** Two-sided mid-p against the rest, before correction. */
  readonly p: number;
  readonly adjustedP: number;
  readonly verdict: 'above' | 'below' | 'not-shown';
}

/**
 * Ranks frames or lots by break rate, highest first, each held against all the others together by the exact conditional
 * test (mid-p), with the p-values corrected for the number of comparisons. Default correction: Holm, as a few frames are
 * compared and each verdict is acted on; `bh` for long lists.
 */
export function rankRates(
  groups: readonly NamedCount[],
  options: { readonly alpha?: number; readonly rule?: AdjustmentRule } = {},
): RankedRate[] {
  requireMembers('groups', groups, 2);
  const alpha = requireFraction('alpha', options.alpha ?? 0.05);
  groups.forEach((group, index) => {
    requireExposure(`groups[${index}]`, group);
  });
  const all = pool(groups);
  const comparisons = groups.map((group) =>
    compareRates(group, { count: all.count - group.count, rotorHours: all.rotorHours - group.rotorHours }),
  );
  const pValues = comparisons.map((comparison) => comparison.test.midP.twoSided);
  const adjusted = adjustPValues(pValues, options.rule ?? 'holm');
  return groups
    .map((group, index): RankedRate => {
      const comparison = comparisons[index];
      const ratioToRest = comparison?.ratio ?? Number.NaN;
      const adjustedP = adjusted[index] ?? 1;
      return {
        id: group.id,
        rate: computeRate(group),
        ratioToRest,
        p: pValues[index] ?? 1,
        adjustedP,
        verdict: adjustedP > alpha ? 'not-shown' : ratioToRest > 1 ? 'above' : 'below',
      };
    })
    .sort((a, b) => b.rate.per1000 - a.rate.per1000 || (a.id < b.id ? -1 : 1));
}
