import type { FactorPlace } from './factor-values.js';
import type { Pairing } from './state-pairs.js';

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

/** Step of a variable in a table; 0 when the table does not hold it. */
export function strideOf(operand: Operand | undefined, v: number): number {
  const at = operand === undefined ? -1 : operand.scope.indexOf(v);
  return at < 0 ? 0 : ((operand as Operand).strides[at] as number);
}
