import type { PosteriorSamples } from '../network/network.js';

/** Which causes are at work in each posterior sample, as short lists: most samples hold one or two. */
export interface FaultRows {
  readonly causes: readonly string[];
  /** Causes of row r: `members[starts[r] .. starts[r + 1])`, as indices into `causes`. */
  readonly starts: Int32Array;
  readonly members: Int32Array;
  readonly count: number;
}

/** Lists the causes at work, row by row, out of those given. */
export function listFaults(samples: PosteriorSamples, causes: readonly string[]): FaultRows {
  const columns = causes.map((id) => samples.column(id));
  const { count } = samples;
  const starts = new Int32Array(count + 1);
  for (const column of columns) countRows(column, starts);
  for (let row = 0; row < count; row++)
    starts[row + 1] = (starts[row + 1] as number) + (starts[row] as number);
  const members = new Int32Array(starts[count] as number);
  const next = starts.slice(0, count);
  for (let c = 0; c < columns.length; c++) enterMember(columns[c] as Uint8Array, c, members, next);
  return { causes, starts, members, count };
}

/** Adds one at the place after each row that holds the cause. */
function countRows(column: Uint8Array, after: Int32Array): void {
  for (let row = 0; row < column.length; row++)
    after[row + 1] = (after[row + 1] as number) + (column[row] as number);
}

/** Enters a cause in the rows that hold it. @param next where the next member of each row goes */
function enterMember(column: Uint8Array, cause: number, members: Int32Array, next: Int32Array): void {
  for (let row = 0; row < column.length; row++) {
    if (column[row] !== 1) continue;
    const at = next[row] as number;
    members[at] = cause;
    next[row] = at + 1;
  }
}

/** The different sets of causes among rows. */
export interface FaultSets {
  /** Causes of set s: `members[starts[s] .. starts[s + 1])`. */
  readonly starts: Int32Array;
  readonly members: Int32Array;
  /** Rows that hold each set. */
  readonly counts: Int32Array;
  /** By cause, the sets that it is in. */
  readonly having: readonly (readonly number[])[];
}

/** The different sets of causes among the rows with how often each occurs. */
export function countFaultSets(rows: FaultRows): FaultSets {
  const numbers = new Map<string, number>();
  const counts: number[] = [];
  const starts: number[] = [0];
  const members: number[] = [];
  const having = rows.causes.map((): number[] => []);
  for (let row = 0; row < rows.count; row++) {
    const from = rows.starts[row] as number;
    const to = rows.starts[row + 1] as number;
    let key = '';
    for (let at = from; at < to; at++) key += String.fromCharCode(rows.members[at] as number);
    const known = numbers.get(key);
    if (known !== undefined) {
      counts[known] = (counts[known] as number) + 1;
      continue;
    }
    const set = counts.push(1) - 1;
    numbers.set(key, set);
    for (let at = from; at < to; at++) {
      members.push(rows.members[at] as number);
      having[rows.members[at] as number]?.push(set);
    }
    starts.push(members.length);
  }
  return {
    starts: Int32Array.from(starts),
    members: Int32Array.from(members),
    counts: Int32Array.from(counts),
    having,
  };
}
