import { type BucketTree, type Step, strideOf } from './bucket-tree.js';
import { combinedOf, listSplits, type Splits } from './cell-splits.js';
import type { Columns } from './columns.js';
import type { Random } from './random.js';
import type { Shape } from './shape.js';
import { Strata } from './strata.js';

/** Results up to this size keep their chains of rows in an array. */
const SMALL_OUT = 8192;

/** Levels of hidden variables, by row. */
type Levels = Map<number, Uint8Array>;

/** What one step of a variable's state moves: the places in the two operands, the pattern of combined levels. */
interface Dimension {
  readonly left: number;
  readonly right: number;
  readonly pattern: number;
}

/** The state of a variable in the left and in the right operand, by row. */
type Part = readonly [Uint8Array, Uint8Array];

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
  const drawn = new TreeSampler(tree, shape, cells, count, random).draw();
  const columns: Columns = [];
  shape.variableOf.forEach((v, n) => {
    if (v >= 0 && shape.cards[v] === 2) columns[n] = drawn[v];
  });
  return columns;
}

/**
 * One drawing of samples. Rows in the same cell hang together as chains, each row pointing to the one before.
 *
 * A class, as are the other makers of tables here, because methods stay compiled from one question to the next; functions
 * made inside a function on each call do not.
 */
class TreeSampler {
  private readonly drawn: Uint8Array[] = [];
  /** Levels of the hidden variables in each message, by its offset. */
  private readonly messages = new Map<number, Levels>();
  /** Cell of the result that each row is in. */
  private readonly cell: Int32Array;
  /** Cells that occur, and the last row in each. */
  private readonly heads: Int32Array;
  private readonly chainHead = new Int32Array(SMALL_OUT).fill(-1);
  private readonly chainNext: Int32Array;
  /** Rows in the chain that ends at a row. */
  private readonly chainLength: Int32Array;
  /** The way drawn for each row, out of those whose running sums of weight are in `upTo`. */
  private readonly chosen: Int32Array;
  private upTo = new Float64Array(64);
  private readonly strata: Strata;

  constructor(
    private readonly tree: BucketTree,
    private readonly shape: Shape,
    private readonly cells: Float64Array,
    private readonly count: number,
    random: Random,
  ) {
    this.cell = new Int32Array(count);
    this.heads = new Int32Array(count);
    this.chainNext = new Int32Array(count);
    this.chainLength = new Int32Array(count);
    this.chosen = new Int32Array(count);
    this.strata = new Strata(random, count);
  }

  /** Columns of the variables that are not hidden. */
  draw(): readonly Uint8Array[] {
    const { order, buckets } = this.tree;
    for (let place = order.length - 1; place >= 0; place--) {
      const steps = buckets[place] as readonly Step[];
      let levels = this.messages.get((steps.at(-1) as Step).out.offset) ?? new Map<number, Uint8Array>();
      for (let k = steps.length - 1; k >= 0; k--) levels = this.splitStep(steps[k] as Step, levels);
      this.messages.set((steps[0] as Step).left.offset, levels);
    }
    return this.drawn;
  }

  /** Goes back over one step: from the levels in its result to those in its operands. Returns those in the left one. */
  private splitStep(step: Step, levels: Levels): Levels {
    const left: Levels = new Map();
    const right: Levels = new Map();
    const summed = step.summed < 0 ? undefined : new Uint8Array(this.count);
    this.splitRows(step, levels, summed, left, right);
    if (summed !== undefined) {
      if (this.shape.combines[step.summed] === 0) this.drawn[step.summed] = summed;
      else {
        left.set(step.summed, summed);
        right.set(step.summed, summed);
      }
    }
    for (const [v, column] of levels) {
      if (left.has(v)) continue;
      if (step.left.scope.includes(v)) left.set(v, column);
      else right.set(v, column);
    }
    if (step.right !== undefined) this.messages.set(step.right.offset, right);
    return left;
  }

  /** Draws the summed state and the two parts of each combined level for every row. */
  private splitRows(
    step: Step,
    levels: Levels,
    summed: Uint8Array | undefined,
    left: Levels,
    right: Levels,
  ): void {
    const combined = combinedOf(step);
    const parts: Part[] = summed === undefined ? [] : [[summed, summed]];
    for (const v of combined) {
      const of: Part = [new Uint8Array(this.count), new Uint8Array(this.count)];
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
    const { cell, count } = this;
    cell.fill(0);
    for (const v of step.union) {
      if (v === step.summed) continue;
      const column = (this.shape.combines[v] === 1 ? levels.get(v) : this.drawn[v]) as Uint8Array;
      columns.push(column);
      const isCombined = combined.includes(v);
      dims.push({
        left: isCombined ? 0 : strideOf(step.left, v),
        right: isCombined ? 0 : strideOf(step.right, v),
        pattern: isCombined ? place : 0,
      });
      if (isCombined) place *= this.shape.cards[v] as number;
      const byCell = strideOf(step.out, v);
      for (let row = 0; row < count; row++)
        cell[row] = (cell[row] as number) + byCell * (column[row] as number);
    }
    const outSize = step.out.scope.reduce((size, v) => size * (this.shape.cards[v] as number), 1);
    const newest = outSize <= SMALL_OUT ? undefined : new Map<number, number>();
    const found = this.chainRows(newest);
    const splitsOf = new Map<number, Splits>();
    const { heads, chainHead } = this;
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
        splits = listSplits(step, combined, which, this.shape.cards);
        splitsOf.set(which, splits);
      }
      if (splits.left.length === 1) this.setChain(first, splits.choices, parts);
      else {
        const total = this.sumWeights(splits, leftBase, step.right === undefined ? -1 : rightBase);
        this.drawChain(first, splits.left.length, total, splits.choices, parts);
      }
    }
  }

  /**
   * Chains the rows in the same cell together: they share one distribution, and most rows share few cells.
   * @param newest where the heads of chains are kept when the result is too large for the array
   * @returns how many cells occur
   */
  private chainRows(newest: Map<number, number> | undefined): number {
    const { cell, chainHead, chainLength, chainNext, heads, count } = this;
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
    return found;
  }

  /** Running sums of the weights of the ways to a cell; returns their total. @param rightBase -1 for no right operand */
  private sumWeights({ left, right }: Splits, leftBase: number, rightBase: number): number {
    const size = left.length;
    if (this.upTo.length < size) this.upTo = new Float64Array(2 * size);
    const { cells, upTo } = this;
    let total = 0;
    if (rightBase < 0)
      for (let k = 0; k < size; k++) {
        total += cells[leftBase + (left[k] as number)] as number;
        upTo[k] = total;
      }
    else
      for (let k = 0; k < size; k++) {
        total +=
          (cells[leftBase + (left[k] as number)] as number) *
          (cells[rightBase + (right[k] as number)] as number);
        upTo[k] = total;
      }
    return total;
  }

  /** Sets the states of all rows of a cell that comes about in one way only. */
  private setChain(first: number, choices: Splits['choices'], parts: readonly Part[]): void {
    const { chainNext } = this;
    for (let d = 0; d < choices.length; d++) {
      const { left: ofLeft, right: ofRight } = choices[d] as Splits['choices'][number];
      const [toLeft, toRight] = parts[d] as Part;
      const left = ofLeft[0] as number;
      const right = ofRight[0] as number;
      // The columns begin as zeros.
      if (left === 0 && right === 0) continue;
      for (let row = first; row >= 0; row = chainNext[row] as number) {
        toLeft[row] = left;
        toRight[row] = right;
      }
    }
  }

  /** Draws the states of all rows of one cell. @param size ways there are, with the running sums in `upTo` */
  private drawChain(
    first: number,
    size: number,
    total: number,
    choices: Splits['choices'],
    parts: readonly Part[],
  ): void {
    const { chainNext, chosen, strata, upTo } = this;
    strata.begin(this.chainLength[first] as number);
    if (size === 2 && choices.length === 1) {
      const { left: ofLeft, right: ofRight } = choices[0] as Splits['choices'][number];
      const [toLeft, toRight] = parts[0] as Part;
      const level = upTo[0] as number;
      for (let row = first; row >= 0; row = chainNext[row] as number) {
        const way = level > strata.next() * total ? 0 : 1;
        toLeft[row] = ofLeft[way] as number;
        toRight[row] = ofRight[way] as number;
      }
      return;
    }
    for (let row = first; row >= 0; row = chainNext[row] as number)
      chosen[row] = findFirstAbove(upTo, size, strata.next() * total);
    for (let d = 0; d < choices.length; d++) {
      const { left: ofLeft, right: ofRight } = choices[d] as Splits['choices'][number];
      const [toLeft, toRight] = parts[d] as Part;
      for (let row = first; row >= 0; row = chainNext[row] as number) {
        const way = chosen[row] as number;
        toLeft[row] = ofLeft[way] as number;
        toRight[row] = ofRight[way] as number;
      }
    }
  }
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
