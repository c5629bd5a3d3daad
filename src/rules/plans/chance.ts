import type { SpinningSetup } from '../../spinning/setup.js';
import type { ComputedState } from '../../spinning/state.js';
import { applyAll } from './combinations.js';
import type { PlanColumns, PlanGround } from './ground.js';
import type { PlanOption } from './options.js';

/** A combination with its margins at the central values, in the order of {@link RUN_MARGINS}. */
export interface Combined {
  readonly combination: readonly PlanOption[];
  readonly margins: readonly number[];
}

export interface ChanceEstimate {
  readonly chance: number;
}

/** Estimates and computes the chance of a stable run. */
export interface ChanceEstimator {
  estimate(candidate: Combined): ChanceEstimate;
  /** The chance over all draws, the same as computing every draw. */
  compute(candidate: Combined): number;
}

/** Margins that settings of a plan move. */
export const RUN_MARGINS = ['twistMargin', 'tensionMargin', 'heatMargin'] as const;
/** Margin that the model gives where a limit does not apply. */
const FREE = 9;
/** Logarithm of the room within which a draw's verdict is computed and not estimated, at first. */
const FIRST_DOUBT = 0.06;
/** How many times the greatest error seen a draw must lie off the limit to be taken as settled. */
const SAFETY = 2;

/**
 * Estimates the chance that no margin is negative from the effects of single changes. In each draw the room left (one
 * plus the margin) is multiplied by the factors that the single changes have in that draw, and by the factor by which
 * the combination departs from that product at the central values: nearly every step of the model is a power law, for
 * which this is exact.
 *
 * To compute a chance, only the draws whose estimated room is near the limit are run through the model. The error of
 * the estimate is watched on them; when the doubt allowed for proves too small, it is widened and the draws between
 * are run too.
 */
export function chanceEstimator(candidates: readonly Combined[], ground: PlanGround): ChanceEstimator {
  const { draws, weights } = ground;
  const base = ground.columnsOf((setup) => setup);
  const logRoom = (margin: number) => Math.log(Math.max(1e-12, 1 + margin));
  // A margin that is free in every draw (heat, for a fibre that does not soften) is free in every combination.
  const bearing = RUN_MARGINS.filter((field) => base[field].some((margin) => margin < FREE));
  const places = bearing.map((field) => RUN_MARGINS.indexOf(field));
  const room = (columns: PlanColumns) => bearing.map((field) => columns[field].map(logRoom));
  const centralRoom = (state: ComputedState) => bearing.map((field) => logRoom(state[field]));
  const baseRoom = room(base);
  const baseCentral = centralRoom(ground.stateOf(ground.central));
  const singles = new Map<
    string,
    { readonly draws: readonly Float64Array[]; readonly central: readonly number[] }
  >();
  for (const { combination } of candidates)
    for (const option of combination) {
      if (singles.has(option.id)) continue;
      const own = room(ground.columnsOf(option.apply));
      const central = centralRoom(ground.stateOf(option.apply(ground.central)));
      singles.set(option.id, {
        draws: own.map((column, m) => column.map((value, i) => value - (baseRoom[m]?.[i] ?? 0))),
        central: central.map((value, m) => value - (baseCentral[m] ?? 0)),
      });
    }
  // What no setting of a plan moves is settled once.
  const open = Float64Array.from(weights, (weight, i) => ((base.fibresMargin[i] ?? 0) >= 0 ? weight : 0));
  let total = 0;
  for (const weight of weights) total += weight;
  let doubt = FIRST_DOUBT;

  /** Least estimated room over the margins, in each draw. */
  const least = new Float64Array(draws).fill(Number.POSITIVE_INFINITY);
  /** In the place of a change that a combination does not have. */
  const none = new Float64Array(draws);
  const fillLeast = ({ combination, margins }: Combined): void => {
    const parts = combination.map((option) => singles.get(option.id));
    const central = places.map((place) => logRoom(margins[place] ?? 0));
    const [first, second, third] = parts;
    for (let m = 0; m < bearing.length; m++) {
      let together = (central[m] ?? 0) - (baseCentral[m] ?? 0);
      for (const part of parts) together -= part?.central[m] ?? 0;
      addUp(
        least,
        m > 0,
        together,
        baseRoom[m] ?? none,
        first?.draws[m] ?? none,
        second?.draws[m] ?? none,
        third?.draws[m] ?? none,
      );
    }
  };

  return {
    estimate(candidate) {
      fillLeast(candidate);
      let good = 0;
      for (let i = 0; i < draws; i++) if ((least[i] ?? 0) >= 0) good += open[i] ?? 0;
      return { chance: good / total };
    },
    compute(candidate) {
      fillLeast(candidate);
      const change = (setup: SpinningSetup) => applyAll(setup, candidate.combination);
      const verdicts = new Map<number, boolean>();
      let error = 0;
      for (;;) {
        let good = 0;
        for (let i = 0; i < draws; i++) {
          const weight = open[i] ?? 0;
          const estimated = least[i] ?? 0;
          if (weight === 0) continue;
          if (Math.abs(estimated) > doubt) {
            if (estimated > 0) good += weight;
            continue;
          }
          let fine = verdicts.get(i);
          if (fine === undefined) {
            const state = ground.stateAt(i, change);
            const actual = Math.min(...bearing.map((field) => logRoom(state[field])));
            error = Math.max(error, Math.abs(actual - estimated));
            fine = bearing.every((field) => state[field] >= 0);
            verdicts.set(i, fine);
          }
          if (fine) good += weight;
        }
        if (SAFETY * error <= doubt) return good / total;
        // Kept for the candidates after this one: an estimate that was that far off once may be so again.
        doubt = SAFETY * error * 1.01;
      }
    },
  };
}

/** Adds up to three changes to the room of a margin in every draw, and keeps the least (`others`: of all margins). */
function addUp(
  least: Float64Array,
  others: boolean,
  together: number,
  start: Float64Array,
  first: Float64Array,
  second: Float64Array,
  third: Float64Array,
): void {
  for (let i = 0; i < least.length; i++) {
    const value = (start[i] ?? 0) + (first[i] ?? 0) + (second[i] ?? 0) + (third[i] ?? 0) + together;
    if (!others || value < (least[i] ?? 0)) least[i] = value;
  }
}
