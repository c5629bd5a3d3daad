import { requirePositive, requireWhole, requireWithin } from './checks.js';
import {
  logCountAtMost,
  logCountProbability,
  logLargestEquals,
  logSplitProbability,
} from './count-likelihood.js';
import { type Evidence, onTargetNodes, sayEvidence, toEvidence, worseNodes } from './evidence.js';
import { type CountOverHours, requireExposure } from './exposure.js';
import type { Interval } from './interval.js';
import { type LogNode, logAverage, logSumExp } from './numeric.js';
import { poissonInterval } from './poisson-interval.js';
import { ratioInterval } from './rate-ratio.js';
import { sayNumber } from './words.js';

/** What "really raised" and "at the norm" mean; all three are judgement, kept in one place and open to the caller. */
export interface RisePrior {
  /** Median ratio of a rise worth speaking of (above 1). */
  readonly typicalRatio: number;
  /** Standard deviation of ln(ratio) about it; the prior is cut off at ratio 1. */
  readonly logSpread: number;
  /** Standard deviation of ln(ratio) about the norm when nothing is wrong (frames and lots differ a little). */
  readonly normSpread: number;
}

/** Judgement: a fault roughly doubles the breaks; a healthy frame stays within some 20 % of its norm (two standard deviations). */
export const RISE_PRIOR: RisePrior = { typicalRatio: 1.8, logSpread: 0.5, normSpread: 0.1 };

/**
 * For a single position picked as the worst: a failing part breaks several times as often as its neighbours, and how many
 * times varies widely. Judgement.
 */
export const POSITION_PRIOR: RisePrior = { typicalRatio: 3, logSpread: 0.7, normSpread: 0.1 };

/** A count held against a norm. */
export interface NormedCount extends CountOverHours {
  readonly normPer1000: number;
  /** Set when the position (or frame) was picked as the worst of this many, all run for the same hours. */
  readonly pickedFrom?: number;
  /** Variance over mean of such counts, 1 or more, if known. */
  readonly dispersion?: number;
  /** Default {@link RISE_PRIOR}, with `pickedFrom` {@link POSITION_PRIOR}. */
  readonly prior?: RisePrior;
}

/** Two groups held against each other, none of them a norm. */
export interface GroupedCounts {
  readonly a: CountOverHours;
  readonly b: CountOverHours;
  /** The group suspected to be raised; `either` (the default) shares the belief half and half. */
  readonly suspect?: 'a' | 'b' | 'either';
  readonly dispersion?: number;
  readonly prior?: RisePrior;
}

/** The evidence for a rise with the ratio it rests on. */
export interface RiseEvidence extends Evidence {
  readonly ratio: number;
  readonly ratioInterval: Interval;
  readonly words: string;
}

/**
 * Likelihood ratio of "the break rate is really raised" against "it is at the norm", by averaging the exact count
 * probability over a prior for the ratio on either side (see {@link RISE_PRIOR}; quadrature on ln ratio).
 *
 * A position picked as the worst of k is judged by the chance of so large a maximum: "one of the k is raised" against "none
 * is", which is what guards against regression to the mean. The other k - 1 are taken to be at the norm.
 * Standing: exact integration of a stated model; the priors are judgement.
 */
export function weighRise(input: NormedCount | GroupedCounts): RiseEvidence {
  return 'a' in input ? weighGroups(input) : weighAgainstNorm(input);
}

function weighAgainstNorm(input: NormedCount): RiseEvidence {
  requireExposure('measurement', input);
  requirePositive('normPer1000', input.normPer1000);
  const picked = requireWhole('pickedFrom', input.pickedFrom ?? 1, 1, 100_000);
  const phi = requireWithin('dispersion', input.dispersion ?? 1, 1, 1000);
  const expected = (input.normPer1000 * input.rotorHours) / 1000;
  const { worse, onTarget } = priors(
    input.prior ?? (picked > 1 ? POSITION_PRIOR : RISE_PRIOR),
    input.count,
    phi,
  );
  const one = (x: number) => logCountProbability(input.count, expected * Math.exp(x), phi);
  const ratio =
    picked === 1
      ? logAverage(worse, one) - logAverage(onTarget, one)
      : largestRatio(input.count, expected, phi, picked, worse, onTarget);
  const evidence = toEvidence(ratio);
  const limits = poissonInterval(input.count);
  const among =
    picked === 1 ? '' : `; picked as the worst of ${picked}, where chance alone also brings high counts`;
  return {
    ...evidence,
    ratio: input.count / expected,
    ratioInterval: { ...limits, lower: limits.lower / expected, upper: limits.upper / expected },
    words: `${input.count} breaks where the norm expects ${sayNumber(expected)}${among}: ${sayEvidence(evidence.strength, 'a real rise')}.`,
  };
}

/** ln ratio for the largest of k counts: with one raised, either that one is the largest or one of the others is. */
function largestRatio(
  count: number,
  expected: number,
  phi: number,
  picked: number,
  worse: readonly LogNode[],
  onTarget: readonly LogNode[],
): number {
  const mean = (x: number) => expected * Math.exp(x);
  const none = logAverage(onTarget, (x) => logLargestEquals(count, mean(x), phi, picked));
  const othersBelow = logAverage(onTarget, (x) => (picked - 1) * logCountAtMost(count, mean(x), phi));
  const othersHere = logAverage(onTarget, (x) => logLargestEquals(count, mean(x), phi, picked - 1));
  const raisedHere = logAverage(worse, (x) => logCountProbability(count, mean(x), phi));
  const raisedBelow = logAverage(worse, (x) => logCountAtMost(count - 1, mean(x), phi));
  return logSumExp([raisedHere + othersBelow, raisedBelow + othersHere]) - none;
}

function weighGroups(input: GroupedCounts): RiseEvidence {
  requireExposure('a', input.a);
  requireExposure('b', input.b);
  const phi = requireWithin('dispersion', input.dispersion ?? 1, 1, 1000);
  const suspect = input.suspect ?? 'either';
  const total = input.a.count + input.b.count;
  const { worse, onTarget } = priors(input.prior ?? RISE_PRIOR, total, phi);
  const split = (x: number) => {
    const weight = Math.exp(x) * input.a.rotorHours;
    return logSplitProbability(input.a.count, total, weight / (weight + input.b.rotorHours), phi);
  };
  const level = logAverage(onTarget, split);
  const aRaised = logAverage(worse, split) - level;
  const bRaised = logAverage(worse, (x) => split(-x)) - level;
  const ratios = {
    a: aRaised,
    b: bRaised,
    either: logSumExp([aRaised + Math.log(0.5), bRaised + Math.log(0.5)]),
  };
  const evidence = toEvidence(ratios[suspect]);
  const first = suspect === 'b' ? input.b : input.a;
  const second = suspect === 'b' ? input.a : input.b;
  const claim = suspect === 'either' ? 'a real difference' : `a real rise in group ${suspect}`;
  return {
    ...evidence,
    ratio: first.count / first.rotorHours / (second.count / second.rotorHours),
    ratioInterval: ratioInterval(first, second),
    words: `${input.a.count} breaks in ${sayNumber(input.a.rotorHours)} rotor-hours against ${input.b.count} in ${sayNumber(input.b.rotorHours)}: ${sayEvidence(evidence.strength, claim)}.`,
  };
}

function priors(prior: RisePrior, count: number, phi: number) {
  const { typicalRatio, logSpread, normSpread } = prior;
  requireWithin('prior.typicalRatio', typicalRatio, 1, 100);
  requirePositive('prior.logSpread', logSpread);
  requirePositive('prior.normSpread', normSpread);
  const resolution = Math.sqrt(phi / (count + 1));
  return {
    worse: worseNodes(Math.log(typicalRatio), logSpread, resolution),
    onTarget: onTargetNodes(normSpread, resolution),
  };
}
