import { logBeta, logGamma, poissonLogPmf } from './distributions.js';

/**
 * ln probability of a count of the given mean. With dispersion phi > 1 the count is negative binomial with variance
 * phi times the mean (events that come in bunches); with phi = 1 it is Poisson.
 */
export function logCountProbability(count: number, mean: number, phi: number): number {
  if (phi <= 1) return poissonLogPmf(count, mean);
  const shape = mean / (phi - 1);
  return (
    logGamma(count + shape) -
    logGamma(shape) -
    logGamma(count + 1) +
    count * Math.log((phi - 1) / phi) -
    shape * Math.log(phi)
  );
}

/** ln P(X <= count), kept accurate in both far tails by summing the ratios of neighbouring terms; -Infinity for count < 0. */
export function logCountAtMost(count: number, mean: number, phi: number): number {
  if (count < 0) return Number.NEGATIVE_INFINITY;
  const shape = phi > 1 ? mean / (phi - 1) : 0;
  const odds = (phi - 1) / phi;
  // P(j) / P(j - 1)
  const step = (j: number) => (phi > 1 ? ((j - 1 + shape) * odds) / j : mean / j);
  if (count <= mean) {
    let term = 1;
    let sum = 1;
    for (let j = count; j > 0 && term > sum * 1e-17; j--) {
      term /= step(j);
      sum += term;
    }
    return Math.min(0, logCountProbability(count, mean, phi) + Math.log(sum));
  }
  let term = 1;
  let sum = 1;
  for (let j = count + 2; term > sum * 1e-17; j++) {
    term *= step(j);
    sum += term;
  }
  return Math.log1p(-Math.min(1, Math.exp(logCountProbability(count + 1, mean, phi)) * sum));
}

/**
 * ln P(the largest of `others` independent counts is exactly `count`); others >= 1. Differences of powers are taken in
 * logarithms, so it neither under- nor overflows.
 */
export function logLargestEquals(count: number, mean: number, phi: number, others: number): number {
  const below = logCountAtMost(count - 1, mean, phi);
  const here = logCountProbability(count, mean, phi);
  if (below === Number.NEGATIVE_INFINITY) return others * here;
  const growth = here - below;
  // ln((1 + e^growth)^others - 1), in the form that keeps its digits
  const power = others * (growth > 30 ? growth : Math.log1p(Math.exp(growth)));
  const difference =
    growth < -30 ? growth + Math.log(others) : power > 30 ? power : Math.log(Math.expm1(power));
  return others * below + difference;
}

/**
 * ln probability of splitting `total` events as (first, total - first) when the first side has the given share. With
 * dispersion phi > 1 the split is beta-binomial, which is what two bunched counts of the same phi give.
 */
export function logSplitProbability(first: number, total: number, share: number, phi: number): number {
  const logChoose = logGamma(total + 1) - logGamma(first + 1) - logGamma(total - first + 1);
  if (phi <= 1 || total === 0) {
    return logChoose + first * Math.log(share) + (total - first) * Math.log1p(-share);
  }
  const weight = total / (phi - 1);
  const a = weight * share;
  const b = weight * (1 - share);
  return logChoose + logBeta(first + a, total - first + b) - logBeta(a, b);
}
