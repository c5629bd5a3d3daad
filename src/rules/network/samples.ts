import { type BucketTree, STEP_FIELDS } from './bucket-tree.js';
import { NetworkError } from './errors.js';
import { type Findings, PRESENT, SET, SOFT, UNKNOWN } from './findings.js';
import type { NodeId, PosteriorSamples } from './network.js';
import type { Random } from './random.js';
import type { Shape } from './shape.js';
import type { Numbers, Structure } from './structure.js';

/** One column of 0 and 1 for each node that is sampled. */
export type Columns = (Uint8Array | undefined)[];

/**
 * Draws joint samples from a collected bucket tree without negative factors: the variables in reverse order of
 * elimination, each from its distribution given those of its bucket's separator, for all samples at once.
 * @param cells as `collect` left them
 */
export function sampleTree(
  tree: BucketTree,
  shape: Shape,
  cells: Float64Array,
  count: number,
  random: Random,
): Columns {
  const drawn: Uint8Array[] = [];
  const index = new Int32Array(count);
  for (let place = tree.order.length - 1; place >= 0; place--) {
    const v = tree.order[place] as number;
    const card = tree.cards[v] as number;
    const upTo = cumulativeTable(tree, place, card, cells);
    index.fill(0);
    let stride = card;
    for (const u of tree.separators[place] as readonly number[]) {
      const column = drawn[u] as Uint8Array;
      for (let row = 0; row < count; row++)
        index[row] = (index[row] as number) + stride * (column[row] as number);
      stride *= tree.cards[u] as number;
    }
    const column = new Uint8Array(count);
    for (let row = 0; row < count; row++) {
      const at = index[row] as number;
      const level = random() * (upTo[at + card - 1] as number);
      let state = 0;
      while (state < card - 1 && level >= (upTo[at + state] as number)) state++;
      column[row] = state;
    }
    drawn[v] = column;
  }
  const columns: Columns = [];
  shape.variableOf.forEach((v, n) => {
    if (v >= 0 && shape.cards[v] === 2) columns[n] = drawn[v];
  });
  return columns;
}

/** The bucket's full product, running sums over its own variable (which varies fastest). */
function cumulativeTable(tree: BucketTree, place: number, card: number, cells: Float64Array): Float64Array {
  const [, end] = tree.bucketSteps[place] as readonly [number, number];
  const step = tree.steps.subarray((end - 1) * STEP_FIELDS, end * STEP_FIELDS);
  const [left, right, , inner, outer, leftInner, leftOuter, rightInner, rightOuter] =
    step as unknown as number[];
  if ((right as number) < 0) {
    let sum = 0;
    return Float64Array.from({ length: card }, (_, x) => {
      sum += cells[(left as number) + x] as number;
      return sum;
    });
  }
  const { maps } = tree;
  const table = new Float64Array((inner as number) * (outer as number));
  let out = 0;
  for (let h = 0; h < (outer as number); h++) {
    const a = (left as number) + (maps[(leftOuter as number) + h] as number);
    const b = (right as number) + (maps[(rightOuter as number) + h] as number);
    for (let l = 0; l < (inner as number); l++) {
      const value =
        (cells[a + (maps[(leftInner as number) + l] as number)] as number) *
        (cells[b + (maps[(rightInner as number) + l] as number)] as number);
      table[out] = out % card === 0 ? value : (table[out - 1] as number) + value;
      out++;
    }
  }
  return table;
}

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
  for (const n of structure.order) {
    if (columns[n] !== undefined || !hasColumn(structure, relevant, n)) continue;
    const state = findings.state[n] as number;
    if (state === SET) columns[n] = new Uint8Array(count).fill(findings.held[n] as number);
    else if (state !== UNKNOWN && state !== SOFT)
      columns[n] = new Uint8Array(count).fill(state === PRESENT ? 1 : 0);
    else {
      const chance = chancesGiven(structure, numbers, columns, n, count);
      columns[n] = Uint8Array.from(chance, (p) => (random() < p ? 1 : 0));
    }
  }
}

/** Π of leak and present links of one level, for every row. */
function cumulativeGiven(
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
function chancesGiven(
  structure: Structure,
  numbers: Numbers,
  columns: Columns,
  n: number,
  count: number,
): Float64Array {
  const table = structure.tables[n];
  if (table === undefined) {
    const { leak, strength } = numbers;
    return cumulativeGiven(structure, leak[n] as number, strength, columns, n, count).map(
      (absent) => 1 - absent,
    );
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

/** Dresses columns as `PosteriorSamples`. Leaf probabilities are worked out once a leaf and kept. */
export function presentSamples(
  structure: Structure,
  numbers: Numbers,
  findings: Findings,
  columns: Columns,
  count: number,
): PosteriorSamples {
  const kept = new Map<number, Float64Array>();
  const find = (id: NodeId): number => {
    const n = structure.index.get(id);
    if (n === undefined) throw new NetworkError(`there is no node "${id}"`);
    return n;
  };
  const column = (id: NodeId): Uint8Array => {
    const found = columns[find(id)];
    if (found === undefined) throw new NetworkError(`"${id}" is not sampled; ask for its leaf probability`);
    return found;
  };
  const leaf = (id: NodeId): number => {
    const n = find(id);
    if (columns[n] !== undefined) throw new NetworkError(`"${id}" is sampled; read its column`);
    if (findings.state[n] !== UNKNOWN)
      throw new NetworkError(`"${id}" is observed or set; nothing is left to predict`);
    return n;
  };
  const leafProbabilities = (id: NodeId): Float64Array => {
    const n = leaf(id);
    const known = kept.get(n) ?? chancesGiven(structure, numbers, columns, n, count);
    kept.set(n, known);
    return known;
  };
  const checkRow = (row: number): void => {
    if (!(Number.isInteger(row) && row >= 0 && row < count)) {
      throw new NetworkError(`row must be an integer from 0 to ${count - 1}, not ${row}`);
    }
  };
  return {
    count,
    ids: structure.ids.filter((_, n) => columns[n] !== undefined),
    column,
    value(row, id) {
      checkRow(row);
      return column(id)[row] === 1;
    },
    leafProbability(row, id) {
      checkRow(row);
      return leafProbabilities(id)[row] as number;
    },
    leafProbabilities,
    gradeProbabilities(id) {
      const n = leaf(id);
      if (structure.graded[n] === 0) throw new NetworkError(`"${id}" has no grades`);
      const { leakMarked, marked } = numbers;
      const below = cumulativeGiven(structure, leakMarked[n] as number, marked, columns, n, count);
      return { atLeastSlight: leafProbabilities(id), marked: below.map((b) => 1 - b) };
    },
  };
}
