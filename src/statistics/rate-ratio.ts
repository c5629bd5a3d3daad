import { requireFraction, requirePositive } from './checks.js';
import { betaQuantile, binomialAtLeast, binomialAtMost, binomialPmf } from './distributions.js';
import { type CountOverHours, requireExposure } from './exposure.js';
import type { Interval } from './interval.js';
import { type CountTest, countTest } from './tails.js';
import { sayNumber, sayP, sayRange } from './words.js';

/** How two counted rates stand to each other; ratio is the first divided by the second. */
export interface RateComparison {
  /** First rate over second rate; NaN when neither has an event, Infinity when only the first has. */
  readonly ratio: number;
  readonly interval: Interval;
  readonly test: CountTest;
  readonly verdict: 'first-higher' | 'first-lower' | 'not-shown';
  readonly words: string;
}

/**
 * Compares two counted rates (two frames, two periods) by the exact conditional test: given the total of events, the
 * first count is binomial with the share R·t1/(R·t1 + t2). R is `nullRatio`, 1 for "the same".
 * Rule: two-sided, central (twice the smaller tail); the interval for the ratio is Clopper–Pearson on that share, which is
 * the inversion of the exact central test, so p and interval agree. The verdict uses mid-p (see {@link compareWithNorm}).
 * Published: Przyborowski & Wilenski 1940; the central rule as in Fay 2010.
 */
export function compareRates(
  first: CountOverHours,
  second: CountOverHours,
  options: { readonly nullRatio?: number; readonly alpha?: number } = {},
): RateComparison {
  requireExposure('first', first);
  requireExposure('second', second);
  const nullRatio = requirePositive('nullRatio', options.nullRatio ?? 1);
  const alpha = requireFraction('alpha', options.alpha ?? 0.05);
  const total = first.count + second.count;
  const share = (nullRatio * first.rotorHours) / (nullRatio * first.rotorHours + second.rotorHours);
  const test = countTest(
    binomialAtMost(first.count, total, share),
    binomialAtLeast(first.count, total, share),
    binomialPmf(first.count, total, share),
  );
  const ratio = first.count / first.rotorHours / (second.count / second.rotorHours);
  const interval = ratioInterval(first, second, 1 - alpha);
  const higher = test.midP.high < test.midP.low;
  const verdict = test.midP.twoSided > alpha ? 'not-shown' : higher ? 'first-higher' : 'first-lower';
  return { ratio, interval, test, verdict, words: describe(verdict, ratio, interval, test, nullRatio) };
}

/** Exact (Clopper–Pearson based) interval for the ratio of two Poisson rates, first over second. */
export function ratioInterval(first: CountOverHours, second: CountOverHours, confidence = 0.95): Interval {
  requireExposure('first', first);
  requireExposure('second', second);
  requireFraction('confidence', confidence);
  const tail = (1 - confidence) / 2;
  const odds = (share: number) => ((share / (1 - share)) * second.rotorHours) / first.rotorHours;
  const lower = first.count === 0 ? 0 : odds(betaQuantile(tail, first.count, second.count + 1));
  const upper =
    second.count === 0
      ? Number.POSITIVE_INFINITY
      : odds(betaQuantile(1 - tail, first.count + 1, second.count));
  return { lower, upper, confidence };
}

function describe(
  verdict: RateComparison['verdict'],
  ratio: number,
  interval: Interval,
  test: CountTest,
  nullRatio: number,
): string {
  const against = nullRatio === 1 ? '' : ` against a ratio of ${sayNumber(nullRatio)}`;
  const evidence = `mid-p ${sayP(test.midP.twoSided)}${against}; the true ratio is ${sayRange(interval)}`;
  if (Number.isNaN(ratio)) return 'Neither has an event yet: nothing can be said about their ratio.';
  const seen =
    ratio === Number.POSITIVE_INFINITY ? 'events in the first only' : `a ratio of ${sayNumber(ratio)}`;
  if (verdict === 'not-shown') return `No difference is shown: ${seen} (${evidence}).`;
  return `The first is really ${verdict === 'first-higher' ? 'higher' : 'lower'}: ${seen} (${evidence}).`;
}
