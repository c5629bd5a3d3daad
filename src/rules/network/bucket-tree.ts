import type { EliminationOrder } from './elimination-order.js';
import type { FactorPlace } from './factor-values.js';

/**
 * The tree of buckets for one order of elimination, as a list of steps on one array of cells.
 *
 * A bucket holds the factors whose first variable to go is its own. They are multiplied one after the other, small scopes
 * first, so that the tables grow as slowly as they can; the last product is summed over the bucket's variable at once
 * and never stored. Collecting runs the steps forward and gives P(evidence); distributing runs them backward and gives
 * the derivative of P(evidence) by every factor, which times the factor on one variable is that variable's joint
 * probability with the evidence. Nothing is ever divided (the signed factors may be zero).
 */
export interface BucketTree {
  /** Fields of the steps, `STEP_FIELDS` each. */
  readonly steps: Int32Array;
  /** Index tables of the steps. */
  readonly maps: Int32Array;
  readonly places: readonly FactorPlace[];
  /** Cells of the factors, and of factors, products and messages together. */
  readonly factorCells: number;
  readonly allCells: number;
  /** Where the sums of the components lie, and the component of each variable. */
  readonly roots: readonly number[];
  readonly component: Int32Array;
  readonly order: Int32Array;
  /** First and last step (exclusive) of the bucket eliminated at each place of the order. */
  readonly bucketSteps: readonly (readonly [number, number])[];
  /** Variables of the message of each bucket, in the order of its cells. */
  readonly separators: readonly (readonly number[])[];
  readonly cards: readonly number[];
  readonly width: number;
  readonly cells: number;
}

/** Field of a step: operands, result, inner and outer loop length, index tables, and what to do. */
export const STEP = {
  left: 0,
  right: 1,
  out: 2,
  inner: 3,
  outer: 4,
  leftInner: 5,
  leftOuter: 6,
  rightInner: 7,
  rightOuter: 8,
  kind: 9,
  card: 10,
} as const;
export const STEP_FIELDS = 11;

/** Bits of `kind`. */
export const SUMS = 1;
export const RIGHT_IS_MESSAGE = 2;

/** Cells the inner loop aims at. */
const INNER_CELLS = 256;

interface Operand {
  readonly scope: readonly number[];
  readonly offset: number;
  readonly strides: readonly number[];
  readonly message: boolean;
}

/** Builds the steps. `scopes[v]` must be `[v]` for each variable v. */
export function buildBucketTree(
  scopes: readonly (readonly number[])[],
  cards: readonly number[],
  found: EliminationOrder,
): BucketTree {
  const { order } = found;
  const count = cards.length;
  const position = new Int32Array(count);
  order.forEach((v, i) => {
    position[v] = i;
  });
  const byPosition = (a: number, b: number): number => (position[a] as number) - (position[b] as number);
  const sizeOf = (scope: readonly number[]): number =>
    scope.reduce((size, v) => size * (cards[v] as number), 1);
  const layOutCells = (scope: readonly number[]): number[] => {
    let stride = 1;
    return scope.map((v) => {
      const here = stride;
      stride *= cards[v] as number;
      return here;
    });
  };

  let cellEnd = 0;
  const claim = (size: number): number => {
    const at = cellEnd;
    cellEnd += size;
    return at;
  };
  const places: FactorPlace[] = [];
  const buckets: Operand[][] = cards.map(() => []);
  scopes.forEach((scope) => {
    const sorted = [...scope].sort(byPosition);
    const sortedStrides = layOutCells(sorted);
    const offset = claim(sizeOf(scope));
    places.push({ offset, strides: scope.map((v) => sortedStrides[sorted.indexOf(v)] as number) });
    const bucket = buckets[position[sorted[0] as number] as number] as Operand[];
    bucket.push({ scope: sorted, offset, strides: sortedStrides, message: false });
  });
  const factorCells = cellEnd;

  const maps: number[] = [];
  const steps: number[] = [];
  const roots: number[] = [];
  const parentBucket = new Int32Array(count).fill(-1);
  const bucketSteps: [number, number][] = [];
  const separators: number[][] = [];

  const emit = (
    left: Operand,
    right: Operand | undefined,
    union: readonly number[],
    sums: boolean,
  ): Operand => {
    let innerVariables = 0;
    let inner = 1;
    while (innerVariables < union.length && inner < INNER_CELLS)
      inner *= cards[union[innerVariables++] as number] as number;
    const total = sizeOf(union);
    const mapOf = (operand: Operand | undefined, from: number, to: number, size: number): number => {
      const at = maps.length;
      const stride = union.slice(from, to).map((v) => {
        const i = operand === undefined ? -1 : operand.scope.indexOf(v);
        return i < 0 ? 0 : ((operand as Operand).strides[i] as number);
      });
      let block = 1;
      maps.push(0);
      for (let d = 0; d < stride.length; d++) {
        const card = cards[union[from + d] as number] as number;
        for (let digit = 1; digit < card; digit++) {
          const by = digit * (stride[d] as number);
          for (let i = 0; i < block; i++) maps.push((maps[at + i] as number) + by);
        }
        block *= card;
      }
      if (block !== size) throw new Error('index table of the wrong size');
      return at;
    };
    const outer = total / inner;
    const scope = sums ? union.slice(1) : union;
    const card = cards[union[0] as number] as number;
    const out = claim(sums ? total / card : total);
    const split = innerVariables;
    steps.push(
      left.offset,
      right === undefined ? -1 : right.offset,
      out,
      inner,
      outer,
      mapOf(left, 0, split, inner),
      mapOf(left, split, union.length, outer),
      right === undefined ? 0 : mapOf(right, 0, split, inner),
      right === undefined ? 0 : mapOf(right, split, union.length, outer),
      (sums ? SUMS : 0) | (right?.message ? RIGHT_IS_MESSAGE : 0),
      card,
    );
    return { scope, offset: out, strides: layOutCells(scope), message: true };
  };

  for (let place = 0; place < count; place++) {
    const firstStep = steps.length / STEP_FIELDS;
    const operands = buckets[place] as Operand[];
    // The factor on the variable alone comes first: its derivative is the marginal.
    const own = order[place] as number;
    const unary = operands.findIndex((o) => !o.message && o.offset === (places[own] as FactorPlace).offset);
    let current = operands.splice(unary, 1)[0] as Operand;
    let union: readonly number[] = current.scope;
    if (operands.length === 0) current = emit(current, undefined, union, true);
    while (operands.length > 0) {
      let best = 0;
      let bestUnion: number[] | undefined;
      let bestSize = Number.POSITIVE_INFINITY;
      operands.forEach((operand, i) => {
        const joined = [...union];
        for (const v of operand.scope) if (!union.includes(v)) joined.push(v);
        const size = sizeOf(joined);
        if (size < bestSize) {
          bestSize = size;
          best = i;
          bestUnion = joined;
        }
      });
      const [next] = operands.splice(best, 1);
      union = (bestUnion as number[]).sort(byPosition);
      current = emit(current, next, union, operands.length === 0);
    }
    bucketSteps.push([firstStep, steps.length / STEP_FIELDS]);
    separators.push([...current.scope]);
    const [first] = current.scope;
    if (first === undefined) roots.push(current.offset);
    else {
      const parent = position[first] as number;
      parentBucket[place] = parent;
      buckets[parent]?.push(current);
    }
  }

  const component = new Int32Array(count);
  let rootsLeft = roots.length;
  for (let place = count - 1; place >= 0; place--) {
    const parent = parentBucket[place] as number;
    const v = order[place] as number;
    component[v] = parent < 0 ? --rootsLeft : (component[order[parent] as number] as number);
  }
  return {
    steps: Int32Array.from(steps),
    maps: Int32Array.from(maps),
    places,
    factorCells,
    allCells: cellEnd,
    roots,
    component,
    order,
    bucketSteps,
    separators,
    cards,
    width: found.width,
    cells: found.cells,
  };
}
