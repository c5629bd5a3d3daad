/** A seeded generator of numbers in [0, 1). */
export type Random = () => number;

/**
 * Small fast counter generator (sfc32, Doty-Humphrey's PractRand), seeded through 15 warm-up rounds. The same seed gives
 * the same numbers on every machine, so that two views of one page agree.
 * @param seed any integer; its lower 32 bits count
 */
export function seededRandom(seed: number): Random {
  const generator = new Generator(seed);
  for (let i = 0; i < 15; i++) generator.next();
  return () => generator.next();
}

class Generator {
  private a: number;
  private b = 0x9e3779b9 | 0;
  private c = 0x243f6a88 | 0;
  private counter = 1;

  constructor(seed: number) {
    this.a = seed | 0;
  }

  next(): number {
    const { b, c, counter } = this;
    const t = (((this.a + b) | 0) + counter) | 0;
    this.counter = (counter + 1) | 0;
    this.a = b ^ (b >>> 9);
    this.b = (c + (c << 3)) | 0;
    this.c = (((c << 21) | (c >>> 11)) + t) | 0;
    return (t >>> 0) / 4294967296;
  }
}
