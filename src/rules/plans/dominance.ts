/** A point to be compared: whole numbers, more being better on each, and its place on a tie (lower first). */
export interface Point {
  readonly vector: ArrayLike<number>;
  readonly order: number;
}

/**
 * Whether `a` makes `b` superfluous: nowhere less, and somewhere more or, if level everywhere, before it in order.
 */
export function covers(a: Point, b: Point): boolean {
  let more = false;
  for (let i = 0; i < a.vector.length; i++) {
    const [x, y] = [a.vector[i] ?? 0, b.vector[i] ?? 0];
    if (x < y) return false;
    if (x > y) more = true;
  }
  return more || a.order < b.order;
}

/**
 * The points that no other covers, by order. Of points level everywhere the first in order stays.
 *
 * Points are taken by falling sum, so that a later one can never cover an earlier: each is held against those kept.
 */
export function efficientPoints<P extends Point>(points: readonly P[]): P[] {
  const kept: P[] = [];
  for (const point of bySum(points)) if (!kept.some((one) => covers(one, point))) kept.push(point);
  return kept.sort((a, b) => a.order - b.order);
}

/** Points by falling sum, then in order: none can be covered by one after it. */
export function bySum<P extends Point>(points: readonly P[]): P[] {
  return points
    .map((point) => ({ point, sum: sumOf(point.vector) }))
    .sort((a, b) => b.sum - a.sum || a.point.order - b.point.order)
    .map(({ point }) => point);
}

function sumOf(vector: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < vector.length; i++) sum += vector[i] ?? 0;
  return sum;
}
