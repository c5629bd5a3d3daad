import { createRandom } from '../../statistics/random.js';

/** Seeded random draws: the same seed gives the same mill. */
export interface Draws {
  /** Uniform in [0, 1). */
  readonly next: () => number;
  /** True with the given chance. */
  chance(probability: number): boolean;
  /** A whole number from `low` to `high`, both included. */
  whole(low: number, high: number): number;
  /** A number from `low` to `high`. */
  between(low: number, high: number): number;
  /** One of a list, which must not be empty. */
  pick<T>(list: readonly T[]): T;
  /** One of a list by weight. */
  weighted<T>(list: readonly T[], weightOf: (one: T) => number): T;
  /** A positive number about a median; `spread` is the standard deviation of its logarithm. */
  logNormal(median: number, spread: number): number;
  /** A Poisson count. */
  poisson(mean: number): number;
}

/** Draws from a seed. */
export function drawsFrom(seed: number): Draws {
  const next = createRandom(seed);
  const normal = () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  return {
    next,
    chance: (probability) => next() < probability,
    whole: (low, high) => low + Math.floor(next() * (high - low + 1)),
    between: (low, high) => low + next() * (high - low),
    pick: (list) => {
      const one = list[Math.floor(next() * list.length)];
      if (one === undefined) throw new RangeError('list: empty; allowed: at least one to pick from');
      return one;
    },
    weighted: (list, weightOf) => {
      const total = list.reduce((sum, one) => sum + weightOf(one), 0);
      let target = next() * total;
      for (const one of list) {
        target -= weightOf(one);
        if (target < 0) return one;
      }
      const last = list.at(-1);
      if (last === undefined) throw new RangeError('list: empty; allowed: at least one to pick from');
      return last;
    },
    logNormal: (median, spread) => median * Math.exp(spread * normal()),
    poisson: (mean) => {
      // Above 50 the normal distribution is near enough for invented counts.
      if (mean > 50) return Math.max(0, Math.round(mean + Math.sqrt(mean) * normal()));
      const least = Math.exp(-mean);
      let count = 0;
      for (let product = next(); product > least; product *= next()) count++;
      return count;
    },
  };
}
