import { type BucketTree, RIGHT_IS_MESSAGE, STEP_FIELDS, SUMS } from './bucket-tree.js';

/** Runs the steps forward: products and sums from the leaves of the tree to its roots. */
export function collect(tree: BucketTree, cells: Float64Array): void {
  const { steps, maps } = tree;
  for (let s = 0; s < steps.length; s += STEP_FIELDS) {
    const kind = steps[s + 9] as number;
    const right = steps[s + 1] as number;
    if (right < 0) sumAlone(steps, s, cells);
    else if ((kind & SUMS) === 0) multiply(steps, s, maps, cells);
    else if (steps[s + 10] === 2) multiplyAndSumTwo(steps, s, maps, cells);
    else multiplyAndSum(steps, s, maps, cells);
  }
}

/**
 * Runs the steps backward from derivative 1 at the root of every component.
 * @param slopes receives the derivative of the component's sum by each cell
 */
export function distribute(tree: BucketTree, cells: Float64Array, slopes: Float64Array): void {
  const { steps, maps } = tree;
  slopes.fill(0, 0, tree.allCells);
  for (const root of tree.roots) slopes[root] = 1;
  for (let s = steps.length - STEP_FIELDS; s >= 0; s -= STEP_FIELDS) {
    const kind = steps[s + 9] as number;
    if ((steps[s + 1] as number) < 0) spreadAlone(steps, s, slopes);
    else spread(steps, s, maps, cells, slopes, (kind & RIGHT_IS_MESSAGE) !== 0);
  }
}

function sumAlone(steps: Int32Array, s: number, cells: Float64Array): void {
  const left = steps[s] as number;
  let sum = 0;
  for (let x = 0; x < (steps[s + 10] as number); x++) sum += cells[left + x] as number;
  cells[steps[s + 2] as number] = sum;
}

function spreadAlone(steps: Int32Array, s: number, slopes: Float64Array): void {
  const left = steps[s] as number;
  const slope = slopes[steps[s + 2] as number] as number;
  for (let x = 0; x < (steps[s + 10] as number); x++) slopes[left + x] = slope;
}

function multiply(steps: Int32Array, s: number, maps: Int32Array, cells: Float64Array): void {
  const inner = steps[s + 3] as number;
  const outer = steps[s + 4] as number;
  const leftInner = steps[s + 5] as number;
  const rightInner = steps[s + 7] as number;
  let out = steps[s + 2] as number;
  for (let h = 0; h < outer; h++) {
    const left = (steps[s] as number) + (maps[(steps[s + 6] as number) + h] as number);
    const right = (steps[s + 1] as number) + (maps[(steps[s + 8] as number) + h] as number);
    for (let l = 0; l < inner; l++) {
      cells[out++] =
        (cells[left + (maps[leftInner + l] as number)] as number) *
        (cells[right + (maps[rightInner + l] as number)] as number);
    }
  }
}

function multiplyAndSumTwo(steps: Int32Array, s: number, maps: Int32Array, cells: Float64Array): void {
  const inner = steps[s + 3] as number;
  const outer = steps[s + 4] as number;
  const leftInner = steps[s + 5] as number;
  const rightInner = steps[s + 7] as number;
  let out = steps[s + 2] as number;
  for (let h = 0; h < outer; h++) {
    const left = (steps[s] as number) + (maps[(steps[s + 6] as number) + h] as number);
    const right = (steps[s + 1] as number) + (maps[(steps[s + 8] as number) + h] as number);
    for (let l = 0; l < inner; l += 2) {
      cells[out++] =
        (cells[left + (maps[leftInner + l] as number)] as number) *
          (cells[right + (maps[rightInner + l] as number)] as number) +
        (cells[left + (maps[leftInner + l + 1] as number)] as number) *
          (cells[right + (maps[rightInner + l + 1] as number)] as number);
    }
  }
}

function multiplyAndSum(steps: Int32Array, s: number, maps: Int32Array, cells: Float64Array): void {
  const inner = steps[s + 3] as number;
  const outer = steps[s + 4] as number;
  const leftInner = steps[s + 5] as number;
  const rightInner = steps[s + 7] as number;
  const card = steps[s + 10] as number;
  let out = steps[s + 2] as number;
  for (let h = 0; h < outer; h++) {
    const left = (steps[s] as number) + (maps[(steps[s + 6] as number) + h] as number);
    const right = (steps[s + 1] as number) + (maps[(steps[s + 8] as number) + h] as number);
    for (let l = 0; l < inner; l += card) {
      let sum = 0;
      for (let x = l; x < l + card; x++) {
        sum +=
          (cells[left + (maps[leftInner + x] as number)] as number) *
          (cells[right + (maps[rightInner + x] as number)] as number);
      }
      cells[out++] = sum;
    }
  }
}

/** Product rule, one step backward. A step that sums repeats its slope over the states summed. */
function spread(
  steps: Int32Array,
  s: number,
  maps: Int32Array,
  cells: Float64Array,
  slopes: Float64Array,
  rightToo: boolean,
): void {
  const inner = steps[s + 3] as number;
  const outer = steps[s + 4] as number;
  const leftInner = steps[s + 5] as number;
  const rightInner = steps[s + 7] as number;
  const repeat = ((steps[s + 9] as number) & SUMS) === 0 ? 1 : (steps[s + 10] as number);
  let out = steps[s + 2] as number;
  for (let h = 0; h < outer; h++) {
    const left = (steps[s] as number) + (maps[(steps[s + 6] as number) + h] as number);
    const right = (steps[s + 1] as number) + (maps[(steps[s + 8] as number) + h] as number);
    for (let l = 0; l < inner; l += repeat) {
      const slope = slopes[out++] as number;
      for (let x = l; x < l + repeat; x++) {
        const a = left + (maps[leftInner + x] as number);
        const b = right + (maps[rightInner + x] as number);
        slopes[a] = (slopes[a] as number) + slope * (cells[b] as number);
        if (rightToo) slopes[b] = (slopes[b] as number) + slope * (cells[a] as number);
      }
    }
  }
}
