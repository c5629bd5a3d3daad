import { keepLayout } from '../keep-layout.js';
import {
  type BucketTree,
  COMBINES,
  EXTENDS,
  type Operand,
  RIGHT_WANTED,
  type Step,
  strideOf,
} from './bucket-tree.js';
import type { EliminationOrder } from './elimination-order.js';
import type { FactorPlace } from './factor-values.js';
import type { Shape } from './shape.js';
import { extendStates, type Pairing, pairExtended, pairStates } from './state-pairs.js';
import { StepWriter } from './step-writer.js';

/**
 * From this many combining variables on, the bringing operand is first extended by the chance of "at most" each level:
 * a pair of two-state levels then takes three products instead of four.
 */
const EXTEND_FROM = 3;

/** Most tables judge nothing: they share this. */
const NO_JUDGE: ReadonlySet<number> = new Set();

/** Builds the tree for an order of elimination of the shape's variables. */
export function buildBucketTree(shape: Shape, found: EliminationOrder): BucketTree {
  return keepLayout(new TreeBuilder(shape, found.order)).build();
}

/** One tree in the making. */
class TreeBuilder {
  /** Place of each variable in the order. */
  private readonly position: Int32Array;
  /** Tables that wait for the bucket at each place of the order. */
  private readonly waiting: readonly Operand[][];
  private readonly writer = new StepWriter();
  private allCells = 0;

  constructor(
    private readonly shape: Shape,
    private readonly order: Int32Array,
  ) {
    this.position = new Int32Array(order.length);
    for (let place = 0; place < order.length; place++) this.position[order[place] as number] = place;
    this.waiting = shape.cards.map(() => []);
  }

  build(): BucketTree {
    const { order, position } = this;
    const count = order.length;
    const places = this.placeFactors();
    const roots: number[] = [];
    const parentBucket = new Int32Array(count).fill(-1);
    const buckets: Step[][] = [];
    for (let place = 0; place < count; place++) {
      const steps = this.buildBucket(place);
      buckets.push(steps);
      const { out } = steps.at(-1) as Step;
      const [first] = out.scope;
      if (first === undefined) roots.push(out.offset);
      else {
        parentBucket[place] = position[first] as number;
        this.waiting[position[first] as number]?.push(out);
      }
    }
    const component = new Int32Array(count);
    let rootsLeft = roots.length;
    for (let place = count - 1; place >= 0; place--) {
      const parent = parentBucket[place] as number;
      const v = order[place] as number;
      component[v] = parent < 0 ? --rootsLeft : (component[order[parent] as number] as number);
    }
    const { allCells, writer } = this;
    return { ...writer.finish(), places, allCells, work: writer.work, roots, component, order, buckets };
  }

  /** Gives every factor its cells and sends it to the bucket of its first variable to go. */
  private placeFactors(): FactorPlace[] {
    const { cards, scopes, judges } = this.shape;
    const places: FactorPlace[] = [];
    for (let factor = 0; factor < scopes.length; factor++) {
      const scope = scopes[factor] as readonly number[];
      const judged = judges.get(factor);
      const sorted = this.joinScopes([], scope);
      const operand = this.claim(
        sorted,
        judged === undefined ? NO_JUDGE : new Set([judged]),
        factor < cards.length,
        this.sizesOf(sorted),
      );
      this.waiting[this.position[sorted[0] as number] as number]?.push(operand);
      const strides: number[] = [];
      for (const v of scope) strides.push(strideOf(operand, v));
      places.push({ offset: operand.offset, strides });
    }
    return places;
  }

  /** Multiplies what waits for a bucket and sums over its variable; the last step's result is the bucket's message. */
  private buildBucket(place: number): Step[] {
    const own = this.order[place] as number;
    const operands = this.waiting[place] as readonly Operand[];
    // What judges the bucket's own variable comes last of all, when everything has been brought.
    const early = operands.filter((operand) => !operand.judges.has(own));
    const late = operands.filter((operand) => operand.judges.has(own));
    // The factor on the variable alone, the first that came to wait, is small and starts the product.
    let current = (early.shift() ?? late.shift()) as Operand;
    let union = current.scope;
    const steps: Step[] = [];
    while (early.length + late.length > 0) {
      const next = early.length > 0 ? this.takeSmallest(early, union) : (late.shift() as Operand);
      union = this.joinScopes(union, next.scope);
      const step = this.makeStep(current, next, union, early.length + late.length === 0 ? own : -1);
      steps.push(step);
      current = step.out;
    }
    if (steps.length === 0) steps.push(this.makeStep(current, undefined, union, own));
    return steps;
  }

  /** Takes the table whose product with the union is smallest, of equal ones the first, out of those that wait. */
  private takeSmallest(waiting: Operand[], union: readonly number[]): Operand {
    const { cards } = this.shape;
    let best = 0;
    let bestSize = Number.POSITIVE_INFINITY;
    for (let i = 0; i < waiting.length; i++) {
      let size = 1;
      for (const v of (waiting[i] as Operand).scope) if (!union.includes(v)) size *= cards[v] as number;
      if (size < bestSize) {
        bestSize = size;
        best = i;
      }
    }
    return waiting.splice(best, 1)[0] as Operand;
  }

  private makeStep(
    left: Operand,
    right: Operand | undefined,
    union: readonly number[],
    summed: number,
  ): Step {
    const { cards } = this.shape;
    const pairings: Pairing[] = [];
    let combining = 0;
    for (const v of union) {
      const pairing = this.pairingOf(v, left, right, summed);
      if (pairing !== 'same') combining++;
      pairings.push(pairing);
    }
    const judges = joinJudges(left.judges, right?.judges ?? NO_JUDGE, summed);
    const scope = summed >= 0 ? union.slice(1) : union;
    const out = this.claim(scope, judges, true, this.sizesOf(scope));
    const extending = combining >= EXTEND_FROM;
    const leftTable = extending
      ? this.extend(
          left,
          union.filter((_, d) => pairings[d] === 'right-judges'),
        )
      : left;
    const rightTable =
      extending && right !== undefined
        ? this.extend(
            right,
            union.filter((_, d) => pairings[d] === 'left-judges' || pairings[d] === 'both-bring'),
          )
        : right;
    const pairUp = extending ? pairExtended : pairStates;
    this.writer.write(
      [out, leftTable, rightTable],
      union,
      union.map((v, d) => pairUp(cards[v] as number, pairings[d] as Pairing)),
      (right?.wanted ? RIGHT_WANTED : 0) | (combining > 0 ? COMBINES : 0),
      summed >= 0 ? (cards[summed] as number) : 1,
    );
    return { left, right, out, union, pairings, summed };
  }

  private pairingOf(v: number, left: Operand, right: Operand | undefined, summed: number): Pairing {
    if (this.shape.combines[v] === 0 || v === summed || right === undefined) return 'same';
    if (!left.scope.includes(v) || !right.scope.includes(v)) return 'same';
    if (left.judges.has(v)) return 'left-judges';
    return right.judges.has(v) ? 'right-judges' : 'both-bring';
  }

  /** Adds the "at most" states of these variables to a table, one variable after the other. */
  private extend(operand: Operand, variables: readonly number[]): Operand {
    let table = operand;
    const sizes = this.sizesOf(operand.scope);
    for (const v of variables) {
      const at = operand.scope.indexOf(v);
      const pairs = sizes.map((size, d) =>
        d === at ? extendStates(size) : Array.from({ length: size }, (_, s) => [s, s]),
      );
      sizes[at] = 2 * (sizes[at] as number) - 1;
      const next = this.claim(operand.scope, operand.judges, true, sizes);
      this.writer.write([next, table, undefined], operand.scope, pairs, EXTENDS, 1);
      table = next;
    }
    return table;
  }

  /** Gives a table its cells. @param sizes states of each variable of the scope */
  private claim(
    scope: readonly number[],
    judges: ReadonlySet<number>,
    wanted: boolean,
    sizes: readonly number[],
  ): Operand {
    const offset = this.allCells;
    const strides: number[] = [];
    let stride = 1;
    for (const size of sizes) {
      strides.push(stride);
      stride *= size;
    }
    this.allCells += stride;
    return { scope, offset, strides, judges, wanted };
  }

  private sizesOf(scope: readonly number[]): number[] {
    const sizes: number[] = [];
    for (const v of scope) sizes.push(this.shape.cards[v] as number);
    return sizes;
  }

  /** The variables of either scope, first eliminated first. @param sorted a scope in that order already */
  private joinScopes(sorted: readonly number[], added: readonly number[]): number[] {
    const { position } = this;
    const union = [...sorted];
    for (const v of added) {
      if (sorted.includes(v)) continue;
      let at = union.length;
      for (; at > 0 && (position[union[at - 1] as number] as number) > (position[v] as number); at--)
        union[at] = union[at - 1] as number;
      union[at] = v;
    }
    return union;
  }
}

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
