/**
 * The x in [low, high] where `f` changes sign, by bisection to full precision. `f(low)` and `f(high)` must differ in sign
 * (a root at an end is accepted). Slow but it cannot run away.
 */
export function findRoot(f: (x: number) => number, low: number, high: number): number {
  let left = low;
  let right = high;
  const leftSign = Math.sign(f(left));
  for (let step = 0; step < 200; step++) {
    const middle = 0.5 * (left + right);
    if (middle === left || middle === right) break;
    if (Math.sign(f(middle)) === leftSign) left = middle;
    else right = middle;
  }
  return 0.5 * (left + right);
}

/** ln of the sum of exp(values), safe against under- and overflow; -Infinity for an empty list. */
export function logSumExp(values: readonly number[]): number {
  let largest = Number.NEGATIVE_INFINITY;
  for (const value of values) if (value > largest) largest = value;
  if (largest === Number.NEGATIVE_INFINITY) return largest;
  let sum = 0;
  for (const value of values) sum += Math.exp(value - largest);
  return largest + Math.log(sum);
}

/** A node of a weighted grid: the point and ln of its weight. */
export interface LogNode {
  readonly at: number;
  readonly logWeight: number;
}

/**
 * Simpson nodes on [low, high] with ln weights that include ln density and are normalised to sum to 1: a prior made ready
 * for averaging. `intervals` is even.
 */
export function densityNodes(
  logDensity: (x: number) => number,
  low: number,
  high: number,
  intervals: number,
): LogNode[] {
  const step = (high - low) / intervals;
  const raw: LogNode[] = [];
  for (let i = 0; i <= intervals; i++) {
    const at = low + i * step;
    const simpson = i === 0 || i === intervals ? 1 : i % 2 === 1 ? 4 : 2;
    raw.push({ at, logWeight: Math.log(simpson) + logDensity(at) });
  }
  const total = logSumExp(raw.map((node) => node.logWeight));
  return raw.map((node) => ({ at: node.at, logWeight: node.logWeight - total }));
}

/** ln of the average of exp(f(x)) over a prior given as nodes. */
export function logAverage(nodes: readonly LogNode[], f: (x: number) => number): number {
  return logSumExp(nodes.map((node) => node.logWeight + f(node.at)));
}
