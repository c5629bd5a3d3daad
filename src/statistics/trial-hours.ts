import { say } from '../language/say.js';
import { requireFraction, requirePositive, requireWithin } from './checks.js';
import {
  binomialAtLeast,
  binomialAtMost,
  binomialPmf,
  normalQuantile,
  poissonLogPmf,
} from './distributions.js';
import { StatisticsError } from './errors.js';
import { poissonUpperLimit } from './poisson-interval.js';

/** What a trial of break rates is to show. */
export interface TrialQuestion {
  /** Rate without the change, events per 1000 rotor-hours. */
  readonly ratePer1000: number;
  /** The rate ratio to be shown, changed over unchanged: 0.7 is a fall by 30 %. Not 1. */
  readonly ratio: number;
  /** Chance of showing it if it is there; default 0.8. */
  readonly power?: number;
  /** Two-sided error, default 0.05. */
  readonly alpha?: number;
  /** Variance over mean of the counts, 1 or more; multiplies the hours. */
  readonly dispersion?: number;
}

/** Size of a trial with equal rotor-hours on the changed and the control positions. */
export interface TrialSize {
  /** Rotor-hours on each of the two sides, for a test made once, when they are full. */
  readonly rotorHoursPerSide: number;
  /**
   * Rotor-hours on each side within which the verdict that may be read at any time (judgeTrial) comes with that power: 1.8 times
   * as many. Half of the trials are decided within about the hours above.
   */
  readonly anyTimeRotorHoursPerSide: number;
  readonly expectedControlCount: number;
  readonly expectedChangedCount: number;
  /** Power at that size: of the mid-p test if exact, else the one asked for. */
  readonly power: number;
  /** `exact`: the power of the conditional mid-p test was summed over all outcomes; `formula`: normal approximation on ln ratio. */
  readonly method: 'exact' | 'formula';
}

/**
 * What reading at any time costs: seen in simulation as 1.75 to 1.84 for ratios of 0.5 to 0.8 at 80 % power and 5 % error with
 * the mixture used by judgeTrial.
 */
const ANY_TIME_FACTOR = 1.8;

/** Expected events on both sides above which the exact sum is not made; the formula is then within a percent or two. */
const EXACT_LIMIT = 400;

/**
 * Rotor-hours per side by the formula T = (z₁₋α⸝₂ + z_power)²·(1/λ + 1/(λ·ratio)) / ln² ratio, times the dispersion
 * (Wald test of ln ratio, equal exposures). ratePer1000 > 0.
 */
export function trialHoursByFormula(question: TrialQuestion): number {
  const { rate, ratio, power, alpha, phi } = readQuestion(question);
  const z = normalQuantile(1 - alpha / 2) + normalQuantile(power);
  return (phi * z ** 2 * (1 / rate + 1 / (rate * ratio))) / Math.log(ratio) ** 2;
}

/** Total number of events at which a ratio is shown with the power asked for, equal exposures: 4·(z₁₋α⸝₂ + z_power)² / ln² ratio. */
export function trialEvents(ratio: number, power = 0.8, alpha = 0.05): number {
  requirePositive('ratio', ratio);
  if (ratio === 1) throw new StatisticsError('ratio', ratio, say('count-allowed.ratio-not-1'));
  const z =
    normalQuantile(1 - requireFraction('alpha', alpha) / 2) + normalQuantile(requireFraction('power', power));
  return (4 * z ** 2) / Math.log(ratio) ** 2;
}

/**
 * Rotor-hours a concurrent trial needs on each side. Where about 400 events or fewer are expected the power of the
 * two-sided mid-p test is summed exactly and the hours found by search; beyond that the formula is used. The result says which.
 * With dispersion the exact hours are multiplied by it, which is an approximation.
 */
export function planTrialHours(question: TrialQuestion): TrialSize {
  const { rate, ratio, power, alpha, phi } = readQuestion(question);
  const formula = trialHoursByFormula(question) / phi;
  const describe = (hours: number, reached: number, method: TrialSize['method']): TrialSize => ({
    rotorHoursPerSide: hours * phi,
    anyTimeRotorHoursPerSide: ANY_TIME_FACTOR * hours * phi,
    expectedControlCount: rate * hours * phi,
    expectedChangedCount: rate * ratio * hours * phi,
    power: reached,
    method,
  });
  if (formula * rate * (1 + ratio) > EXACT_LIMIT) return describe(formula, power, 'formula');
  const reach = (hours: number) => powerOfRateTest(rate * hours, rate * ratio * hours, { alpha });
  let low = formula * 0.4;
  let high = formula * 0.8;
  while (reach(high) < power) {
    low = high;
    high *= 1.25;
  }
  while (high / low > 1.002) {
    const middle = Math.sqrt(low * high);
    if (reach(middle) >= power) high = middle;
    else low = middle;
  }
  return describe(high, reach(high), 'exact');
}

/**
 * Exact chance that the two-sided conditional test of two counts with equal exposures rejects "no difference", for the given
 * expected counts. rule: `mid-p` (default, the verdict rule here) or `exact` (central). With equal expectations this is the
 * true size of the test.
 */
export function powerOfRateTest(
  expectedFirst: number,
  expectedSecond: number,
  options: { readonly alpha?: number; readonly rule?: 'mid-p' | 'exact' } = {},
): number {
  requirePositive('expectedFirst', expectedFirst);
  requirePositive('expectedSecond', expectedSecond);
  const alpha = requireFraction('alpha', options.alpha ?? 0.05);
  const half = options.rule === 'exact' ? 0 : 0.5;
  const mean = expectedFirst + expectedSecond;
  const share = expectedFirst / mean;
  const reach = 9 * Math.sqrt(mean) + 20;
  let power = 0;
  for (let n = Math.max(0, Math.floor(mean - reach)); n <= mean + reach; n++) {
    const low = lastRejectedLow(n, alpha / 2, half);
    if (low < 0) continue;
    const rejected = binomialAtMost(low, n, share) + binomialAtLeast(n - low, n, share);
    power += Math.exp(poissonLogPmf(n, mean)) * rejected;
  }
  return power;
}

/** Largest count out of n that the lower tail of the fair-share test still rejects; -1 when none. The upper side mirrors it. */
function lastRejectedLow(n: number, tail: number, half: number): number {
  let count = Math.max(0, Math.floor(n / 2 + (normalQuantile(tail) * Math.sqrt(n)) / 2) + 3);
  while (count >= 0 && binomialAtMost(count, n, 0.5) - half * binomialPmf(count, n, 0.5) > tail) count--;
  return Math.min(count, Math.ceil(n / 2) - 1);
}

/** The smallest fall (as a ratio) and the smallest rise that the given rotor-hours per side can show, by the formula. */
export function smallestProvable(
  ratePer1000: number,
  rotorHoursPerSide: number,
  options: { readonly power?: number; readonly alpha?: number; readonly dispersion?: number } = {},
): { readonly fallRatio: number | undefined; readonly riseRatio: number; readonly method: 'formula' } {
  requirePositive('rotorHoursPerSide', rotorHoursPerSide);
  const hours = (ratio: number) => trialHoursByFormula({ ...options, ratePer1000, ratio });
  // Towards a ratio of 0 the needed hours fall to a least value and rise again, as no events are left to count.
  const search = (towards: number): number | undefined => {
    let near = 0;
    for (let step = 1; step <= 400; step++) {
      const far = (towards * step) / 100;
      if (hours(Math.exp(far)) <= rotorHoursPerSide) {
        let inside = far;
        for (let i = 0; i < 60; i++) {
          const middle = (near + inside) / 2;
          if (middle === 0 || hours(Math.exp(middle)) > rotorHoursPerSide) near = middle;
          else inside = middle;
        }
        return Math.exp(inside);
      }
      near = far;
    }
    return undefined;
  };
  return { fallRatio: search(-1), riseRatio: search(1) ?? Number.POSITIVE_INFINITY, method: 'formula' };
}

/** Rotor-hours without a single event (or with `allowed` events) needed to say "the rate is below this", exact. */
export function hoursToClaimBelow(ratePer1000: number, confidence = 0.95, allowed = 0): number {
  requirePositive('ratePer1000', ratePer1000);
  return (1000 * poissonUpperLimit(allowed, confidence)) / ratePer1000;
}

/**
 * Tests per side needed to show a difference of two means, by the formula 2·(z₁₋α⸝₂ + z_power)²·(CV/difference)², plus a
 * quarter of z² for the unknown scale, rounded up. differencePercent and cvPercent are of the same mean.
 */
export function planTests(
  cvPercent: number,
  differencePercent: number,
  options: { readonly power?: number; readonly alpha?: number; readonly designEffect?: number } = {},
): { readonly testsPerSide: number; readonly method: 'formula' } {
  requirePositive('cvPercent', cvPercent);
  requirePositive('differencePercent', differencePercent);
  const power = requireFraction('power', options.power ?? 0.8);
  const alpha = requireFraction('alpha', options.alpha ?? 0.05);
  const designEffect = requireWithin('designEffect', options.designEffect ?? 1, 1, 1000);
  const zAlpha = normalQuantile(1 - alpha / 2);
  const z = zAlpha + normalQuantile(power);
  const tests = 2 * z ** 2 * (cvPercent / differencePercent) ** 2 + zAlpha ** 2 / 4;
  return { testsPerSide: Math.max(2, Math.ceil(tests * designEffect)), method: 'formula' };
}

function readQuestion(question: TrialQuestion) {
  const rate = requirePositive('ratePer1000', question.ratePer1000) / 1000;
  const ratio = requireWithin('ratio', question.ratio, 0.001, 1000);
  if (ratio === 1) throw new StatisticsError('ratio', ratio, say('count-allowed.ratio-not-1'));
  return {
    rate,
    ratio,
    power: requireFraction('power', question.power ?? 0.8),
    alpha: requireFraction('alpha', question.alpha ?? 0.05),
    phi: requireWithin('dispersion', question.dispersion ?? 1, 1, 1000),
  };
}
