import { type Random, seededRandom } from '../network/random.js';

/**
 * A generator for one named purpose: the same words and numbers give the same stream on every machine, and streams of
 * different names do not depend on the order in which they are asked for (FNV-1a over the joined name).
 */
export function randomFor(...name: readonly (string | number)[]): Random {
  let hash = 0x811c9dc5;
  for (const character of name.join('\u0000')) {
    hash ^= character.codePointAt(0) ?? 0;
    hash = Math.imul(hash, 0x01000193);
  }
  return seededRandom(hash);
}

/** Draws one entry with the given weights (not negative, one above 0); undefined when there is none to draw. */
export function drawWeighted<T>(random: Random, entries: readonly (readonly [T, number])[]): T | undefined {
  const total = entries.reduce((sum, [, weight]) => sum + weight, 0);
  let left = random() * total;
  for (const [value, weight] of entries) {
    left -= weight;
    if (left < 0 && weight > 0) return value;
  }
  return entries.findLast(([, weight]) => weight > 0)?.[0];
}

/** Draws one entry, all alike; undefined from an empty list. */
export const drawOne = <T>(random: Random, entries: readonly T[]): T | undefined =>
  entries[Math.floor(random() * entries.length)];

/** A uniform number between two ends. */
export const drawBetween = (random: Random, low: number, high: number): number =>
  low + (high - low) * random();

/** Means are drawn in portions of at most this, so that the product of uniforms stays above the smallest number. */
const PORTION = 30;

/**
 * A Poisson count (Knuth's product of uniforms, exact).
 * @param mean expected count, 0 to about a million
 */
export function drawPoisson(random: Random, mean: number): number {
  let count = 0;
  for (let left = mean; left > 0; left -= PORTION) {
    const limit = Math.exp(-Math.min(left, PORTION));
    for (let product = random(); product > limit; product *= random()) count++;
  }
  return count;
}

/** A standard normal number (Box and Muller 1958). */
export function drawNormal(random: Random): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}
