import { gammaQuantile } from '../../statistics/incomplete-gamma.js';
import type { Interval } from '../../statistics/index.js';

/** What is needed of a sum of costs over cases: the sum, the sum of squares and the largest. */
export interface CostSum {
  readonly sum: number;
  readonly sumOfSquares: number;
  readonly largest: number;
}

/**
 * Interval for the expected sum of costs when the cases come as a Poisson process and each brings its cost: the gamma
 * interval for a weighted sum of Poisson counts (Fay and Feuer 1997, from memory). With all costs equal it is Garwood's
 * interval times that cost. A sum of 0 has no interval, because nothing is known of what a case would cost.
 */
export function costInterval({ sum, sumOfSquares, largest }: CostSum, confidence = 0.95): Interval | null {
  if (sum <= 0 || sumOfSquares <= 0) return null;
  const tail = (1 - confidence) / 2;
  const scale = sumOfSquares / sum;
  const upperVariance = sumOfSquares + largest ** 2;
  const upperMean = sum + largest;
  return {
    lower: scale * gammaQuantile(sum / scale, tail),
    upper: (upperVariance / upperMean) * gammaQuantile(upperMean ** 2 / upperVariance, 1 - tail),
    confidence,
  };
}
