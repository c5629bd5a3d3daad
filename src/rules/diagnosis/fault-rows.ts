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
  let total = 0;
  for (const column of columns) for (let row = 0; row < samples.count; row++) total += column[row] as number;
  const starts = new Int32Array(samples.count + 1);
  const members = new Int32Array(total);
  let at = 0;
  for (let row = 0; row < samples.count; row++) {
    starts[row] = at;
    for (let c = 0; c < columns.length; c++) if ((columns[c] as Uint8Array)[row] === 1) members[at++] = c;
  }
  starts[samples.count] = at;
  return { causes, starts, members, count: samples.count };
}

/** The different sets of causes among the rows with how often each occurs. */
export function countFaultSets(rows: FaultRows): { members: readonly number[]; count: number }[] {
  const sets = new Map<string, { members: readonly number[]; count: number }>();
  for (let row = 0; row < rows.count; row++) {
    const members = Array.from(rows.members.subarray(rows.starts[row], rows.starts[row + 1]));
    const key = members.join();
    const set = sets.get(key);
    if (set === undefined) sets.set(key, { members, count: 1 });
    else set.count++;
  }
  return [...sets.values()];
}
