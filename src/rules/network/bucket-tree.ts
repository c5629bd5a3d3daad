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
export const EXTENDS = 4;

/** Entries the inner loop aims at. */
const INNER_ENTRIES = 256;

/** How a variable's states pair up in a product: equal, or by the worse of two levels, with one operand judging or none. */
export type Pairing = 'same' | 'both-bring' | 'left-judges' | 'right-judges';

/** The states that meet: of the result, of the left and of the right operand. */
export type StateTriple = readonly [out: number, left: number, right: number];

/** The states that meet of a variable of so many states. */
export const pairStates = keptPairs(listPairs);

function listPairs(card: number, pairing: Pairing): StateTriple[] {
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

/** Keeps the lists: they depend on little, and every step of every tree asks for some. */
function keptPairs(
  list: (card: number, pairing: Pairing) => readonly StateTriple[],
): (card: number, pairing: Pairing) => readonly StateTriple[] {
  const kept = new Map<Pairing, (readonly StateTriple[] | undefined)[]>();
  return (card, pairing) => {
    const byCard = kept.get(pairing) ?? [];
    kept.set(pairing, byCard);
    byCard[card] ??= list(card, pairing);
    return byCard[card];
  };
}

/**
 * From this many combining variables on, the bringing operand is first extended by the chance of "at most" each level:
 * a pair of two-state levels then takes three products instead of four.
 */
const EXTEND_FROM = 3;

/** State of "at most level m" in an extended operand. */
function atMost(card: number, level: number): number {
  return level === 0 ? 0 : card - 1 + level;
}

/** `pairStates` for a bringing operand that is extended: the right one, or the left one under `right-judges`. */
const pairExtended = keptPairs(listExtendedPairs);

function listExtendedPairs(card: number, pairing: Pairing): readonly StateTriple[] {
  if (pairing === 'same') return pairStates(card, pairing);
  const triples: StateTriple[] = [];
  for (let a = 0; a < card; a++) {
    if (pairing === 'both-bring') {
      triples.push([a, a, atMost(card, a)]);
      for (let below = 0; below < a; below++) triples.push([a, below, a]);
      continue;
    }
    const judged: [number, number][] = [[a, atMost(card, a)]];
    for (let above = a + 1; above < card; above++) judged.push([above, above]);
    for (const [heard, brought] of judged) {
      triples.push(pairing === 'left-judges' ? [a, heard, brought] : [a, brought, heard]);
    }
  }
  return triples;
}

/** States of the extended operand and the plain states they sum. */
function extendStates(card: number): [extended: number, plain: number][] {
  const pairs: [number, number][] = [];
  for (let s = 0; s < card; s++) pairs.push([s, s]);
  for (let m = 1; m < card; m++) for (let s = 0; s <= m; s++) pairs.push([atMost(card, m), s]);
  return pairs;
}

/** Most tables judge nothing: they share this. */
const NO_JUDGE: ReadonlySet<number> = new Set();

/** What a product judges: what either operand does, but for the variable summed over. */
function joinJudges(
  left: ReadonlySet<number>,
  right: ReadonlySet<number>,
  summed: number,
): ReadonlySet<number> {
  if (left.size + right.size === 0) return NO_JUDGE;
  const both = new Set([...left, ...right]);
  both.delete(summed);
  return both;
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
  const claim = (
    scope: readonly number[],
    judges: ReadonlySet<number>,
    wanted: boolean,
    sizes: readonly number[] = scope.map((v) => cards[v] as number),
  ): Operand => {
    const offset = allCells;
    let stride = 1;
    const strides = sizes.map((size) => {
      const here = stride;
      stride *= size;
      return here;
    });
    allCells += stride;
    return { scope, offset, strides, judges, wanted };
  };

  const places: FactorPlace[] = [];
  const waiting: Operand[][] = cards.map(() => []);
  scopes.forEach((scope, factor) => {
    const judged = shape.judges.get(factor);
    const judges = judged === undefined ? NO_JUDGE : new Set([judged]);
    const operand = claim([...scope].sort(byPosition), judges, factor < count);
    places.push({ offset: operand.offset, strides: scope.map((v) => strideOf(operand, v)) });
    waiting[position[operand.scope[0] as number] as number]?.push(operand);
  });

  let maps = new Int32Array(4096);
  let mapsUsed = 0;
  const fields: number[] = [];
  let work = 0;
  /** Writes the fields and index tables of one step; `pairs` lists the states that meet, by variable of the union. */
  const emit = (
    [out, left, right]: readonly [Operand, Operand, Operand | undefined],
    union: readonly number[],
    pairs: readonly (readonly (readonly number[])[])[],
    kind: number,
    repeat: number,
  ): void => {
    let split = 0;
    let inner = 1;
    while (split < union.length && inner < INNER_ENTRIES)
      inner *= (pairs[split++] as readonly unknown[]).length;
    const outer = pairs.slice(split).reduce((size, pair) => size * pair.length, 1);
    const writeMap = (operand: Operand, which: number, from: number, to: number): number => {
      const start = mapsUsed;
      let size = 1;
      for (let d = from; d < to; d++) size *= (pairs[d] as readonly unknown[]).length;
      if (maps.length < start + size) {
        const more = new Int32Array(2 * (start + size));
        more.set(maps.subarray(0, start));
        maps = more;
      }
      maps[start] = 0;
      let end = start + 1;
      for (let d = from; d < to; d++) {
        const stride = strideOf(operand, union[d] as number);
        const block = end - start;
        const [first, ...others] = pairs[d] as readonly (readonly number[])[];
        const zero = (first as readonly number[])[which] as number;
        if (zero !== 0) throw new Error('the first pair of states must be all zero');
        for (const pair of others) {
          const step = stride * (pair[which] as number);
          for (let i = 0; i < block; i++) maps[end++] = (maps[start + i] as number) + step;
        }
      }
      mapsUsed = end;
      return start;
    };
    const mapsOf = (operand: Operand | undefined, which: number): [number, number] =>
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
      ...mapsOf((kind & (COMBINES | EXTENDS)) === 0 ? undefined : out, 0),
      kind,
      repeat,
    );
    work += inner * outer;
  };

  /** Adds the "at most" states of these variables to a table, one variable after the other. */
  const extend = (operand: Operand, variables: readonly number[]): Operand => {
    let table = operand;
    const sizes = operand.scope.map((v) => cards[v] as number);
    for (const v of variables) {
      const at = operand.scope.indexOf(v);
      const pairs = sizes.map((size, d): [number, number][] =>
        d === at ? extendStates(size) : Array.from({ length: size }, (_, s) => [s, s]),
      );
      sizes[at] = 2 * (sizes[at] as number) - 1;
      const next = claim(operand.scope, operand.judges, true, sizes);
      emit([next, table, undefined], operand.scope, pairs, EXTENDS, 1);
      table = next;
    }
    return table;
  };

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
    const judges = joinJudges(left.judges, right?.judges ?? NO_JUDGE, summed);
    const out = claim(summed >= 0 ? union.slice(1) : union, judges, true);
    const combining = pairings.filter((pairing) => pairing !== 'same').length;
    const extending = combining >= EXTEND_FROM;
    const toExtend = (which: 'left' | 'right'): number[] =>
      union.filter((_, d) => {
        const pairing = pairings[d];
        return extending && pairing !== 'same' && (pairing === 'right-judges') === (which === 'left');
      });
    const leftTable = extend(left, toExtend('left'));
    const rightTable = right === undefined ? undefined : extend(right, toExtend('right'));
    const pairUp = extending ? pairExtended : pairStates;
    const pairs = union.map((v, d) => pairUp(cards[v] as number, pairings[d] as Pairing));
    emit(
      [out, leftTable, rightTable],
      union,
      pairs,
      (right?.wanted ? RIGHT_WANTED : 0) | (combining > 0 ? COMBINES : 0),
      summed >= 0 ? (cards[summed] as number) : 1,
    );
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
    maps: maps.slice(0, mapsUsed),
    places,
    allCells,
    work,
    roots,
    component,
    order,
    buckets,
  };
}
