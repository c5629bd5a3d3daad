import { requireCount, requireFraction, requireMembers, requirePositive, requireWithin } from './checks.js';
import { betaQuantile, normalQuantile } from './distributions.js';
import { StatisticsError } from './errors.js';
import type { Interval } from './interval.js';

/** A stated probability and what came of it. */
export interface Forecast {
  readonly probability: number;
  readonly happened: boolean;
}

/** Brier score and its parts: score = reliability - resolution + uncertainty when forecasts are grouped by their value. */
export interface BrierScore {
  readonly score: number;
  /** How far stated probabilities lie from what happened; smaller is better. */
  readonly reliability: number;
  /** How well the forecasts tell cases apart; larger is better. */
  readonly resolution: number;
  readonly uncertainty: number;
}

/** Brier score with Murphy's 1973 decomposition over equal stated values. 1 or more forecasts, probabilities 0–1. */
export function scoreForecasts(forecasts: readonly Forecast[]): BrierScore {
  requireMembers('forecasts', forecasts, 1);
  const groups = new Map<number, { n: number; events: number }>();
  let events = 0;
  let score = 0;
  forecasts.forEach(({ probability, happened }, index) => {
    requireWithin(`forecasts[${index}].probability`, probability, 0, 1);
    const outcome = happened ? 1 : 0;
    score += (probability - outcome) ** 2;
    events += outcome;
    const group = groups.get(probability) ?? { n: 0, events: 0 };
    groups.set(probability, { n: group.n + 1, events: group.events + outcome });
  });
  const n = forecasts.length;
  const base = events / n;
  let reliability = 0;
  let resolution = 0;
  for (const [probability, group] of groups) {
    const share = group.events / group.n;
    reliability += (group.n / n) * (probability - share) ** 2;
    resolution += (group.n / n) * (share - base) ** 2;
  }
  return { score: score / n, reliability, resolution, uncertainty: base * (1 - base) };
}

/** Forecasts of one stated value: how many, and how often it happened. */
export interface ForecastGroup {
  /** 0–1. */
  readonly probability: number;
  readonly n: number;
  readonly events: number;
}

/** As {@link scoreForecasts}, from groups of equal stated values. 1 or more groups, none of them empty. */
export function scoreForecastGroups(groups: readonly ForecastGroup[]): BrierScore {
  requireMembers('groups', groups, 1);
  let n = 0;
  let events = 0;
  for (const [index, group] of groups.entries()) {
    requireWithin(`groups[${index}].probability`, group.probability, 0, 1);
    requireCount(`groups[${index}].n`, group.n);
    requireCount(`groups[${index}].events`, group.events);
    if (group.n === 0 || group.events > group.n)
      throw new StatisticsError(
        `groups[${index}].events`,
        group.events,
        `a whole number up to n = ${group.n}, n 1 or more`,
      );
    n += group.n;
    events += group.events;
  }
  const base = events / n;
  let score = 0;
  let reliability = 0;
  let resolution = 0;
  for (const { probability, n: size, events: happened } of groups) {
    const share = happened / size;
    score += happened * (1 - probability) ** 2 + (size - happened) * probability ** 2;
    reliability += (size / n) * (probability - share) ** 2;
    resolution += (size / n) * (share - base) ** 2;
  }
  return { score: score / n, reliability, resolution, uncertainty: base * (1 - base) };
}

/** Wilson 1927 score interval for a share: successes of n, n >= 1. */
export function shareInterval(successes: number, n: number, confidence = 0.95): Interval {
  requireCount('successes', successes);
  requireCount('n', n);
  if (n === 0 || successes > n)
    throw new StatisticsError('successes', successes, `a whole number up to n = ${n}, n 1 or more`);
  requireFraction('confidence', confidence);
  const z = normalQuantile(0.5 + confidence / 2);
  const share = successes / n;
  const scale = 1 + z ** 2 / n;
  const centre = (share + z ** 2 / (2 * n)) / scale;
  const halfWidth = (z / scale) * Math.sqrt((share * (1 - share)) / n + z ** 2 / (4 * n * n));
  return {
    lower: successes === 0 ? 0 : centre - halfWidth,
    upper: successes === n ? 1 : centre + halfWidth,
    confidence,
  };
}

/** A beta-distributed belief about a share: as if `yes` and `no` cases had been seen. */
export interface BetaBelief {
  readonly yes: number;
  readonly no: number;
}

/** A belief from an expert's share (0–1) worth `cases` equivalent cases. */
export function beliefFromShare(share: number, cases: number): BetaBelief {
  requireFraction('share', share);
  requirePositive('cases', cases);
  return { yes: share * cases, no: (1 - share) * cases };
}

/** Belief after new cases; `weight` (0–1, default 1) discounts them (power prior for old or unsure cases). */
export function updateBelief(belief: BetaBelief, yes: number, no: number, weight = 1): BetaBelief {
  requireWithin('yes', yes, 0, Number.POSITIVE_INFINITY);
  requireWithin('no', no, 0, Number.POSITIVE_INFINITY);
  requireWithin('weight', weight, 0, 1);
  return { yes: belief.yes + weight * yes, no: belief.no + weight * no };
}

/** Mean and central interval of a belief. */
export function summariseBelief(
  belief: BetaBelief,
  confidence = 0.95,
): { readonly mean: number; readonly interval: Interval } {
  requirePositive('yes', belief.yes);
  requirePositive('no', belief.no);
  requireFraction('confidence', confidence);
  const tail = (1 - confidence) / 2;
  return {
    mean: belief.yes / (belief.yes + belief.no),
    interval: {
      lower: betaQuantile(tail, belief.yes, belief.no),
      upper: betaQuantile(1 - tail, belief.yes, belief.no),
      confidence,
    },
  };
}
