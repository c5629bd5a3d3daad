import { openDraws, parameterDraws } from './draws.js';
import { computeState } from './model.js';
import { centralParameters, type ParameterTable } from './parameters.js';
import type { SpinningSetup, UncertainSetup } from './setup.js';
import { type ComputedState, type MarginField, QUANTITY_FIELDS, type QuantityField } from './state.js';

/** Values of every quantity, one for each draw. */
export type Columns = Readonly<Record<QuantityField, Float64Array>>;

/** A change of setup, such as "the same with a smooth nozzle"; it gives back what it was given where nothing changes. */
export type SetupVariant = (setup: SpinningSetup) => SpinningSetup;

/** The model run over the doubt about setup and parameters. */
export interface Simulation {
  readonly draws: number;
  readonly base: Columns;
  /** The same draws, with the setup changed. */
  readonly variants: Readonly<Record<string, Columns>>;
  /** The state at the central setup and central parameters. */
  readonly central: ComputedState;
  /** The same for each variant. */
  readonly centralVariants: Readonly<Record<string, ComputedState>>;
}

/** Options of {@link simulate}. */
export interface SimulationOptions {
  /** Number of draws, 2 or more; 256 unless said. */
  readonly draws?: number;
  readonly variants?: Readonly<Record<string, SetupVariant>>;
  /**
   * Quantities kept of the variants; all unless said. Reading another one of them throws: a simulation with many
   * variants is large, and few of their quantities are ever looked at.
   */
  readonly variantFields?: readonly QuantityField[];
}

/**
 * Runs the model over draws of the setup's assumed values and of every parameter. The same call always gives the
 * same numbers, and a variant sees the draws of the base, so that their difference is the change's own.
 *
 * @throws RangeError when `draws` is not a whole number from 2 to 65 536
 * @throws ParameterError when there are no data for a fibre, or the table is incomplete
 */
export function simulate(
  setup: UncertainSetup,
  table: ParameterTable,
  options: SimulationOptions = {},
): Simulation {
  const draws = options.draws ?? 256;
  if (!Number.isInteger(draws) || draws < 2 || draws > 65536) {
    throw new RangeError(`draws: ${draws} is not possible; give a whole number from 2 to 65536`);
  }
  const variants = Object.entries(options.variants ?? {});
  const parameters = parameterDraws(table, draws);
  const base = emptyColumns(draws);
  const fields = options.variantFields ?? QUANTITY_FIELDS;
  const changed = variants.map(() => emptyColumns(draws, fields));
  const baseInto = QUANTITY_FIELDS.map((field) => base[field]);
  const changedInto = changed.map((columns) => fields.map((field) => columns[field]));
  const source = openDraws(draws);
  for (let i = 0; i < draws; i++) {
    source.index = i;
    const drawn = parameters[i];
    if (drawn === undefined) continue;
    const sampled = setup.sample(source);
    const state = computeState(sampled, drawn);
    fill(baseInto, i, state, QUANTITY_FIELDS);
    for (let v = 0; v < variants.length; v++) {
      const change = variants[v]?.[1];
      const columns = changedInto[v];
      if (change !== undefined && columns !== undefined) {
        const then = change(sampled);
        fill(columns, i, then === sampled ? state : computeState(then, drawn), fields);
      }
    }
  }
  const central = centralParameters(table);
  return {
    draws,
    base,
    variants: Object.fromEntries(variants.map(([name], v) => [name, changed[v] ?? emptyColumns(draws)])),
    central: computeState(setup.central, central),
    centralVariants: Object.fromEntries(
      variants.map(([name, change]) => [name, computeState(change(setup.central), central)]),
    ),
  };
}

/** A setup about which there is no doubt. */
export function certainSetup(setup: SpinningSetup): UncertainSetup {
  return { central: setup, sample: () => setup };
}

/**
 * Chance that a margin is negative as the setup stands, and would not be with the change: how far the fault is one
 * of what the change undoes.
 *
 * @returns share of the draws, 0–1
 * @throws RangeError when the simulation holds no such variant
 */
export function probabilityButFor(simulation: Simulation, margin: MarginField, variant: string): number {
  const before = simulation.base[margin];
  const after = variantColumns(simulation, variant)[margin];
  let cured = 0;
  for (let i = 0; i < simulation.draws; i++) {
    if ((before[i] ?? 0) < 0 && (after[i] ?? 0) >= 0) cured++;
  }
  return cured / simulation.draws;
}

/**
 * Columns of a variant.
 *
 * @throws RangeError when the simulation holds no such variant
 */
export function variantColumns(simulation: Simulation, variant: string): Columns {
  const columns = Object.hasOwn(simulation.variants, variant) ? simulation.variants[variant] : undefined;
  if (columns === undefined) {
    const known = Object.keys(simulation.variants).join(', ');
    throw new RangeError(`variant: "${variant}" was not simulated; allowed: ${known}`);
  }
  return columns;
}

/** Columns on one buffer: a simulation with many variants would otherwise allocate thousands of small arrays. */
function emptyColumns(draws: number, fields: readonly QuantityField[] = QUANTITY_FIELDS): Columns {
  const buffer = new Float64Array(draws * fields.length);
  const columns = (fields === QUANTITY_FIELDS ? {} : Object.create(NOT_KEPT)) as Record<
    QuantityField,
    Float64Array
  >;
  fields.forEach((field, n) => {
    Object.defineProperty(columns, field, {
      value: buffer.subarray(n * draws, (n + 1) * draws),
      enumerable: true,
    });
  });
  return columns;
}

/** What stands behind columns of which some were not kept. */
const NOT_KEPT: object = Object.defineProperties(
  {},
  Object.fromEntries(
    QUANTITY_FIELDS.map((field): [string, PropertyDescriptor] => [
      field,
      {
        get() {
          throw new RangeError(`${field}: this quantity of the variant was not kept`);
        },
      },
    ]),
  ),
);

/** @param columns one for each field, in the same order: looking each up by its name would take longer than the model */
function fill(
  columns: readonly Float64Array[],
  index: number,
  state: ComputedState,
  fields: readonly QuantityField[],
): void {
  for (let n = 0; n < fields.length; n++)
    (columns[n] as Float64Array)[index] = state[fields[n] as QuantityField];
}
