import type { ComputedState } from '../../spinning/state.js';
import type { PlanBook } from '../knowledge/plan-schema.js';
import { applyAll } from './combinations.js';
import { type BandPoint, efficientPoints, type Point, possiblyEfficient } from './dominance.js';
import { chanceOf, type PlanColumns, type PlanGround } from './ground.js';
import { grainVector, inGrains, type Quality } from './objectives.js';
import type { PlanOption } from './options.js';

/** A combination within the limits. */
export interface Candidate {
  readonly combination: readonly PlanOption[];
  readonly state: ComputedState;
  /** Percent against the present setup, at the central values. */
  readonly changes: Readonly<Record<Quality, number>>;
  readonly effort: number;
}

/** A candidate computed over all draws. */
export interface Evaluated extends Candidate {
  readonly columns: PlanColumns;
  readonly chance: number;
}

/** What a search found. */
export interface SearchResult {
  /** Candidates that no other beats or equals, in the order of the candidates. */
  readonly efficient: readonly (Evaluated & { readonly alike: number })[];
  readonly computedInFull: number;
  /** Greatest error of the estimated chance that was seen. */
  readonly estimateError: number;
}

/** Half-width within which the estimated chance is trusted at first. */
const FIRST_TOLERANCE = 0.012;

const MARGINS = ['twistMargin', 'tensionMargin', 'heatMargin'] as const;

/**
 * The efficient combinations, by a search in two stages with one and the same criterion.
 *
 * First every candidate's chance is estimated: in each draw the room left (one plus the margin) is multiplied by the
 * factors that the single changes have in that draw, and by the factor by which the combination departs from that
 * product at the central values. Everything else a candidate is judged by is exact already. Then all candidates that
 * could be efficient within the estimate's error are computed in full. If one of them shows a greater error than was
 * allowed for, the search is repeated with a wider band.
 *
 * @param candidates within all limits
 * @param leastChance a candidate whose chance lies grains below is left out; −∞ for no such limit
 */
export function searchPlans(
  candidates: readonly Candidate[],
  ground: PlanGround,
  plans: PlanBook,
  leastChance = Number.NEGATIVE_INFINITY,
): SearchResult {
  const { grains } = plans;
  const least =
    leastChance === Number.NEGATIVE_INFINITY ? leastChance : inGrains('chance', leastChance, grains);
  const vectors = candidates.map((one) => grainVector(one.changes, one.effort, grains));
  const orders = tieOrder(candidates);
  const estimate = chanceEstimator(candidates, ground);
  const estimated = Float64Array.from(candidates, (one) => estimate(one));
  const done = new Map<number, Evaluated>();
  let tolerance = FIRST_TOLERANCE;
  let error = 0;
  for (;;) {
    const band: (BandPoint & { index: number })[] = [];
    candidates.forEach((_one, index) => {
      const chance = estimated[index] ?? 0;
      const high = inGrains('chance', chance + tolerance, grains);
      if (high < least) return;
      const at = (grain: number): Point => ({
        vector: withChance(vectors[index], grain),
        order: orders[index] ?? 0,
      });
      const low = inGrains('chance', chance - tolerance, grains);
      band.push({ index, low: at(low), high: at(high) });
    });
    const chosen = possiblyEfficient(band);
    for (const { index } of chosen) {
      const candidate = candidates[index];
      if (candidate === undefined || done.has(index)) continue;
      const columns = ground.columnsOf((setup) => applyAll(setup, candidate.combination));
      const chance = chanceOf(columns, ground.weights);
      error = Math.max(error, Math.abs(chance - (estimated[index] ?? 0)));
      done.set(index, { ...candidate, columns, chance });
    }
    if (error <= tolerance) break;
    tolerance = 1.25 * error;
  }
  const points = [...done]
    .map(([index, one]) => {
      const grain = inGrains('chance', one.chance, grains);
      return { vector: withChance(vectors[index], grain), order: orders[index] ?? 0, one, grain, index };
    })
    .filter((point) => point.grain >= least);
  const alike = countAlike(vectors, estimated, grains);
  return {
    efficient: efficientPoints(points).map((point) => ({
      ...point.one,
      alike: alike(point.index),
    })),
    computedInFull: done.size,
    estimateError: error,
  };
}

function withChance(vector: Int32Array | undefined, grain: number): Int32Array {
  const full = Int32Array.from(vector ?? []);
  full[0] = grain;
  return full;
}

/** Order on ties: fewer changes, less effort, smaller effects, then the order in which they were formed. */
export function tieOrder(candidates: readonly Candidate[]): number[] {
  const keys = candidates.map((one, index) => ({
    index,
    count: one.combination.length,
    effort: one.effort,
    size: Number(
      Object.values(one.changes)
        .reduce((sum, change) => sum + Math.abs(change), 0)
        .toFixed(6),
    ),
  }));
  keys.sort((a, b) => a.count - b.count || a.effort - b.effort || a.size - b.size || a.index - b.index);
  const orders = new Array<number>(candidates.length);
  keys.forEach(({ index }, order) => {
    orders[index] = order;
  });
  return orders;
}

/** How many other candidates stand at the same place, by the estimate. */
function countAlike(
  vectors: readonly Int32Array[],
  estimated: Float64Array,
  grains: PlanBook['grains'],
): (index: number) => number {
  const counts = new Map<string, number>();
  const key = (index: number) =>
    withChance(vectors[index], inGrains('chance', estimated[index] ?? 0, grains)).join();
  for (let index = 0; index < vectors.length; index++)
    counts.set(key(index), (counts.get(key(index)) ?? 0) + 1);
  return (index) => Math.max(0, (counts.get(key(index)) ?? 1) - 1);
}

/** Estimates the chance of a candidate from the effects of its single changes; exact for none and one. */
export function chanceEstimator(
  candidates: readonly Candidate[],
  ground: PlanGround,
): (candidate: Candidate) => number {
  const { draws, weights } = ground;
  const base = ground.columnsOf((setup) => setup);
  const baseState = ground.stateOf(ground.central);
  const room = (columns: PlanColumns) =>
    MARGINS.map((field) => columns[field].map((margin) => Math.log(Math.max(1e-12, 1 + margin))));
  const centralRoom = (state: ComputedState) =>
    MARGINS.map((field) => Math.log(Math.max(1e-12, 1 + state[field])));
  const baseRoom = room(base);
  const baseCentral = centralRoom(baseState);
  const singles = new Map<string, { draws: Float64Array[]; central: number[] }>();
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
  const sum = new Float64Array(draws);
  const left = new Float64Array(draws);
  return ({ combination, state }) => {
    const parts = combination.map((option) => singles.get(option.id));
    left.set(open);
    const central = centralRoom(state);
    for (let m = 0; m < MARGINS.length; m++) {
      const start = baseRoom[m];
      if (start === undefined) continue;
      let together = (central[m] ?? 0) - (baseCentral[m] ?? 0);
      for (const part of parts) together -= part?.central[m] ?? 0;
      sum.set(start);
      for (const part of parts) {
        const column = part?.draws[m];
        if (column !== undefined) for (let i = 0; i < draws; i++) sum[i] = (sum[i] ?? 0) + (column[i] ?? 0);
      }
      for (let i = 0; i < draws; i++) if ((sum[i] ?? 0) + together < 0) left[i] = 0;
    }
    let good = 0;
    for (let i = 0; i < draws; i++) good += left[i] ?? 0;
    return good / total;
  };
}
