import { summariseColumn } from '../../spinning/summary.js';
import type { Ranged } from './types.js';

/**
 * Median and 5 % and 95 % points of weighted draws.
 *
 * @param column at least one finite value
 * @param weights as many, 0 or more, not all 0; all alike gives the plain quantiles
 */
export function weightedRange(column: Float64Array, weights: Float64Array): Ranged {
  const [first] = weights;
  if (weights.every((weight) => weight === first)) {
    const { median, low, high } = summariseColumn(column);
    return { value: median, low, high };
  }
  const order = Array.from(column.keys()).sort((a, b) => (column[a] ?? 0) - (column[b] ?? 0));
  let total = 0;
  for (const weight of weights) total += weight;
  const at = (share: number) => {
    let below = 0;
    let last = 0;
    for (const i of order) {
      below += weights[i] ?? 0;
      last = column[i] ?? 0;
      if (below >= share * total - 1e-12) return last;
    }
    return last;
  };
  return { value: at(0.5), low: at(0.05), high: at(0.95) };
}
