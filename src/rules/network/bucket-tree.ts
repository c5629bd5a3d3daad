import type { EliminationOrder } from './elimination-order.js';
import type { FactorPlace } from './factor-values.js';
import type { Shape } from './shape.js';

/**
 * The tree of buckets for one order of elimination, as a list of steps on one array of cells.
 *
 * A bucket holds the factors whose first variable to go is its own. They are multiplied one after the other, small
 * scopes first, so that the tables grow as slowly as they can; the last product is summed over the bucket's variable
 * at once and never stored. Collecting runs the steps forward and gives P(evidence); distributing runs them backward
 * and gives the derivative of P(evidence) by every factor, which times the factor on one variable is that variable's
 * joint probability with the evidence. Nothing is ever divided (the signed factors may be zero).
 *
 * A hidden variable that `combines` stands in each table in one of two roles. Most tables bring: they hold the chance
 * of the worst level that their part of the family brings, and two of them combine to the worse of the two levels. One
 * table judges: it holds the worth of each level brought by the others as a whole. Judging and bringing combine to a
 * judge over what is still to come. No entry is ever negative, and any order of elimination will do.
 */
export interface BucketTree {
  /** Fields of the steps, `STEP_FIELDS` each. */
  readonly steps: Int32Array;
  /** Index tables of the steps. */
  readonly maps: Int32Array;
  readonly places: readonly FactorPlace[];
  /** Cells of factors, products and messages together. */
  readonly allCells: number;
  /** Multiplications of a run forward. */
  readonly work: number;
  /** Where the sums of the components lie, and the component of each variable. */
  readonly roots: readonly number[];
  readonly component: Int32Array;
  readonly order: Int32Array;
  /** The steps of the bucket eliminated at each place of the order. */
  readonly buckets: readonly (readonly Step[])[];
}

/** A table: its variables, first eliminated first, with the step of each in the array of cells. */
export interface Operand {
  readonly scope: readonly number[];
  readonly offset: number;
  readonly strides: readonly number[];
  /** Hidden variables over which it judges. */
  readonly judges: ReadonlySet<number>;
  /** Whether its derivatives are wanted. */
  readonly wanted: boolean;
}

/** One product. */
export interface Step {
  readonly left: Operand;
  readonly right: Operand | undefined;
  readonly out: Operand;
  /** Variables of either operand. */
  readonly union: readonly number[];
  /** How each variable of the union pairs up. */
  readonly pairings: readonly Pairing[];
  /** The variable summed over, -1 if none. */
  readonly summed: number;
}

/** Places of a step's fields in `BucketTree.steps`. */
export const STEP_FIELDS = 13;
export const LEFT = 0;
/** -1 when there is only one operand. */
export const RIGHT = 1;
export const OUT = 2;
/** Lengths of the inner and outer loop. */
export const INNER = 3;
export const OUTER = 4;
/** Index tables of the two loops for each operand and (when levels combine) for the result. */
export const LEFT_INNER = 5;
export const LEFT_OUTER = 6;
export const RIGHT_INNER = 7;
export const RIGHT_OUTER = 8;
export const OUT_INNER = 9;
export const OUT_OUTER = 10;
export const KIND = 11;
/** States of the variable summed over; 1 if none. */
export const REPEAT = 12;

/** Bits of the field `KIND`. */
export const RIGHT_WANTED = 1;
export const COMBINES = 2;

/** Entries the inner loop aims at. */
const INNER_ENTRIES = 256;

/** How a variable's states pair up in a product: equal, or by the worse of two levels, with one operand judging or none. */
export type Pairing = 'same' | 'both-bring' | 'left-judges' | 'right-judges';

/** The states that meet: of the result, of the left and of the right operand. */
export type StateTriple = readonly [out: number, left: number, right: number];

export function pairStates(card: number, pairing: Pairing): StateTriple[] {
  const triples: StateTriple[] = [];
  for (let a = 0; a < card; a++) {
    if (pairing === 'same') {
      triples.push([a, a, a]);
      continue;
    }
    for (let b = 0; b < card; b++) {
      const worse = Math.max(a, b);
      if (pairing === 'both-bring') triples.push([worse, a, b]);
      // `a` is still to come, `b` is brought here, the judge hears the worse.
      else triples.push(pairing === 'left-judges' ? [a, worse, b] : [a, b, worse]);
    }
  }
  return triples;
}

/** Step of a variable in a table; 0 when the table does not hold it. */
export function strideOf(operand: Operand | undefined, v: number): number {
  const at = operand === undefined ? -1 : operand.scope.indexOf(v);
  return at < 0 ? 0 : ((operand as Operand).strides[at] as number);
}

/** Builds the tree for an order of elimination of the shape's variables. */
export function buildBucketTree(shape: Shape, found: EliminationOrder): BucketTree {
  const { cards, scopes, combines } = shape;
  const { order } = found;
  const count = cards.length;
  const position = new Int32Array(count);
  order.forEach((v, i) => {
    position[v] = i;
  });
  const byPosition = (a: number, b: number): number => (position[a] as number) - (position[b] as number);
  const sizeOf = (scope: readonly number[]): number =>
    scope.reduce((size, v) => size * (cards[v] as number), 1);
  let allCells = 0;
  const claim = (scope: readonly number[], judges: ReadonlySet<number>, wanted: boolean): Operand => {
    const offset = allCells;
    let stride = 1;
    const strides = scope.map((v) => {
      const here = stride;
      stride *= cards[v] as number;
      return here;
    });
    allCells += stride;
    return { scope, offset, strides, judges, wanted };
  };

  const places: FactorPlace[] = [];
  const waiting: Operand[][] = cards.map(() => []);
  scopes.forEach((scope, factor) => {
    const judged = shape.judges.get(factor);
    const judges = new Set(judged === undefined ? [] : [judged]);
    const operand = claim([...scope].sort(byPosition), judges, factor < count);
    places.push({ offset: operand.offset, strides: scope.map((v) => strideOf(operand, v)) });
    waiting[position[operand.scope[0] as number] as number]?.push(operand);
  });

  const maps: number[] = [];
  const fields: number[] = [];
  let work = 0;
  const makeStep = (
    left: Operand,
    right: Operand | undefined,
    union: readonly number[],
    summed: number,
  ): Step => {
    const pairingOf = (v: number): Pairing => {
      const shared = left.scope.includes(v) && right?.scope.includes(v) === true;
      if (combines[v] === 0 || v === summed || !shared) return 'same';
      if (left.judges.has(v)) return 'left-judges';
      return right.judges.has(v) ? 'right-judges' : 'both-bring';
    };
    const pairings = union.map(pairingOf);
    const judges = new Set([...left.judges, ...(right?.judges ?? [])]);
    judges.delete(summed);
    const out = claim(summed >= 0 ? union.slice(1) : union, judges, true);
    const pairs = union.map((v, d) => pairStates(cards[v] as number, pairings[d] as Pairing));
    let split = 0;
    let inner = 1;
    while (split < union.length && inner < INNER_ENTRIES) inner *= (pairs[split++] as unknown[]).length;
    const writeMap = (operand: Operand | undefined, which: 0 | 1 | 2, from: number, to: number): number => {
      const start = maps.length;
      maps.push(0);
      for (let d = from; d < to; d++) {
        const stride = strideOf(operand, union[d] as number);
        const block = maps.length - start;
        const [, ...others] = pairs[d] as StateTriple[];
        for (const pair of others) {
          for (let i = 0; i < block; i++) maps.push((maps[start + i] as number) + stride * pair[which]);
        }
      }
      return start;
    };
    const outer = pairs.slice(split).reduce((size, pair) => size * pair.length, 1);
    const combining = pairings.some((pairing) => pairing !== 'same');
    const mapsOf = (operand: Operand | undefined, which: 0 | 1 | 2): [number, number] =>
      operand === undefined
        ? [0, 0]
        : [writeMap(operand, which, 0, split), writeMap(operand, which, split, union.length)];
    fields.push(
      left.offset,
      right === undefined ? -1 : right.offset,
      out.offset,
      inner,
      outer,
      ...mapsOf(left, 1),
      ...mapsOf(right, 2),
      ...mapsOf(combining ? out : undefined, 0),
      (right?.wanted ? RIGHT_WANTED : 0) | (combining ? COMBINES : 0),
      summed >= 0 ? (cards[summed] as number) : 1,
    );
    work += inner * outer;
    return { left, right, out, union, pairings, summed };
  };

  const roots: number[] = [];
  const parentBucket = new Int32Array(count).fill(-1);
  const buckets: Step[][] = [];
  for (let place = 0; place < count; place++) {
    const own = order[place] as number;
    const steps: Step[] = [];
    // What judges the bucket's own variable comes last of all, when everything has been brought.
    const early = (waiting[place] as Operand[]).filter((operand) => !operand.judges.has(own));
    const late = (waiting[place] as Operand[]).filter((operand) => operand.judges.has(own));
    // The factor on the variable alone, the first that came to wait, is small and starts the product.
    let current = (early.shift() ?? late.shift()) as Operand;
    let union: readonly number[] = current.scope;
    const join = (operand: Operand): number[] => [
      ...union,
      ...operand.scope.filter((v) => !union.includes(v)),
    ];
    const take = (next: Operand): void => {
      union = join(next).sort(byPosition);
      const summed = early.length + late.length === 0 ? own : -1;
      const step = makeStep(current, next, union, summed);
      steps.push(step);
      current = step.out;
    };
    while (early.length > 0) {
      let best = 0;
      let bestSize = Number.POSITIVE_INFINITY;
      early.forEach((operand, i) => {
        const size = sizeOf(join(operand));
        if (size < bestSize) {
          bestSize = size;
          best = i;
        }
      });
      const [next] = early.splice(best, 1) as [Operand];
      take(next);
    }
    for (let next = late.shift(); next !== undefined; next = late.shift()) take(next);
    if (steps.length === 0) {
      const step = makeStep(current, undefined, union, own);
      steps.push(step);
      current = step.out;
    }
    buckets.push(steps);
    const [first] = current.scope;
    if (first === undefined) roots.push(current.offset);
    else {
      parentBucket[place] = position[first] as number;
      waiting[position[first] as number]?.push(current);
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
    steps: Int32Array.from(fields),
    maps: Int32Array.from(maps),
    places,
    allCells,
    work,
    roots,
    component,
    order,
    buckets,
  };
}
