/** The tail probabilities of a count test, one-sided both ways and two-sided by the central rule. */
export interface TailProbabilities {
  /** P(count this low or lower). */
  readonly low: number;
  /** P(count this high or higher). */
  readonly high: number;
  /**
   * Two-sided by the central rule: twice the smaller tail, at most 1. The rule is chosen because it is the one an exact
   * central interval inverts, so the p-value and the interval never disagree.
   */
  readonly twoSided: number;
}

/** Both flavours of the tails: exact (never too many false alarms) and mid-p (the observed count taken half; near the nominal size). */
export interface CountTest {
  readonly exact: TailProbabilities;
  readonly midP: TailProbabilities;
}

/** Makes the two flavours from the two exact tails and the probability of the observed count itself. */
export function countTest(low: number, high: number, atObserved: number): CountTest {
  return { exact: tails(low, high), midP: tails(low - 0.5 * atObserved, high - 0.5 * atObserved) };
}

function tails(low: number, high: number): TailProbabilities {
  return { low, high, twoSided: Math.min(1, 2 * Math.min(low, high)) };
}
