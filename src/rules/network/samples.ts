import { type BucketTree, type Pairing, pairStates, type Step, strideOf } from './bucket-tree.js';
import { NetworkError } from './errors.js';
import { type Findings, PRESENT, SET, SOFT, UNKNOWN } from './findings.js';
import type { NodeId, PosteriorSamples } from './network.js';
import type { Random } from './random.js';
import type { Shape } from './shape.js';
import { Strata } from './strata.js';
import type { Numbers, Structure } from './structure.js';

/** One column of 0 and 1 for each node that is sampled. */
export type Columns = (Uint8Array | undefined)[];

/** Results up to this size keep their chains of rows in an array. */
const SMALL_OUT = 8192;

/** The ways in which a cell of a product comes about, for one pattern of its combined levels. */
interface Splits {
  /** Offsets in the operands, relative to the states that the cell fixes. */
  readonly left: Int32Array;
  readonly right: Int32Array;
  /** By variable (the summed one, then the combined ones): its state in the left and in the right operand, for each way. */
  readonly choices: readonly { readonly left: Uint8Array; readonly right: Uint8Array }[];
}

/**
 * Draws joint samples from a collected bucket tree without negative factors. The buckets are gone through in reverse
 * order of elimination, the steps of each backward: given the cell of a product, the state of the variable summed over
 * is drawn, and how the worst levels came about from the two operands. All samples go through a step together, and those
 * in the same cell are stratified: each follows the posterior, and together they cover it more evenly than independent
 * ones would.
 * @param cells as `collect` left them
 */
export function sampleTree(
  tree: BucketTree,
  shape: Shape,
  cells: Float64Array,
  count: number,
  random: Random,
): Columns {
  const { cards, combines } = shape;
  const drawn: Uint8Array[] = [];
  let upTo = new Float64Array(64);
  const chainHead = new Int32Array(SMALL_OUT).fill(-1);
  const chainNext = new Int32Array(count);
  const cell = new Int32Array(count);
  const heads = new Int32Array(count);
  const chosen = new Int32Array(count);
  /** Rows in the chain that ends at a row. */
  const chainLength = new Int32Array(count);
  const strata = new Strata(random, count);
  /** Levels of the hidden variables in each message, by its offset. */
  const messages = new Map<number, Map<number, Uint8Array>>();
  for (let place = tree.order.length - 1; place >= 0; place--) {
    const steps = tree.buckets[place] as readonly Step[];
    const last = steps.at(-1) as Step;
    let levels = messages.get(last.out.offset) ?? new Map<number, Uint8Array>();
    for (let k = steps.length - 1; k >= 0; k--) {
      const step = steps[k] as Step;
      const left = new Map<number, Uint8Array>();
      const right = new Map<number, Uint8Array>();
      const known = (v: number): Uint8Array => (combines[v] === 1 ? levels.get(v) : drawn[v]) as Uint8Array;
      const summed = step.summed < 0 ? undefined : new Uint8Array(count);
      splitRows(step, known, summed, left, right);
      if (summed !== undefined && combines[step.summed] === 0) drawn[step.summed] = summed;
      if (summed !== undefined && combines[step.summed] === 1) {
        left.set(step.summed, summed);
        right.set(step.summed, summed);
      }
      for (const [v, column] of levels) {
        if (left.has(v)) continue;
        if (step.left.scope.includes(v)) left.set(v, column);
        else right.set(v, column);
      }
      if (step.right !== undefined) messages.set(step.right.offset, right);
      levels = left;
      if (k === 0) messages.set(step.left.offset, left);
    }
  }
  const columns: Columns = [];
  shape.variableOf.forEach((v, n) => {
    if (v >= 0 && cards[v] === 2) columns[n] = drawn[v];
  });
  return columns;

  /** Draws the summed state and the two parts of each combined level for every row. */
  function splitRows(
    step: Step,
    known: (v: number) => Uint8Array,
    summed: Uint8Array | undefined,
    left: Map<number, Uint8Array>,
    right: Map<number, Uint8Array>,
  ): void {
    const combined = combinedOf(step);
    const parts: [Uint8Array, Uint8Array][] = summed === undefined ? [] : [[summed, summed]];
    for (const v of combined) {
      const of: [Uint8Array, Uint8Array] = [new Uint8Array(count), new Uint8Array(count)];
      left.set(v, of[0]);
      right.set(v, of[1]);
      parts.push(of);
    }
    if (parts.length === 0) return;
    // The states of the union without the summed variable are those of the result: its cell says all that fixes a row's
    // distribution, and the rest is worked out once for each cell that occurs.
    const columns: Uint8Array[] = [];
    const dims: Dimension[] = [];
    let place = 1;
    cell.fill(0);
    for (const v of step.union) {
      if (v === step.summed) continue;
      const column = known(v);
      columns.push(column);
      const isCombined = combined.includes(v);
      dims.push({
        left: isCombined ? 0 : strideOf(step.left, v),
        right: isCombined ? 0 : strideOf(step.right, v),
        pattern: isCombined ? place : 0,
      });
      if (isCombined) place *= cards[v] as number;
      const byCell = strideOf(step.out, v);
      for (let row = 0; row < count; row++)
        cell[row] = (cell[row] as number) + byCell * (column[row] as number);
    }
    // Rows in the same cell share one distribution, and most rows share few cells: chains of rows by cell.
    const outSize = step.out.scope.reduce((size, v) => size * (cards[v] as number), 1);
    const newest = outSize <= SMALL_OUT ? undefined : new Map<number, number>();
    let found = 0;
    for (let row = 0; row < count; row++) {
      const at = cell[row] as number;
      const before = newest === undefined ? (chainHead[at] as number) : (newest.get(at) ?? -1);
      if (before < 0) heads[found++] = at;
      chainNext[row] = before;
      chainLength[row] = before < 0 ? 1 : (chainLength[before] as number) + 1;
      if (newest === undefined) chainHead[at] = row;
      else newest.set(at, row);
    }
    const splitsOf = new Map<number, Splits>();
    for (let h = 0; h < found; h++) {
      const at = heads[h] as number;
      const first = newest === undefined ? (chainHead[at] as number) : (newest.get(at) as number);
      if (newest === undefined) chainHead[at] = -1;
      let leftBase = step.left.offset;
      let rightBase = step.right?.offset ?? 0;
      let which = 0;
      for (let d = 0; d < dims.length; d++) {
        const state = (columns[d] as Uint8Array)[first] as number;
        if (state === 0) continue;
        const { left: byLeft, right: byRight, pattern } = dims[d] as Dimension;
        leftBase += byLeft * state;
        rightBase += byRight * state;
        which += pattern * state;
      }
      let splits = splitsOf.get(which);
      if (splits === undefined) {
        splits = listSplits(step, combined, which, cards);
        splitsOf.set(which, splits);
      }
      const { choices, left: leftSplits, right: rightSplits } = splits;
      const size = leftSplits.length;
      if (size === 1) {
        setChain(first, choices);
        continue;
      }
      if (upTo.length < size) upTo = new Float64Array(2 * size);
      let total = 0;
      if (step.right === undefined)
        for (let k = 0; k < size; k++) {
          total += cells[leftBase + (leftSplits[k] as number)] as number;
          upTo[k] = total;
        }
      else
        for (let k = 0; k < size; k++) {
          total +=
            (cells[leftBase + (leftSplits[k] as number)] as number) *
            (cells[rightBase + (rightSplits[k] as number)] as number);
          upTo[k] = total;
        }
      drawChain(first, size, total, choices);
    }

    /** Sets the states of all rows of a cell that comes about in one way only. */
    function setChain(first: number, choices: Splits['choices']): void {
      for (let d = 0; d < choices.length; d++) {
        const { left: ofLeft, right: ofRight } = choices[d] as Splits['choices'][number];
        const [toLeft, toRight] = parts[d] as [Uint8Array, Uint8Array];
        const [left, right] = [ofLeft[0] as number, ofRight[0] as number];
        // The columns begin as zeros.
        if (left === 0 && right === 0) continue;
        for (let row = first; row >= 0; row = chainNext[row] as number) {
          toLeft[row] = left;
          toRight[row] = right;
        }
      }
    }

    /** Draws the states of all rows of one cell. */
    function drawChain(first: number, size: number, total: number, choices: Splits['choices']): void {
      strata.begin(chainLength[first] as number);
      if (size === 2 && choices.length === 1) {
        const [{ left: ofLeft, right: ofRight }] = choices as [Splits['choices'][number]];
        const [toLeft, toRight] = parts[0] as [Uint8Array, Uint8Array];
        const [left0, left1, right0, right1] = [ofLeft[0], ofLeft[1], ofRight[0], ofRight[1]] as Quad;
        const level = upTo[0] as number;
        for (let row = first; row >= 0; row = chainNext[row] as number) {
          const isFirst = level > strata.next() * total;
          toLeft[row] = isFirst ? left0 : left1;
          toRight[row] = isFirst ? right0 : right1;
        }
        return;
      }
      for (let row = first; row >= 0; row = chainNext[row] as number)
        chosen[row] = findFirstAbove(upTo, size, strata.next() * total);
      for (let d = 0; d < choices.length; d++) {
        const { left: ofLeft, right: ofRight } = choices[d] as Splits['choices'][number];
        const [toLeft, toRight] = parts[d] as [Uint8Array, Uint8Array];
        for (let row = first; row >= 0; row = chainNext[row] as number) {
          const way = chosen[row] as number;
          toLeft[row] = ofLeft[way] as number;
          toRight[row] = ofRight[way] as number;
        }
      }
    }
  }
}

type Quad = readonly [number, number, number, number];

/** What one step of a variable's state moves: the places in the two operands, the pattern of combined levels. */
interface Dimension {
  readonly left: number;
  readonly right: number;
  readonly pattern: number;
}

/** Index of the first of `size` running sums that lies above a level. */
function findFirstAbove(sums: Float64Array, size: number, level: number): number {
  let low = 0;
  let high = size - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sums[middle] as number) > level) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** Variables of a step that pair up otherwise than state by equal state. */
function combinedOf(step: Step): number[] {
  return step.union.filter((_, d) => step.pairings[d] !== 'same');
}

/** All ways to come to a cell whose combined levels are those of `pattern` (mixed base, first variable first). */
function listSplits(
  step: Step,
  combined: readonly number[],
  pattern: number,
  cards: readonly number[],
): Splits {
  const variables = step.summed >= 0 ? [step.summed, ...combined] : combined;
  let rest = pattern;
  const choices = variables.map((v) => {
    const card = cards[v] as number;
    if (v === step.summed) return Array.from({ length: card }, (_, x) => [x, x] as const);
    const level = rest % card;
    rest = Math.floor(rest / card);
    const pairing = step.pairings[step.union.indexOf(v)] as Pairing;
    return pairStates(card, pairing).flatMap(([out, a, b]) => (out === level ? [[a, b] as const] : []));
  });
  const size = choices.reduce((product, options) => product * options.length, 1);
  const left = new Int32Array(size);
  const right = new Int32Array(size);
  let block = 1;
  variables.forEach((v, d) => {
    const options = choices[d] as readonly (readonly [number, number])[];
    const byLeft = strideOf(step.left, v);
    const byRight = strideOf(step.right, v);
    // The last option first: the block it is made from is overwritten by the first one.
    for (let k = options.length - 1; k >= 0; k--) {
      const [a, b] = options[k] as readonly [number, number];
      for (let i = 0; i < block; i++) {
        left[k * block + i] = (left[i] as number) + a * byLeft;
        right[k * block + i] = (right[i] as number) + b * byRight;
      }
    }
    block *= options.length;
  });
  let stride = 1;
  return {
    left,
    right,
    choices: choices.map((options) => {
      const ofLeft = new Uint8Array(size);
      const ofRight = new Uint8Array(size);
      for (let way = 0; way < size; way++) {
        const [a, b] = options[Math.floor(way / stride) % options.length] as readonly [number, number];
        ofLeft[way] = a;
        ofRight[way] = b;
      }
      stride *= options.length;
      return { left: ofLeft, right: ofRight };
    }),
  };
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
