import type { Random } from './random.js';

/**
 * Random numbers for draws from one distribution: of n, one lies in each n-th part of 0 to 1, in random order. So the draws
 * share the states of the distribution out evenly, and each by itself is as random as any.
 */
export class Strata {
  /** Parts not drawn from yet: the first `left`. */
  private readonly parts: Int32Array;
  private left = 0;
  private count = 1;
  private within = 0;

  /** @param most draws that one distribution may be asked for */
  constructor(
    private readonly random: Random,
    most: number,
  ) {
    this.parts = new Int32Array(most);
  }

  /** Starts anew. @param count draws to come, from 1 to the most; beyond them nothing sensible comes */
  begin(count: number): void {
    this.count = count;
    this.left = count;
    this.within = this.random();
    for (let part = 0; part < count; part++) this.parts[part] = part;
  }

  /** The next number, in [0, 1). */
  next(): number {
    const at = Math.floor(this.random() * this.left);
    const part = this.parts[at] as number;
    this.left--;
    this.parts[at] = this.parts[this.left] as number;
    return (part + this.within) / this.count;
  }
}
