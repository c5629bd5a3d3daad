/** A seeded generator of numbers in [0, 1). */
export type Random = () => number;

/**
 * Small fast counter generator (sfc32, Doty-Humphrey's PractRand), seeded through 15 warm-up rounds. The same seed gives
 * the same numbers on every machine, so that two views of one page agree.
 */
export class RandomStream {
  private a: number;
  private b = 0x9e3779b9 | 0;
  private c = 0x243f6a88 | 0;
  private counter = 1;

  /** @param seed any integer; its lower 32 bits count */
  constructor(seed: number) {
    this.a = seed | 0;
    for (let i = 0; i < 15; i++) this.next();
  }

  /** The next number, in [0, 1). */
  next(): number {
    const { b, c, counter } = this;
    const t = (((this.a + b) | 0) + counter) | 0;
    this.counter = (counter + 1) | 0;
    this.a = b ^ (b >>> 9);
    this.b = (c + (c << 3)) | 0;
    this.c = (((c << 21) | (c >>> 11)) + t) | 0;
    return (t >>> 0) / 4294967296;
  }

  /** The next numbers at once, which is several times as fast. @param count how many, from 0 to the array's length */
  fill(numbers: Float64Array, count: number): void {
    let { a, b, c, counter } = this;
    for (let i = 0; i < count; i++) {
      const t = (((a + b) | 0) + counter) | 0;
      counter = (counter + 1) | 0;
      a = b ^ (b >>> 9);
      b = (c + (c << 3)) | 0;
      c = (((c << 21) | (c >>> 11)) + t) | 0;
      numbers[i] = (t >>> 0) / 4294967296;
    }
    this.a = a;
    this.b = b;
    this.c = c;
    this.counter = counter;
  }
}

/** A `RandomStream` as a function. @param seed any integer; its lower 32 bits count */
export function seededRandom(seed: number): Random {
  const stream = new RandomStream(seed);
  return () => stream.next();
}
