/** What was answered last, by question. */
export interface Keeping<Value> {
  /** What was answered before, or else the answer now worked out. */
  <Answer extends Value>(key: string, work: () => Promise<Answer>): Promise<Answer>;
  has(key: string): boolean;
}

interface Kept<Value> {
  readonly result: Promise<Value>;
  size: number;
}

/**
 * Keeps the answers asked for last, as much as there is room for; those not asked for longest go first. A failure is
 * not kept, for the next one may go well.
 * @param most room for all of them together
 * @param sizeOf room that an answer takes; undefined: not answered yet. Left out: each takes one
 */
export function keepLast<Value>(
  most: number,
  sizeOf: (key: string, answer: Value | undefined) => number = () => 1,
): Keeping<Value> {
  const kept = new Map<string, Kept<Value>>();
  let total = 0;
  const forget = (key: string, one: Kept<Value>): void => {
    if (kept.get(key) !== one) return;
    kept.delete(key);
    total -= one.size;
  };
  const makeRoom = (): void => {
    for (const [key, one] of kept) {
      if (total <= most) break;
      forget(key, one);
    }
  };
  const keep = <Answer extends Value>(key: string, work: () => Promise<Answer>): Promise<Answer> => {
    const known = kept.get(key);
    if (known !== undefined) {
      kept.delete(key);
      kept.set(key, known);
      return known.result as Promise<Answer>;
    }
    const result = work();
    const one: Kept<Value> = { result, size: sizeOf(key, undefined) };
    kept.set(key, one);
    total += one.size;
    result.then(
      (answer) => {
        if (kept.get(key) !== one) return;
        total -= one.size;
        one.size = sizeOf(key, answer);
        total += one.size;
        makeRoom();
      },
      () => forget(key, one),
    );
    makeRoom();
    return result;
  };
  return Object.assign(keep, { has: (key: string) => kept.has(key) });
}
