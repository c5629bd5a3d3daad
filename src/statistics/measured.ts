import { requireFraction, requireMembers, requirePositive, requireWithin } from './checks.js';
import { studentCritical, studentLogDensity } from './distributions.js';
import { StatisticsError } from './errors.js';
import { type Evidence, onTargetNodes, sayEvidence, toEvidence, worseNodes } from './evidence.js';
import type { Interval } from './interval.js';
import { logAverage, logSumExp } from './numeric.js';
import { sayNumber } from './words.js';

/** A test series given by its figures. */
export interface MeasuredSummary {
  readonly mean: number;
  /** Coefficient of variation between tests, in percent. */
  readonly cvPercent: number;
  /** Number of tests, 2 or more. */
  readonly tests: number;
}

/** What the series is held against. */
export interface MeasuredTarget {
  /** The wanted value, above 0, in the unit of the mean. */
  readonly target: number;
  /** Which side is worse: tenacity `lower`, unevenness `higher`, count and twist `either`. */
  readonly worse: 'lower' | 'higher' | 'either';
  /** A deviation worth speaking of, as a fraction of the target; default 0.08 (judgement). */
  readonly worthwhile?: number;
  /**
   * Number of tests that count as one because they came from the same package, as a design effect 1 or more; default 1.
   * Twenty tests on each of five packages tell less than a hundred on a hundred.
   */
  readonly designEffect?: number;
  readonly confidence?: number;
}

/** The evidence for a really worse property, with the interval of its mean. */
export interface MeasuredEvidence extends Evidence {
  readonly mean: number;
  readonly interval: Interval;
  /** (mean - target) / target. */
  readonly deviation: number;
  readonly words: string;
}

/** Default size of a deviation worth speaking of. Judgement. */
export const WORTHWHILE_DEVIATION = 0.08;

/** Mean, CV % and number of a list of readings (2 or more, not all alike). */
export function summariseReadings(readings: readonly number[]): MeasuredSummary {
  requireMembers('readings', readings, 2);
  readings.forEach((value, index) => {
    requireWithin(`readings[${index}]`, value, Number.MIN_VALUE, Number.MAX_VALUE);
  });
  const mean = readings.reduce((sum, value) => sum + value, 0) / readings.length;
  const variance = readings.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (readings.length - 1);
  if (variance === 0) throw new StatisticsError('readings', readings, 'readings that are not all alike');
  return { mean, cvPercent: (100 * Math.sqrt(variance)) / mean, tests: readings.length };
}

/**
 * Student's t interval for the mean and the likelihood ratio of "really worse than the target" against "at the target".
 *
 * Likelihood: the t density of the mean (scale integrated out). Really worse: ln(true/target) is normal about
 * ln(1 + worthwhile) in the worse direction with half that spread, cut off at 0. At target: normal about 0 with an eighth
 * of it. Standing: exact integration of a stated model; the priors are judgement.
 */
export function weighMeasured(
  series: MeasuredSummary | readonly number[],
  against: MeasuredTarget,
): MeasuredEvidence {
  const { mean, cvPercent, tests } = isReadings(series) ? summariseReadings(series) : series;
  requirePositive('mean', mean);
  requirePositive('cvPercent', cvPercent);
  if (!Number.isSafeInteger(tests) || tests < 2) {
    throw new StatisticsError('tests', tests, 'a whole number, 2 or more');
  }
  requirePositive('target', against.target);
  const worthwhile = requireFraction('worthwhile', against.worthwhile ?? WORTHWHILE_DEVIATION);
  const confidence = requireFraction('confidence', against.confidence ?? 0.95);
  const effective = tests / requireWithin('designEffect', against.designEffect ?? 1, 1, tests / 2);
  const standardError = (mean * cvPercent) / 100 / Math.sqrt(effective);
  const degrees = effective - 1;

  const typical = Math.log1p(worthwhile);
  const resolution = standardError / mean;
  const likelihood = (x: number) =>
    studentLogDensity((mean - against.target * Math.exp(x)) / standardError, degrees);
  const level = logAverage(onTargetNodes(typical / 8, resolution), likelihood);
  const worse = worseNodes(typical, typical / 2, resolution);
  const higher = logAverage(worse, likelihood) - level;
  const lower = logAverage(worse, (x) => likelihood(-x)) - level;
  const either = logSumExp([higher + Math.log(0.5), lower + Math.log(0.5)]);
  const evidence = toEvidence({ higher, lower, either }[against.worse]);

  const halfWidth = studentCritical((1 - confidence) / 2, degrees) * standardError;
  const interval = { lower: mean - halfWidth, upper: mean + halfWidth, confidence };
  const claim = { higher: 'above', lower: 'below', either: 'off' }[against.worse];
  return {
    ...evidence,
    mean,
    interval,
    deviation: (mean - against.target) / against.target,
    words: `Mean ${sayNumber(mean)} (${sayNumber(interval.lower)} to ${sayNumber(interval.upper)}) against ${sayNumber(against.target)}: ${sayEvidence(evidence.strength, `a mean really ${claim} the target`)}.`,
  };
}

function isReadings(series: MeasuredSummary | readonly number[]): series is readonly number[] {
  return Array.isArray(series);
}
