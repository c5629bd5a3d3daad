/** A seeded generator of numbers in [0, 1). */
export type Random = () => number;

/**
 * Small fast counter generator (sfc32, Doty-Humphrey's PractRand), seeded through 15 warm-up rounds. The same seed gives
 * the same numbers on every machine, so that two views of one page agree.
 * @param seed any integer; its lower 32 bits count
 */
export function seededRandom(seed: number): Random {
  let a = seed | 0;
  let b = 0x9e3779b9 | 0;
  let c = 0x243f6a88 | 0;
  let counter = 1;
  const next = (): number => {
    const t = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + t) | 0;
    return (t >>> 0) / 4294967296;
  };
  for (let i = 0; i < 15; i++) next();
  return next;
}
