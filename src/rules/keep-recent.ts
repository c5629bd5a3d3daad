/** The values used last, by key. */
export interface RecentKept<Key, Value> {
  /** The value, which counts as used now; undefined when there is none. */
  get(key: Key): Value | undefined;
  has(key: Key): boolean;
  /** Keeps a value; where there are too many now, the one not used for longest goes. */
  set(key: Key, value: Value): void;
}

/** Keeps the last so many values used. For answers that are worked out on the way there is `keepLast`. */
export function keepRecent<Key, Value>(most: number): RecentKept<Key, Value> {
  // A map lists its keys in the order in which they were put in.
  const kept = new Map<Key, Value>();
  const putLast = (key: Key, value: Value): void => {
    kept.delete(key);
    kept.set(key, value);
  };
  return {
    get(key) {
      const value = kept.get(key);
      if (value !== undefined) putLast(key, value);
      return value;
    },
    has: (key) => kept.has(key),
    set(key, value) {
      putLast(key, value);
      for (const oldest of kept.keys()) {
        if (kept.size <= most) break;
        kept.delete(oldest);
      }
    },
  };
}
