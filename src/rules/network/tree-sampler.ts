import { keepLayout } from '../keep-layout.js';
import { type BucketTree, type Step, strideOf } from './bucket-tree.js';
import { combinedOf, listSplits, type Splits, waysOf } from './cell-splits.js';
import { ColumnStore } from './column-store.js';
import type { Columns } from './columns.js';
import { columnOf, handOn, type Levels, NO_LEVELS, type Part } from './levels.js';
import type { RandomStream } from './random.js';
import { RowChains } from './row-chains.js';
import type { Shape } from './shape.js';
import type { Ways } from './state-pairs.js';
import { Strata } from './strata.js';

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
  random: RandomStream,
): Columns {
  const drawn = keepLayout(new TreeSampler(tree, shape, cells, count, random)).draw();
  const columns: Columns = [];
  for (let n = 0; n < shape.variableOf.length; n++) {
    const v = shape.variableOf[n] as number;
    if (v >= 0 && shape.cards[v] === 2) columns[n] = drawn[v];
  }
  return columns;
}

/**
 * One drawing of samples.
 *
 * A class, as are the other makers of tables here, because methods stay compiled from one question to the next; functions
 * made inside a function on each call do not.
 */
class TreeSampler {
  private readonly drawn: Uint8Array[] = [];
  /** Levels of the hidden variables in each message that has some, by its offset. */
  private readonly messages = new Map<number, Levels>();
  private readonly drawnStore: ColumnStore;
  private readonly levelStore: ColumnStore;
  private readonly chains: RowChains;
  private readonly strata: Strata;
  /** Columns of the step's result, and what one state of each moves in the operands and in the pattern of levels. */
  private readonly known: Uint8Array[] = [];
  private readonly byLeft: Int32Array;
  private readonly byRight: Int32Array;
  private readonly byLevel: Int32Array;
  /** Where the cell looked at stands in the operands, and which combined levels it has. */
  private leftAt = 0;
  private rightAt = 0;
  private level = 0;
  /** The way drawn for each row, out of those whose running sums of weight are in `upTo`. */
  private readonly chosen: Int32Array;
  private upTo = new Float64Array(64);

  constructor(
    private readonly tree: BucketTree,
    private readonly shape: Shape,
    private readonly cells: Float64Array,
    count: number,
    random: RandomStream,
  ) {
    const variables = shape.cards.length;
    this.byLeft = new Int32Array(variables);
    this.byRight = new Int32Array(variables);
    this.byLevel = new Int32Array(variables);
    this.drawnStore = new ColumnStore(count);
    this.levelStore = new ColumnStore(count);
    this.chains = new RowChains(count);
    this.chosen = new Int32Array(count);
    this.strata = new Strata(random, count);
  }

  /** Columns of the variables that are not hidden. */
  draw(): readonly Uint8Array[] {
    const { order, buckets } = this.tree;
    for (let place = order.length - 1; place >= 0; place--) {
      const steps = buckets[place] as readonly Step[];
      let levels = this.messages.get((steps.at(-1) as Step).out.offset) ?? NO_LEVELS;
      for (let k = steps.length - 1; k >= 0; k--) levels = this.splitStep(steps[k] as Step, levels);
      if (levels !== NO_LEVELS) this.messages.set((steps[0] as Step).left.offset, levels);
    }
    return this.drawn;
  }

  /** Goes back over one step: from the levels in its result to those in its operands. Returns those in the left one. */
  private splitStep(step: Step, levels: Levels): Levels {
    const combined = combinedOf(step);
    const hiddenSum = step.summed >= 0 && this.shape.combines[step.summed] === 1;
    const parts: Part[] = [];
    if (step.summed >= 0) {
      const column = (hiddenSum ? this.levelStore : this.drawnStore).take();
      parts.push({ variable: step.summed, left: column, right: column });
    }
    for (const variable of combined)
      parts.push({ variable, left: this.levelStore.take(), right: this.levelStore.take() });
    if (parts.length > 0) this.splitRows(step, combined, levels, parts);
    if (step.summed >= 0 && !hiddenSum) this.drawn[step.summed] = (parts[0] as Part).left;
    if (!hiddenSum && combined.length === 0 && levels === NO_LEVELS) return NO_LEVELS;
    const split = hiddenSum ? parts : parts.slice(parts.length - combined.length);
    const { left, right } = handOn(step, levels, split);
    if (step.right !== undefined) this.messages.set(step.right.offset, right);
    return left;
  }

  /**
   * Draws the summed state and the two parts of each combined level for every row. The states of the union without the
   * summed variable are those of the result: its cell says all that fixes a row's distribution, and the rest is worked out
   * once for each cell that occurs.
   */
  private splitRows(step: Step, combined: readonly number[], levels: Levels, parts: readonly Part[]): void {
    const size = this.lookAtResult(step, combined, levels);
    const found = this.chains.chain(this.known, step.out.strides, size);
    const splits = new Map<number, Splits>();
    for (let c = 0; c < found; c++) {
      const last = this.chains.last[c] as number;
      this.standAt(step, last);
      if (parts.length === 1) this.drawSingle(step, parts[0] as Part, last);
      else this.drawParts(step, this.splitsFor(step, combined, splits), parts, last);
    }
  }

  /** The ways to the cell looked at, from those that the step's cells had so far or made anew. */
  private splitsFor(step: Step, combined: readonly number[], splits: Map<number, Splits>): Splits {
    const known = splits.get(this.level);
    if (known !== undefined) return known;
    const made = listSplits(step, combined, this.level, this.shape.cards);
    splits.set(this.level, made);
    return made;
  }

  /** Notes the columns of a step's result and what their states move; returns the size of the result. */
  private lookAtResult(step: Step, combined: readonly number[], levels: Levels): number {
    const { scope } = step.out;
    const { cards, combines } = this.shape;
    let size = 1;
    let patterns = 1;
    this.known.length = 0;
    for (let d = 0; d < scope.length; d++) {
      const v = scope[d] as number;
      const card = cards[v] as number;
      size *= card;
      const column = combines[v] === 1 ? columnOf(levels, v) : this.drawn[v];
      this.known.push(column as Uint8Array);
      const isCombined = combined.includes(v);
      this.byLeft[d] = isCombined ? 0 : strideOf(step.left, v);
      this.byRight[d] = isCombined ? 0 : strideOf(step.right, v);
      this.byLevel[d] = isCombined ? patterns : 0;
      if (isCombined) patterns *= card;
    }
    return size;
  }

  /** Goes to the cell of a row. */
  private standAt(step: Step, row: number): void {
    const { byLeft, byRight, byLevel, known } = this;
    let left = step.left.offset;
    let right = step.right?.offset ?? 0;
    let level = 0;
    for (let d = 0; d < known.length; d++) {
      const state = (known[d] as Uint8Array)[row] as number;
      left += (byLeft[d] as number) * state;
      right += (byRight[d] as number) * state;
      level += (byLevel[d] as number) * state;
    }
    this.leftAt = left;
    this.rightAt = right;
    this.level = level;
  }

  /** Draws the states of the only variable that is open, for all rows of the cell. @param last the last of them */
  private drawSingle(step: Step, { variable, left: toLeft, right: toRight }: Part, last: number): void {
    const { cells, leftAt, rightAt } = this;
    const { before, length } = this.chains;
    const { left, right } = waysOf(step, variable, this.shape.cards[variable] as number, this.level);
    const size = left.length;
    const left0 = left[0] as number;
    const right0 = right[0] as number;
    if (size === 1) {
      this.chains.set(last, left0, right0, toLeft, toRight);
      return;
    }
    const byLeft = strideOf(step.left, variable);
    const byRight = strideOf(step.right, variable);
    const upTo = this.roomFor(size);
    let total = 0;
    for (let k = 0; k < size; k++) {
      const weight = cells[leftAt + byLeft * (left[k] as number)] as number;
      total +=
        step.right === undefined
          ? weight
          : weight * (cells[rightAt + byRight * (right[k] as number)] as number);
      upTo[k] = total;
    }
    const numbers = this.strata.draw(length[last] as number);
    if (size > 2) {
      for (let row = last, i = 0; row >= 0; row = before[row] as number, i++) {
        const way = findFirstAbove(upTo, size, (numbers[i] as number) * total);
        toLeft[row] = left[way] as number;
        toRight[row] = right[way] as number;
      }
      return;
    }
    const first = upTo[0] as number;
    const left1 = left[1] as number;
    const right1 = right[1] as number;
    for (let row = last, i = 0; row >= 0; row = before[row] as number, i++) {
      const isFirst = first > (numbers[i] as number) * total;
      toLeft[row] = isFirst ? left0 : left1;
      toRight[row] = isFirst ? right0 : right1;
    }
  }

  /** Draws the states of several variables together, for all rows of the cell. @param last the last of them */
  private drawParts(
    step: Step,
    { left, right, choices }: Splits,
    parts: readonly Part[],
    last: number,
  ): void {
    const size = left.length;
    if (size > 1) {
      const total = this.sumWeights(step, left, right);
      this.chooseWays(size, total, last);
    }
    const { before } = this.chains;
    for (let d = 0; d < choices.length; d++) {
      const { left: ofLeft, right: ofRight } = choices[d] as Ways;
      const { left: toLeft, right: toRight } = parts[d] as Part;
      if (size === 1) {
        this.chains.set(last, ofLeft[0] as number, ofRight[0] as number, toLeft, toRight);
        continue;
      }
      for (let row = last; row >= 0; row = before[row] as number) {
        const way = this.chosen[row] as number;
        toLeft[row] = ofLeft[way] as number;
        toRight[row] = ofRight[way] as number;
      }
    }
  }

  /** Running sums of the weights of the ways to the cell looked at, into `upTo`; returns their total. */
  private sumWeights(step: Step, left: Int32Array, right: Int32Array): number {
    const { cells, leftAt, rightAt } = this;
    const upTo = this.roomFor(left.length);
    let total = 0;
    for (let k = 0; k < left.length; k++) {
      const weight = cells[leftAt + (left[k] as number)] as number;
      total += step.right === undefined ? weight : weight * (cells[rightAt + (right[k] as number)] as number);
      upTo[k] = total;
    }
    return total;
  }

  /** Draws one of the ways whose running sums are in `upTo` for each row of a chain. */
  private chooseWays(size: number, total: number, last: number): void {
    const { chosen, upTo } = this;
    const { before, length } = this.chains;
    const numbers = this.strata.draw(length[last] as number);
    for (let row = last, i = 0; row >= 0; row = before[row] as number, i++)
      chosen[row] = findFirstAbove(upTo, size, (numbers[i] as number) * total);
  }

  private roomFor(size: number): Float64Array {
    if (this.upTo.length < size) this.upTo = new Float64Array(2 * size);
    return this.upTo;
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
