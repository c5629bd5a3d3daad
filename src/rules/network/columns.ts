import { ColumnStore } from './column-store.js';
import { type Findings, PRESENT, SET, SOFT, UNKNOWN } from './findings.js';
import type { RandomStream } from './random.js';
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
  random: RandomStream,
): void {
  const store = new ColumnStore(count);
  const strata = new Strata(random, count);
  const chance = new Float64Array(count);
  for (const n of structure.order) {
    if (columns[n] !== undefined || !hasColumn(structure, relevant, n)) continue;
    const state = findings.state[n] as number;
    const column = store.take();
    if (state === SET) column.fill(findings.held[n] as number);
    else if (state === PRESENT) column.fill(1);
    else if (state === UNKNOWN || state === SOFT) {
      chancesGiven(structure, numbers, columns, n, chance);
      drawColumn(column, chance, strata.draw(count));
    }
    columns[n] = column;
  }
}

/** Draws states row by row. @param levels a random number for each row */
function drawColumn(column: Uint8Array, chance: Float64Array, levels: Float64Array): void {
  for (let row = 0; row < column.length; row++)
    column[row] = (levels[row] as number) < (chance[row] as number) ? 1 : 0;
}

/** Π of leak and present links of one level, for every row. @param product receives it */
export function cumulativeGiven(
  structure: Structure,
  leak: number,
  strength: Float64Array,
  columns: Columns,
  n: number,
  product: Float64Array,
): void {
  product.fill(1 - leak);
  for (let link = structure.linkStart[n] as number; link < (structure.linkStart[n + 1] as number); link++) {
    const column = columns[structure.linkParent[link] as number] as Uint8Array;
    const factor = 1 - (strength[link] as number);
    for (let row = 0; row < product.length; row++)
      if (column[row] === 1) product[row] = (product[row] as number) * factor;
  }
}

/** P(node true, or at least slight | parents) for every row. @param chance receives it */
export function chancesGiven(
  structure: Structure,
  numbers: Numbers,
  columns: Columns,
  n: number,
  chance: Float64Array,
): void {
  const table = structure.tables[n];
  if (table === undefined) {
    const { leak, strength } = numbers;
    cumulativeGiven(structure, leak[n] as number, strength, columns, n, chance);
    for (let row = 0; row < chance.length; row++) chance[row] = 1 - (chance[row] as number);
    return;
  }
  const parents = structure.linkParent.subarray(
    structure.linkStart[n] as number,
    structure.linkStart[n + 1] as number,
  );
  for (let row = 0; row < chance.length; row++) {
    let at = 0;
    for (const parent of parents) at = 2 * at + ((columns[parent] as Uint8Array)[row] as number);
    chance[row] = table[at] as number;
  }
}
