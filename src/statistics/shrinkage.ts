import { requireMembers } from './checks.js';
import { type CountOverHours, pool, requireExposure } from './exposure.js';

/** The spread of true rates among units, as a gamma distribution. */
export interface RateSpread {
  /** Mean rate per rotor-hour. */
  readonly mean: number;
  /** Gamma shape: 1/shape is the squared coefficient of variation of the true rates; Infinity when they show no spread. */
  readonly shape: number;
}

/**
 * Estimates the spread of the true rates of units with unequal hours by moments: the excess of Pearson's chi-square over
 * its degrees of freedom is put down to differences between units. With equal hours this is the negative-binomial moment
 * estimate. Needs 2 or more units; without events the spread is none.
 */
export function estimateRateSpread(units: readonly CountOverHours[]): RateSpread {
  requireMembers('units', units, 2);
  units.forEach((unit, index) => {
    requireExposure(`units[${index}]`, unit);
  });
  const all = pool(units);
  const mean = all.count / all.rotorHours;
  if (all.count === 0) return { mean, shape: Number.POSITIVE_INFINITY };
  let chiSquare = 0;
  let squares = 0;
  for (const unit of units) {
    const expected = mean * unit.rotorHours;
    chiSquare += (unit.count - expected) ** 2 / expected;
    squares += unit.rotorHours ** 2;
  }
  const excess = chiSquare - (units.length - 1);
  if (excess <= 0) return { mean, shape: Number.POSITIVE_INFINITY };
  return { mean, shape: (mean * (all.rotorHours - squares / all.rotorHours)) / excess };
}

/**
 * What a unit's rate per rotor-hour probably is, its own count drawn towards the mean of all (gamma–Poisson empirical
 * Bayes): (count + shape) / (hours + shape / mean). A unit picked because it was worst will show about this next time with
 * nothing done to it (regression to the mean). Published: Robbins 1956; Hauer 1997.
 */
export function shrinkRate(unit: CountOverHours, spread: RateSpread): number {
  requireExposure('unit', unit);
  if (spread.shape === Number.POSITIVE_INFINITY || spread.mean === 0) return spread.mean;
  return (unit.count + spread.shape) / (unit.rotorHours + spread.shape / spread.mean);
}
