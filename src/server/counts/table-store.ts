import { randomBytes } from 'node:crypto';

/** Largest table taken from a browser. */
export const TABLE_BYTES = 16 * 1024 * 1024;
/** Minutes that a table is kept after it was last looked at. */
export const KEPT_MINUTES = 30;
const ALL_BYTES = 64 * 1024 * 1024;
const MOST_TABLES = 50;

/** A table between being sent and being answered. */
export interface KeptTable {
  readonly id: string;
  readonly name: string;
  readonly bytes: Uint8Array;
  /** Whatever was worked out from it, by query. */
  readonly answers: Map<string, unknown>;
}

/** Tables in memory, for as long as their columns are being confirmed and their answer looked at; never written anywhere. */
export interface TableStore {
  keep(name: string, bytes: Uint8Array): KeptTable;
  /** The table of that id, kept anew; undefined when it is unknown or its time is over. */
  find(id: string): KeptTable | undefined;
}

/**
 * Starts an empty store. The oldest tables go when there are too many or too large ones.
 * @param now clock in milliseconds
 */
export function createTableStore(now: () => number = Date.now): TableStore {
  const tables = new Map<string, { readonly table: KeptTable; seen: number }>();
  const prune = () => {
    const limit = now() - KEPT_MINUTES * 60_000;
    let size = 0;
    for (const { table } of tables.values()) size += table.bytes.length;
    for (const [id, entry] of tables) {
      if (entry.seen >= limit && size <= ALL_BYTES && tables.size <= MOST_TABLES) continue;
      size -= entry.table.bytes.length;
      tables.delete(id);
    }
  };
  return {
    keep: (name, bytes) => {
      const table: KeptTable = { id: randomBytes(16).toString('hex'), name, bytes, answers: new Map() };
      tables.set(table.id, { table, seen: now() });
      prune();
      return table;
    },
    find: (id) => {
      prune();
      const entry = tables.get(id);
      if (entry === undefined) return undefined;
      entry.seen = now();
      // Last in, last to go.
      tables.delete(id);
      tables.set(id, entry);
      return entry.table;
    },
  };
}
