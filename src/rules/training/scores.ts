/** How well stated confidences agree with what turned out to be so; smaller is better. */
export interface ConfidenceScore {
  /** Sum over the causes of (confidence − truth)², 0 or more. */
  readonly brier: number;
  /** Sum over the causes of −ln of the confidence given to what turned out. */
  readonly log: number;
}

/** Confidences are held within these before logarithms are taken, so that one slip does not decide everything. */
export const LEAST_CONFIDENCE = 0.01;
export const MOST_CONFIDENCE = 0.99;

/**
 * Brier score in its original form (G. W. Brier, "Verification of forecasts expressed in terms of probability", Monthly
 * Weather Review 78, 1950): Σ (f − E)², where E is 1 for what happened and else 0. Over exclusive answers whose
 * confidences add up to 1 it lies between 0 and 2. Standing: definition from memory.
 *
 * @param confidences 0–1 by cause; a cause that is not named has 0
 * @param truth the causes at work
 */
export function brierScore(confidences: ReadonlyMap<string, number>, truth: readonly string[]): number {
  return sumOver(confidences, truth, (p, happened) => (p - (happened ? 1 : 0)) ** 2);
}

/**
 * Logarithmic score (I. J. Good, "Rational decisions", Journal of the Royal Statistical Society B 14, 1952): −ln p of
 * what happened, here of each named or true cause being at work or not, confidences held within 0.01 and 0.99.
 * Standing: definition from memory.
 */
export function logScore(confidences: ReadonlyMap<string, number>, truth: readonly string[]): number {
  return sumOver(confidences, truth, (p, happened) => {
    const held = Math.min(MOST_CONFIDENCE, Math.max(LEAST_CONFIDENCE, p));
    return -Math.log(happened ? held : 1 - held);
  });
}

function sumOver(
  confidences: ReadonlyMap<string, number>,
  truth: readonly string[],
  score: (p: number, happened: boolean) => number,
): number {
  let sum = 0;
  for (const cause of new Set([...confidences.keys(), ...truth]))
    sum += score(confidences.get(cause) ?? 0, truth.includes(cause));
  return sum;
}
