import { type Findings, PRESENT, SET, SOFT, UNKNOWN } from './findings.js';
import type { Random } from './random.js';
import { Strata } from './strata.js';
import type { Numbers, Structure } from './structure.js';

/** One column of 0 and 1 for each node that is sampled. */
export type Columns = (Uint8Array | undefined)[];

/** Whether a node gets a column: two-state nodes that bear on the evidence, cause something, or are roots. */
function hasColumn(structure: Structure, relevant: Uint8Array, n: number): boolean {
  if (structure.graded[n] === 1) return false;
  const root = structure.linkStart[n] === structure.linkStart[n + 1];
  return relevant[n] === 1 || root || (structure.children[n] as readonly number[]).length > 0;
}

/** Adds the observed and held nodes, then samples the nodes below no evidence forward, parents first. */
export function completeColumns(
  structure: Structure,
  numbers: Numbers,
  findings: Findings,
  relevant: Uint8Array,
  columns: Columns,
  count: number,
  random: Random,
): void {
  const strata = new Strata(random, count);
  for (const n of structure.order) {
    if (columns[n] !== undefined || !hasColumn(structure, relevant, n)) continue;
    const state = findings.state[n] as number;
    if (state === SET) columns[n] = new Uint8Array(count).fill(findings.held[n] as number);
    else if (state !== UNKNOWN && state !== SOFT)
      columns[n] = new Uint8Array(count).fill(state === PRESENT ? 1 : 0);
    else {
      const chance = chancesGiven(structure, numbers, columns, n, count);
      const column = new Uint8Array(count);
      strata.begin(count);
      for (let row = 0; row < count; row++) column[row] = strata.next() < (chance[row] as number) ? 1 : 0;
      columns[n] = column;
    }
  }
}

/** Π of leak and present links of one level, for every row. */
export function cumulativeGiven(
  structure: Structure,
  leak: number,
  strength: Float64Array,
  columns: Columns,
  n: number,
  count: number,
): Float64Array {
  const product = new Float64Array(count).fill(1 - leak);
  for (let link = structure.linkStart[n] as number; link < (structure.linkStart[n + 1] as number); link++) {
    const column = columns[structure.linkParent[link] as number] as Uint8Array;
    const factor = 1 - (strength[link] as number);
    for (let row = 0; row < count; row++)
      if (column[row] === 1) product[row] = (product[row] as number) * factor;
  }
  return product;
}

/** P(node true, or at least slight | parents) for every row. */
export function chancesGiven(
  structure: Structure,
  numbers: Numbers,
  columns: Columns,
  n: number,
  count: number,
): Float64Array {
  const table = structure.tables[n];
  if (table === undefined) {
    const { leak, strength } = numbers;
    const chance = cumulativeGiven(structure, leak[n] as number, strength, columns, n, count);
    for (let row = 0; row < count; row++) chance[row] = 1 - (chance[row] as number);
    return chance;
  }
  const chance = new Float64Array(count);
  const parents = structure.linkParent.subarray(
    structure.linkStart[n] as number,
    structure.linkStart[n + 1] as number,
  );
  for (let row = 0; row < count; row++) {
    let at = 0;
    for (const parent of parents) at = 2 * at + ((columns[parent] as Uint8Array)[row] as number);
    chance[row] = table[at] as number;
  }
  return chance;
}
