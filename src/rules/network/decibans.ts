/** How much a weight of evidence says, by its size. */
export type WeightWord = 'barely' | 'some' | 'clear' | 'strong';

function checkProbability(p: number): void {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`a probability must lie in [0, 1], not ${p}`);
}

/** 10 log10 of the odds of a probability in [0, 1], in decibans; ±Infinity at 1 and 0. Source: Good 1950. */
export function logOdds(probability: number): number {
  checkProbability(probability);
  return 10 * (Math.log10(probability) - Math.log1p(-probability) / Math.LN10);
}

/** Probability with these log-odds, in decibans. Inverse of `logOdds`. */
export function probabilityOf(decibans: number): number {
  return 1 / (1 + 10 ** (-decibans / 10));
}

/** 10 log10 of a likelihood ratio (0 or more). */
export function decibansOfRatio(ratio: number): number {
  if (!(ratio >= 0)) throw new RangeError(`a likelihood ratio must be 0 or more, not ${ratio}`);
  return 10 * Math.log10(ratio);
}

/**
 * Weight of evidence in decibans: the change in log-odds from one probability to another. 0 when both are equal, also at
 * 0 or 1. Source: Good 1950, 1985.
 */
export function weightOfEvidence(before: number, after: number): number {
  checkProbability(before);
  checkProbability(after);
  return before === after ? 0 : logOdds(after) - logOdds(before);
}

/** The scale of words: below 3 barely, to 7 some, to 13 clear, above strong. Sign is ignored. Standing: judgement. */
export function weightInWords(decibans: number): WeightWord {
  const size = Math.abs(decibans);
  if (Number.isNaN(size)) throw new RangeError('a weight of evidence must be a number');
  if (size < 3) return 'barely';
  if (size < 7) return 'some';
  return size <= 13 ? 'clear' : 'strong';
}
