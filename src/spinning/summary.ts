import { type Columns, type Simulation, variantColumns } from './simulation.js';
import { QUANTITY_FIELDS, type QuantityField } from './state.js';

/** What the draws say of one quantity. */
export interface Summary {
  readonly median: number;
  /** 5 % and 95 % points: nine draws in ten lie between. */
  readonly low: number;
  readonly high: number;
  /** Share of draws below 0; for a margin, the chance of a fault. */
  readonly negative: number;
}

/**
 * Median, 5–95 % interval and share below zero of a column.
 *
 * @param column at least one finite value
 */
export function summariseColumn(column: Float64Array): Summary {
  const sorted = column.slice().sort();
  let below = 0;
  while (below < sorted.length && (sorted[below] ?? 0) < 0) below++;
  return {
    median: quantile(sorted, 0.5),
    low: quantile(sorted, 0.05),
    high: quantile(sorted, 0.95),
    negative: below / sorted.length,
  };
}

/** {@link summariseColumn} for every quantity. */
export function summarise(columns: Columns): Readonly<Record<QuantityField, Summary>> {
  return Object.fromEntries(
    QUANTITY_FIELDS.map((field) => [field, summariseColumn(columns[field])]),
  ) as Record<QuantityField, Summary>;
}

/**
 * What a change of setup does to a quantity: variant less base, draw by draw. `relative` gives it in percent of the
 * base, for quantities that are never 0.
 *
 * @throws RangeError when the simulation holds no such variant
 */
export function summariseChange(
  simulation: Simulation,
  field: QuantityField,
  variant: string,
  relative = false,
): Summary {
  const before = simulation.base[field];
  const after = variantColumns(simulation, variant)[field];
  const change = new Float64Array(simulation.draws);
  for (let i = 0; i < change.length; i++) {
    const from = before[i] ?? 0;
    const difference = (after[i] ?? 0) - from;
    change[i] = relative ? (100 * difference) / from : difference;
  }
  return summariseColumn(change);
}

/** Quantile of sorted values, with straight lines between neighbours. */
function quantile(sorted: Float64Array, share: number): number {
  const at = share * (sorted.length - 1);
  const left = Math.floor(at);
  const from = sorted[left] ?? Number.NaN;
  const to = sorted[Math.min(left + 1, sorted.length - 1)] ?? from;
  return from + (at - left) * (to - from);
}
