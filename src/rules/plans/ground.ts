import { openDraws, parameterDraws } from '../../spinning/draws.js';
import { computeState } from '../../spinning/model.js';
import { centralParameters, type ModelParameters } from '../../spinning/parameters.js';
import type { SpinningSetup } from '../../spinning/setup.js';
import type { ComputedState, QuantityField } from '../../spinning/state.js';
import type { ResolvedSetup } from '../case/resolve-setup.js';
import type { Knowledge } from '../knowledge/knowledge.js';

/** Quantities a plan is judged by. */
export const PLAN_FIELDS = [
  'twistMargin',
  'tensionMargin',
  'heatMargin',
  'fibresMargin',
  'hairinessIndex',
  'softnessIndex',
  'flyIndex',
  'yarnTenacityCnPerTex',
  'outputGPerRotorH',
  'nozzleLifeH',
  'takeUpTensionCnPerTex',
] as const satisfies readonly QuantityField[];
export type PlanField = (typeof PLAN_FIELDS)[number];
export type PlanColumns = Readonly<Record<PlanField, Float64Array>>;

/** The draws of setup and parameters on which all plans of a search are computed. */
export interface PlanGround {
  readonly draws: number;
  readonly central: SpinningSetup;
  readonly parameters: ModelParameters;
  /** State of a setup at the central parameters. */
  stateOf(setup: SpinningSetup): ComputedState;
  /** State of one draw, with its setup changed. */
  stateAt(draw: number, change: (setup: SpinningSetup) => SpinningSetup): ComputedState;
  /** The quantities over all draws, with the setup of each changed. */
  columnsOf(change: (setup: SpinningSetup) => SpinningSetup): PlanColumns;
  /** Weight of each draw. */
  readonly weights: Float64Array;
}

/**
 * Draws the setup once for a whole search.
 *
 * @param draws 2 to 65 536; the same names and numbers as in a diagnosis with as many draws
 * @param settle changes every drawn setup, as for a new yarn whose settings are not in doubt but to be chosen
 * @param weights of the draws, 1 each unless said
 */
export function prepareGround(
  knowledge: Knowledge,
  resolved: ResolvedSetup,
  draws: number,
  settle: (setup: SpinningSetup) => SpinningSetup = (setup) => setup,
  weights: Float64Array = new Float64Array(draws).fill(1),
): PlanGround {
  const drawn = parameterDraws(knowledge.parameters, draws);
  const source = openDraws(draws);
  const setups: SpinningSetup[] = [];
  for (let i = 0; i < draws; i++) {
    source.index = i;
    setups.push(settle(resolved.uncertain.sample(source)));
  }
  const parameters = centralParameters(knowledge.parameters);
  return {
    draws,
    central: resolved.uncertain.central,
    parameters,
    weights,
    stateOf: (setup) => computeState(setup, parameters),
    stateAt: (draw, change) => computeState(change(at(setups, draw)), at(drawn, draw)),
    columnsOf: (change) => {
      const columns = Object.fromEntries(
        PLAN_FIELDS.map((field) => [field, new Float64Array(draws)]),
      ) as Record<PlanField, Float64Array>;
      for (let i = 0; i < draws; i++) {
        const setup = setups[i];
        const drawnParameters = drawn[i];
        if (setup === undefined || drawnParameters === undefined) continue;
        const state = computeState(change(setup), drawnParameters);
        for (const field of PLAN_FIELDS) columns[field][i] = state[field];
      }
      return columns;
    },
  };
}

function at<T>(list: readonly T[], index: number): T {
  const found = list[index];
  if (found === undefined) throw new RangeError(`draw: ${index} is not there`);
  return found;
}

/** Weighted share of the draws in which no margin is negative. */
export function chanceOf(columns: PlanColumns, weights: Float64Array): number {
  const { twistMargin, tensionMargin, heatMargin, fibresMargin } = columns;
  let good = 0;
  let total = 0;
  for (let i = 0; i < weights.length; i++) {
    const weight = weights[i] ?? 0;
    total += weight;
    if (
      (twistMargin[i] ?? 0) >= 0 &&
      (tensionMargin[i] ?? 0) >= 0 &&
      (heatMargin[i] ?? 0) >= 0 &&
      (fibresMargin[i] ?? 0) >= 0
    )
      good += weight;
  }
  return good / total;
}

/** Weighted share of the draws in which one margin is not negative. */
export function shareNotNegative(column: Float64Array, weights: Float64Array): number {
  let good = 0;
  let total = 0;
  for (let i = 0; i < weights.length; i++) {
    total += weights[i] ?? 0;
    if ((column[i] ?? 0) >= 0) good += weights[i] ?? 0;
  }
  return good / total;
}
