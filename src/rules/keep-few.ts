/** The few values used last, by key. */
export interface FewKept<Value> {
  get(key: string): Value | undefined;
  /** Puts a value in the place of the one not used for longest. */
  put(key: string, value: Value): void;
  drop(key: string): void;
}

/**
 * Keeps a few large values for a short while. A fixed row of places and not a map: maps that are written to all the time
 * throw tables away, and a table that has grown old keeps what it held alive until the whole memory is swept.
 *
 * @param most values kept, some dozens at most: every use looks at each
 */
export function keepFew<Value>(most: number): FewKept<Value> {
  const keys = new Array<string | undefined>(most).fill(undefined);
  const values = new Array<Value | undefined>(most).fill(undefined);
  const uses = new Float64Array(most);
  let now = 0;
  const find = (key: string): number => {
    const at = keys.indexOf(key);
    if (at >= 0) uses[at] = ++now;
    return at;
  };
  return {
    get(key) {
      const at = find(key);
      return at < 0 ? undefined : values[at];
    },
    put(key, value) {
      let at = find(key);
      if (at < 0) {
        at = 0;
        for (let i = 1; i < most; i++) if ((uses[i] as number) < (uses[at] as number)) at = i;
      }
      keys[at] = key;
      values[at] = value;
      uses[at] = ++now;
    },
    drop(key) {
      const at = find(key);
      if (at < 0) return;
      keys[at] = undefined;
      values[at] = undefined;
      uses[at] = 0;
    },
  };
}
