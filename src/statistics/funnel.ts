import { requireFraction, requirePositive } from './checks.js';
import { poissonAtLeast, poissonAtMost } from './distributions.js';

/** The counts that are still ordinary at a given expectation. */
export interface FunnelLimits {
  /** Smallest count not flagged as low. */
  readonly low: number;
  /** Largest count not flagged as high. */
  readonly high: number;
}

/**
 * Exact Poisson limits for a funnel picture: a count outside [low, high] has a chance below (1 - cover)/2 on its side.
 * expected > 0, cover 0–1 (0.95 and 0.998 are usual). Published: Spiegelhalter 2005.
 */
export function funnelLimits(expected: number, cover = 0.95): FunnelLimits {
  requirePositive('expected', expected);
  requireFraction('cover', cover);
  const tail = (1 - cover) / 2;
  const spread = Math.ceil(12 * Math.sqrt(expected) + 12);
  let low = Math.max(0, Math.floor(expected) - spread);
  while (poissonAtMost(low, expected) <= tail) low++;
  let high = Math.ceil(expected) + spread;
  while (high > low && poissonAtLeast(high, expected) <= tail) high--;
  return { low, high };
}

/** Three-sigma limits of a u-chart (events per unit of exposure, exposure varying from point to point), lower limit not below 0. */
export function uChartLimits(
  centre: number,
  exposure: number,
  sigmas = 3,
): { readonly lower: number; readonly upper: number } {
  requirePositive('centre', centre);
  requirePositive('exposure', exposure);
  requirePositive('sigmas', sigmas);
  const halfWidth = sigmas * Math.sqrt(centre / exposure);
  return { lower: Math.max(0, centre - halfWidth), upper: centre + halfWidth };
}
