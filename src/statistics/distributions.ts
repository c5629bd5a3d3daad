import betainc from '@stdlib/math-base-special-betainc';
import betaincinv from '@stdlib/math-base-special-betaincinv';
import betaln from '@stdlib/math-base-special-betaln';
import gammaln from '@stdlib/math-base-special-gammaln';
import normal from '@stdlib/stats-base-dists-normal';
import { gammaLower, gammaUpper } from './incomplete-gamma.js';

/**
 * The distributions the rest of the folder needs, upper tails computed directly (never as 1 minus the lower tail), so
 * that very small probabilities keep their digits. Special functions: @stdlib, see incomplete-gamma.ts for one exception.
 */

/** ln of the gamma function, x > 0. */
export const logGamma: (x: number) => number = gammaln;

/** ln of the beta function, a, b > 0. */
export const logBeta: (a: number, b: number) => number = betaln;

/** P(X <= count) for a Poisson count of the given mean (mean >= 0; count may be negative, then 0). */
export function poissonAtMost(count: number, mean: number): number {
  if (count < 0) return 0;
  return gammaUpper(count + 1, mean);
}

/** P(X >= count) for a Poisson count of the given mean. */
export function poissonAtLeast(count: number, mean: number): number {
  if (count <= 0) return 1;
  return gammaLower(count, mean);
}

/** ln P(X = count) for a Poisson count of the given mean (mean > 0, or 0 with count 0). */
export function poissonLogPmf(count: number, mean: number): number {
  if (mean === 0) return count === 0 ? 0 : Number.NEGATIVE_INFINITY;
  return count * Math.log(mean) - mean - gammaln(count + 1);
}

/** P(X <= successes) for a binomial count of n trials. */
export function binomialAtMost(successes: number, n: number, p: number): number {
  if (successes < 0) return 0;
  if (successes >= n) return 1;
  return betainc(p, successes + 1, n - successes, true, true);
}

/** P(X >= successes) for a binomial count of n trials. */
export function binomialAtLeast(successes: number, n: number, p: number): number {
  if (successes <= 0) return 1;
  if (successes > n) return 0;
  return betainc(p, successes, n - successes + 1, true, false);
}

/** P(X = successes) for a binomial count of n trials. */
export function binomialPmf(successes: number, n: number, p: number): number {
  if (successes < 0 || successes > n) return 0;
  if (p <= 0) return successes === 0 ? 1 : 0;
  if (p >= 1) return successes === n ? 1 : 0;
  const logChoose = gammaln(n + 1) - gammaln(successes + 1) - gammaln(n - successes + 1);
  return Math.exp(logChoose + successes * Math.log(p) + (n - successes) * Math.log1p(-p));
}

/** P(X >= x) of the chi-square distribution. */
export function chiSquareAtLeast(x: number, degrees: number): number {
  return gammaUpper(degrees / 2, x / 2);
}

/** P(X <= x) of the chi-square distribution. */
export function chiSquareAtMost(x: number, degrees: number): number {
  return gammaLower(degrees / 2, x / 2);
}

/** The x with P(X <= x) = probability for a beta(a, b) variate. */
export function betaQuantile(probability: number, a: number, b: number): number {
  return betaincinv(probability, a, b);
}

/** P(X <= x) for a beta(a, b) variate, 0 <= x <= 1. */
export function betaAtMost(x: number, a: number, b: number): number {
  return betainc(x, a, b, true, false);
}

/** P(T >= |t|) of Student's t, one tail. */
export function studentTail(t: number, degrees: number): number {
  return 0.5 * betainc(degrees / (degrees + t * t), degrees / 2, 0.5, true, false);
}

/** The t that leaves `tail` (0 < tail <= 0.5) above it. */
export function studentCritical(tail: number, degrees: number): number {
  const x = betaincinv(2 * tail, degrees / 2, 0.5);
  return Math.sqrt((degrees * (1 - x)) / x);
}

/** ln of Student's t density. */
export function studentLogDensity(t: number, degrees: number): number {
  return (
    -0.5 * (degrees + 1) * Math.log1p((t * t) / degrees) - 0.5 * Math.log(degrees) - betaln(degrees / 2, 0.5)
  );
}

/** P(Z <= z) of the standard normal distribution. */
export function normalAtMost(z: number): number {
  return normal.cdf(z, 0, 1);
}

/** The z with P(Z <= z) = probability. */
export function normalQuantile(probability: number): number {
  return normal.quantile(probability, 0, 1);
}
