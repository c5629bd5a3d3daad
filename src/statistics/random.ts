/**
 * A small seeded generator of uniform numbers in [0, 1) (sfc32, 128 bits of state, a public-domain design), so that every
 * Monte-Carlo p-value is the same on every page and every run. Not for secrets.
 */
export function createRandom(seed: number): () => number {
  let a = 0x9e3779b9;
  let b = 0x243f6a88;
  let c = seed | 0;
  let counter = 1;
  const next = (): number => {
    const sum = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + sum) | 0;
    return (sum >>> 0) / 4294967296;
  };
  // The first numbers still show the seed; they are thrown away.
  for (let i = 0; i < 15; i++) next();
  return next;
}

/** The seed used wherever the caller gives none. */
export const DEFAULT_SEED = 20_261;

/** Shares `total` events out at random over cells with the given weights (a multinomial draw); returns counts per cell. */
export function scatterEvents(
  total: number,
  cumulativeWeights: readonly number[],
  random: () => number,
  into: Int32Array,
): Int32Array {
  into.fill(0);
  const cells = cumulativeWeights.length;
  const whole = cumulativeWeights[cells - 1] ?? 0;
  for (let event = 0; event < total; event++) {
    const target = random() * whole;
    let low = 0;
    let high = cells - 1;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((cumulativeWeights[middle] ?? 0) > target) high = middle;
      else low = middle + 1;
    }
    into[low] = (into[low] ?? 0) + 1;
  }
  return into;
}

/** Running sums of a list of weights, for {@link scatterEvents}. */
export function accumulate(weights: readonly number[]): number[] {
  let sum = 0;
  return weights.map((weight) => {
    sum += weight;
    return sum;
  });
}
