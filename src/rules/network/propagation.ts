import {
  type BucketTree,
  COMBINES,
  EXTENDS,
  INNER,
  KIND,
  LEFT,
  LEFT_INNER,
  LEFT_OUTER,
  OUT,
  OUT_INNER,
  OUT_OUTER,
  OUTER,
  REPEAT,
  RIGHT,
  RIGHT_INNER,
  RIGHT_OUTER,
  RIGHT_WANTED,
  STEP_FIELDS,
} from './bucket-tree.js';

/** Runs the steps forward: products and sums from the leaves of the tree to its roots. */
export function collect(tree: BucketTree, cells: Float64Array): void {
  const { steps, maps } = tree;
  for (let s = 0; s < steps.length; s += STEP_FIELDS) {
    if (((steps[s + KIND] as number) & EXTENDS) !== 0) extend(steps, s, maps, cells);
    else if ((steps[s + RIGHT] as number) < 0) sumAlone(steps, s, cells);
    else if (((steps[s + KIND] as number) & COMBINES) !== 0) combine(steps, s, maps, cells);
    else if (steps[s + REPEAT] === 1) multiply(steps, s, maps, cells);
    else if (steps[s + REPEAT] === 2) multiplyAndSumTwo(steps, s, maps, cells);
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
    const kind = steps[s + KIND] as number;
    if ((kind & EXTENDS) !== 0) spreadExtended(steps, s, maps, slopes);
    else if ((steps[s + RIGHT] as number) < 0) spreadAlone(steps, s, slopes);
    else if ((kind & COMBINES) !== 0) spreadCombined(steps, s, maps, cells, slopes);
    else spread(steps, s, maps, cells, slopes, (kind & RIGHT_WANTED) !== 0);
  }
}

function sumAlone(steps: Int32Array, s: number, cells: Float64Array): void {
  const left = steps[s + LEFT] as number;
  let sum = 0;
  for (let x = 0; x < (steps[s + REPEAT] as number); x++) sum += cells[left + x] as number;
  cells[steps[s + OUT] as number] = sum;
}

function spreadAlone(steps: Int32Array, s: number, slopes: Float64Array): void {
  const left = steps[s + LEFT] as number;
  const slope = slopes[steps[s + OUT] as number] as number;
  for (let x = 0; x < (steps[s + REPEAT] as number); x++) slopes[left + x] = slope;
}

function multiply(steps: Int32Array, s: number, maps: Int32Array, cells: Float64Array): void {
  const inner = steps[s + INNER] as number;
  const outer = steps[s + OUTER] as number;
  const leftInner = steps[s + LEFT_INNER] as number;
  const rightInner = steps[s + RIGHT_INNER] as number;
  let out = steps[s + OUT] as number;
  for (let h = 0; h < outer; h++) {
    const left = (steps[s + LEFT] as number) + (maps[(steps[s + LEFT_OUTER] as number) + h] as number);
    const right = (steps[s + RIGHT] as number) + (maps[(steps[s + RIGHT_OUTER] as number) + h] as number);
    for (let l = 0; l < inner; l++) {
      cells[out++] =
        (cells[left + (maps[leftInner + l] as number)] as number) *
        (cells[right + (maps[rightInner + l] as number)] as number);
    }
  }
}

function multiplyAndSumTwo(steps: Int32Array, s: number, maps: Int32Array, cells: Float64Array): void {
  const inner = steps[s + INNER] as number;
  const outer = steps[s + OUTER] as number;
  const leftInner = steps[s + LEFT_INNER] as number;
  const rightInner = steps[s + RIGHT_INNER] as number;
  let out = steps[s + OUT] as number;
  for (let h = 0; h < outer; h++) {
    const left = (steps[s + LEFT] as number) + (maps[(steps[s + LEFT_OUTER] as number) + h] as number);
    const right = (steps[s + RIGHT] as number) + (maps[(steps[s + RIGHT_OUTER] as number) + h] as number);
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
  const inner = steps[s + INNER] as number;
  const outer = steps[s + OUTER] as number;
  const leftInner = steps[s + LEFT_INNER] as number;
  const rightInner = steps[s + RIGHT_INNER] as number;
  const repeat = steps[s + REPEAT] as number;
  let out = steps[s + OUT] as number;
  for (let h = 0; h < outer; h++) {
    const left = (steps[s + LEFT] as number) + (maps[(steps[s + LEFT_OUTER] as number) + h] as number);
    const right = (steps[s + RIGHT] as number) + (maps[(steps[s + RIGHT_OUTER] as number) + h] as number);
    for (let l = 0; l < inner; l += repeat) {
      let sum = 0;
      for (let x = l; x < l + repeat; x++) {
        sum +=
          (cells[left + (maps[leftInner + x] as number)] as number) *
          (cells[right + (maps[rightInner + x] as number)] as number);
      }
      cells[out++] = sum;
    }
  }
}

/** A product in which several entries may meet in one cell of the result. */
function combine(steps: Int32Array, s: number, maps: Int32Array, cells: Float64Array): void {
  const inner = steps[s + INNER] as number;
  const outer = steps[s + OUTER] as number;
  const leftInner = steps[s + LEFT_INNER] as number;
  const rightInner = steps[s + RIGHT_INNER] as number;
  const outInner = steps[s + OUT_INNER] as number;
  const start = steps[s + OUT] as number;
  for (let h = 0; h < outer; h++) {
    const out = start + (maps[(steps[s + OUT_OUTER] as number) + h] as number);
    for (let l = 0; l < inner; l++) cells[out + (maps[outInner + l] as number)] = 0;
  }
  for (let h = 0; h < outer; h++) {
    const left = (steps[s + LEFT] as number) + (maps[(steps[s + LEFT_OUTER] as number) + h] as number);
    const right = (steps[s + RIGHT] as number) + (maps[(steps[s + RIGHT_OUTER] as number) + h] as number);
    const out = start + (maps[(steps[s + OUT_OUTER] as number) + h] as number);
    for (let l = 0; l < inner; l++) {
      const at = out + (maps[outInner + l] as number);
      cells[at] =
        (cells[at] as number) +
        (cells[left + (maps[leftInner + l] as number)] as number) *
          (cells[right + (maps[rightInner + l] as number)] as number);
    }
  }
}

/** Sums of states of one table. */
function extend(steps: Int32Array, s: number, maps: Int32Array, cells: Float64Array): void {
  const inner = steps[s + INNER] as number;
  const outer = steps[s + OUTER] as number;
  const leftInner = steps[s + LEFT_INNER] as number;
  const outInner = steps[s + OUT_INNER] as number;
  const start = steps[s + OUT] as number;
  for (let h = 0; h < outer; h++) {
    const out = start + (maps[(steps[s + OUT_OUTER] as number) + h] as number);
    for (let l = 0; l < inner; l++) cells[out + (maps[outInner + l] as number)] = 0;
  }
  for (let h = 0; h < outer; h++) {
    const left = (steps[s + LEFT] as number) + (maps[(steps[s + LEFT_OUTER] as number) + h] as number);
    const out = start + (maps[(steps[s + OUT_OUTER] as number) + h] as number);
    for (let l = 0; l < inner; l++) {
      const at = out + (maps[outInner + l] as number);
      cells[at] = (cells[at] as number) + (cells[left + (maps[leftInner + l] as number)] as number);
    }
  }
}

function spreadExtended(steps: Int32Array, s: number, maps: Int32Array, slopes: Float64Array): void {
  const inner = steps[s + INNER] as number;
  const outer = steps[s + OUTER] as number;
  const leftInner = steps[s + LEFT_INNER] as number;
  const outInner = steps[s + OUT_INNER] as number;
  for (let h = 0; h < outer; h++) {
    const left = (steps[s + LEFT] as number) + (maps[(steps[s + LEFT_OUTER] as number) + h] as number);
    const out = (steps[s + OUT] as number) + (maps[(steps[s + OUT_OUTER] as number) + h] as number);
    for (let l = 0; l < inner; l++) {
      const at = left + (maps[leftInner + l] as number);
      slopes[at] = (slopes[at] as number) + (slopes[out + (maps[outInner + l] as number)] as number);
    }
  }
}

function spreadCombined(
  steps: Int32Array,
  s: number,
  maps: Int32Array,
  cells: Float64Array,
  slopes: Float64Array,
): void {
  const inner = steps[s + INNER] as number;
  const outer = steps[s + OUTER] as number;
  const leftInner = steps[s + LEFT_INNER] as number;
  const rightInner = steps[s + RIGHT_INNER] as number;
  const outInner = steps[s + OUT_INNER] as number;
  for (let h = 0; h < outer; h++) {
    const left = (steps[s + LEFT] as number) + (maps[(steps[s + LEFT_OUTER] as number) + h] as number);
    const right = (steps[s + RIGHT] as number) + (maps[(steps[s + RIGHT_OUTER] as number) + h] as number);
    const out = (steps[s + OUT] as number) + (maps[(steps[s + OUT_OUTER] as number) + h] as number);
    for (let l = 0; l < inner; l++) {
      const slope = slopes[out + (maps[outInner + l] as number)] as number;
      const a = left + (maps[leftInner + l] as number);
      const b = right + (maps[rightInner + l] as number);
      slopes[a] = (slopes[a] as number) + slope * (cells[b] as number);
      slopes[b] = (slopes[b] as number) + slope * (cells[a] as number);
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
  const inner = steps[s + INNER] as number;
  const outer = steps[s + OUTER] as number;
  const leftInner = steps[s + LEFT_INNER] as number;
  const rightInner = steps[s + RIGHT_INNER] as number;
  const repeat = steps[s + REPEAT] as number;
  let out = steps[s + OUT] as number;
  for (let h = 0; h < outer; h++) {
    const left = (steps[s + LEFT] as number) + (maps[(steps[s + LEFT_OUTER] as number) + h] as number);
    const right = (steps[s + RIGHT] as number) + (maps[(steps[s + RIGHT_OUTER] as number) + h] as number);
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
