import type { RandomStream } from './random.js';

/**
 * Random numbers for draws from one distribution: of n, one lies in each n-th part of 0 to 1, in random order. So the draws
 * share the states of the distribution out evenly, and each by itself is as random as any.
 */
export class Strata {
  /** Parts not drawn from yet come first. */
  private readonly parts: Int32Array;
  private readonly numbers: Float64Array;

  /** @param most draws that one distribution may be asked for */
  constructor(
    private readonly random: RandomStream,
    most: number,
  ) {
    this.parts = new Int32Array(most);
    this.numbers = new Float64Array(most + 1);
  }

  /**
   * Numbers in [0, 1) for one distribution.
   * @param count how many, from 1 to the most
   * @returns an array that begins with them; the next call overwrites it
   */
  draw(count: number): Float64Array {
    const { numbers, parts } = this;
    this.random.fill(numbers, count + 1);
    const within = numbers[0] as number;
    for (let part = 0; part < count; part++) parts[part] = part;
    for (let i = 0; i < count; i++) {
      const left = count - i;
      const at = ((numbers[i + 1] as number) * left) | 0;
      numbers[i] = ((parts[at] as number) + within) / count;
      parts[at] = parts[left - 1] as number;
    }
    return numbers;
  }
}
