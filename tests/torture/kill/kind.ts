/** Something the journal said it had: whatever the check of the kind needs to find it again. */
export type Acknowledged = Readonly<Record<string, unknown>>;

/** Where a writer writes: a data folder, or a database. */
export interface KillPlace {
  readonly folder: string;
  /** PostgreSQL in place of the file in the folder. */
  readonly url?: string;
}

/** One kind of write that is killed. */
export interface KillKind {
  /** Makes what the writer starts from, once. */
  prepare(place: KillPlace): Promise<void>;
  /** Writes until it is killed; calls `say` for what has been acknowledged. Rounds go on in the same place. */
  write(place: KillPlace, round: number, say: (what: Acknowledged) => void): Promise<never>;
  /** What was lost or left by half, one sentence each; `said` is from the round just killed. */
  check(place: KillPlace, said: readonly Acknowledged[]): Promise<readonly string[]>;
}

export const placeOf = ({ folder, url }: KillPlace) => (url === undefined ? { folder } : { url });
