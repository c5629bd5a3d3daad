import { requireFraction, requirePositive, requireWithin } from './checks.js';
import { logBeta, logGamma } from './distributions.js';
import { type CountOverHours, requireExposure } from './exposure.js';
import type { Interval } from './interval.js';
import { findRoot } from './numeric.js';

/*
 * E-values: fair bets against a hypothesis. Their mean is 1 if the hypothesis is true, and the chance that one ever reaches
 * 1/alpha is at most alpha (Ville), so that a trial may be looked at as often as anyone likes.
 */

/** Gamma(shape, rate) mixing distribution for a rate per exposure unit. */
export interface GammaMixture {
  readonly shape: number;
  readonly rate: number;
}

/**
 * ln e-value against "the rate is `norm` per exposure unit" after `count` events in `exposure`, by a gamma mixture.
 * Published: Robbins 1970; Howard et al. 2021. norm > 0, exposure > 0.
 */
export function logEValueAgainstNorm(
  count: number,
  exposure: number,
  norm: number,
  mixture: GammaMixture,
): number {
  requireWithin('count', count, 0, Number.POSITIVE_INFINITY);
  requirePositive('exposure', exposure);
  requirePositive('norm', norm);
  return logMarginal(count, exposure, mixture) - (count * Math.log(norm) - norm * exposure);
}

/** All rates per exposure unit not yet refuted: the interval may be read at any time and as often as wanted. */
export function rateConfidenceSequence(
  count: number,
  exposure: number,
  mixture: GammaMixture,
  confidence = 0.95,
): Interval {
  requireWithin('count', count, 0, Number.POSITIVE_INFINITY);
  requirePositive('exposure', exposure);
  requireFraction('confidence', confidence);
  const bound = -Math.log(1 - confidence);
  const logE = (rate: number) =>
    logMarginal(count, exposure, mixture) - (count * Math.log(rate) - rate * exposure) - bound;
  const best = Math.max(count, 1e-9) / exposure;
  let high = Math.max(best, 1 / exposure);
  while (logE(high) < 0) high *= 2;
  return {
    lower: count === 0 ? 0 : findRoot(logE, best * 1e-12, best),
    upper: findRoot(logE, count === 0 ? 0 : best, high),
    confidence,
  };
}

function logMarginal(count: number, exposure: number, { shape, rate }: GammaMixture): number {
  requirePositive('mixture.shape', shape);
  requirePositive('mixture.rate', rate);
  return (
    logGamma(shape + count) -
    logGamma(shape) +
    shape * Math.log(rate) -
    (shape + count) * Math.log(rate + exposure)
  );
}

/** Beta(first, second) mixing distribution for the share of events that fall on the first side. */
export interface BetaMixture {
  readonly first: number;
  readonly second: number;
}

/** Beta(6, 6): about one in three bets outside a ratio of 0.57–1.76; quick for effects of mill size either way. Judgement. */
export const SHARE_MIXTURE: BetaMixture = { first: 6, second: 6 };

/**
 * ln e-value against "the share of events on the first side is `share`" after the given counts, by a beta mixture. Valid event
 * by event when both sides run at the same time with fixed shares of the hours. Published: Lindon & Malek 2022. Counts may be
 * fractional (scaled down for dispersion), 0 or more.
 */
export function logEValueOfSplit(
  first: number,
  second: number,
  share: number,
  mixture: BetaMixture = SHARE_MIXTURE,
): number {
  requireWithin('first', first, 0, Number.POSITIVE_INFINITY);
  requireWithin('second', second, 0, Number.POSITIVE_INFINITY);
  requireFraction('share', share);
  requirePositive('mixture.first', mixture.first);
  requirePositive('mixture.second', mixture.second);
  return (
    logBeta(mixture.first + first, mixture.second + second) -
    logBeta(mixture.first, mixture.second) -
    first * Math.log(share) -
    second * Math.log1p(-share)
  );
}

/** ln e-value against "first rate over second rate is `ratio`" for counts that ran side by side. */
export function logEValueOfRatio(
  first: CountOverHours,
  second: CountOverHours,
  ratio = 1,
  mixture: BetaMixture = SHARE_MIXTURE,
): number {
  requireExposure('first', first);
  requireExposure('second', second);
  requirePositive('ratio', ratio);
  const weight = ratio * first.rotorHours;
  return logEValueOfSplit(first.count, second.count, weight / (weight + second.rotorHours), mixture);
}

/**
 * All shares of the first side not yet refuted, to be read at any time: the inversion of {@link logEValueOfSplit}.
 * Counts may be fractional.
 */
export function shareConfidenceSequence(
  first: number,
  second: number,
  confidence = 0.95,
  mixture: BetaMixture = SHARE_MIXTURE,
): Interval {
  requireFraction('confidence', confidence);
  const bound = -Math.log(1 - confidence);
  const excess = (share: number) => logEValueOfSplit(first, second, share, mixture) - bound;
  const total = first + second;
  const best = total === 0 ? 0.5 : Math.min(1 - 1e-12, Math.max(1e-12, first / total));
  const edge = 1e-15;
  return {
    lower: excess(edge) < 0 ? 0 : findRoot(excess, edge, best),
    upper: excess(1 - edge) < 0 ? 1 : findRoot(excess, best, 1 - edge),
    confidence,
  };
}

/** Any-time interval for the ratio of two rates that run side by side, first over second. */
export function ratioConfidenceSequence(
  first: CountOverHours,
  second: CountOverHours,
  confidence = 0.95,
  mixture: BetaMixture = SHARE_MIXTURE,
): Interval {
  requireExposure('first', first);
  requireExposure('second', second);
  const share = shareConfidenceSequence(first.count, second.count, confidence, mixture);
  const odds = (p: number) =>
    p >= 1 ? Number.POSITIVE_INFINITY : ((p / (1 - p)) * second.rotorHours) / first.rotorHours;
  return { lower: odds(share.lower), upper: odds(share.upper), confidence };
}
