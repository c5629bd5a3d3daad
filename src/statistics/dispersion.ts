import { requireCount, requireFraction, requireMembers, requirePositive } from './checks.js';
import { chiSquareAtLeast, normalQuantile } from './distributions.js';
import { StatisticsError } from './errors.js';
import { type CountOverHours, pool, requireExposure } from './exposure.js';
import type { Interval } from './interval.js';

/** How much more the counts scatter than independent events would. */
export interface Dispersion {
  readonly chiSquare: number;
  readonly degrees: number;
  /** P(a scatter this large or larger) if all share one rate and events are independent. */
  readonly p: number;
  /** Variance over mean, chi-square divided by its degrees of freedom; 1 for independent events. */
  readonly phi: number;
  /** phi above 1.3 and p below 0.05: later intervals should be widened by the square root of phi (judgement). */
  readonly overdispersed: boolean;
}

/** phi above which widening is advised, together with p < 0.05. Judgement. */
const PHI_LIMIT = 1.3;

/**
 * Pearson's chi-square for k counts with unequal rotor-hours sharing one rate, on k - 1 degrees of freedom. With equal
 * hours it is the index-of-dispersion test (Fisher). Needs 2 or more units and at least one event.
 */
export function measureDispersion(units: readonly CountOverHours[]): Dispersion {
  requireMembers('units', units, 2);
  units.forEach((unit, index) => {
    requireExposure(`units[${index}]`, unit);
  });
  const all = pool(units);
  if (all.count === 0) throw new StatisticsError('units', units, 'at least one event, taken together');
  let chiSquare = 0;
  for (const unit of units) {
    const expected = (all.count * unit.rotorHours) / all.rotorHours;
    chiSquare += (unit.count - expected) ** 2 / expected;
  }
  const degrees = units.length - 1;
  const p = chiSquareAtLeast(chiSquare, degrees);
  const phi = chiSquare / degrees;
  return { chiSquare, degrees, p, phi, overdispersed: phi > PHI_LIMIT && p < 0.05 };
}

/** Moments of the negative binomial fitted to equal-exposure counts. */
export interface NegativeBinomialFit {
  readonly mean: number;
  /** Sample variance (n - 1). */
  readonly variance: number;
  /** Shape k = mean² / (variance - mean); Infinity when the counts scatter no more than independent events. */
  readonly shape: number;
}

/** Negative binomial fitted by moments to counts of equal exposure (2 or more counts, mean above 0). */
export function fitNegativeBinomial(counts: readonly number[]): NegativeBinomialFit {
  requireMembers('counts', counts, 2);
  let sum = 0;
  counts.forEach((count, index) => {
    sum += requireCount(`counts[${index}]`, count);
  });
  const mean = requirePositive('mean of counts', sum / counts.length);
  const variance = counts.reduce((total, count) => total + (count - mean) ** 2, 0) / (counts.length - 1);
  return {
    mean,
    variance,
    shape: variance > mean ? mean ** 2 / (variance - mean) : Number.POSITIVE_INFINITY,
  };
}

/**
 * Common rate per rotor-hour of several units with a log-scale interval whose half-width is multiplied by the square root
 * of phi (quasi-Poisson); phi below 1 is not used to narrow it.
 */
export function widenedRate(
  units: readonly CountOverHours[],
  confidence = 0.95,
): { readonly perHour: number; readonly phi: number; readonly interval: Interval } {
  requireFraction('confidence', confidence);
  const { phi } = measureDispersion(units);
  const all = pool(units);
  const perHour = all.count / all.rotorHours;
  const halfWidth = normalQuantile(0.5 + confidence / 2) * Math.sqrt(Math.max(1, phi) / all.count);
  return {
    perHour,
    phi,
    interval: { lower: perHour * Math.exp(-halfWidth), upper: perHour * Math.exp(halfWidth), confidence },
  };
}
