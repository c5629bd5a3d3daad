import type { ComputedState } from '../../spinning/state.js';
import type { PlanBook } from '../knowledge/plan-schema.js';
import { type ChanceEstimate, type Combined, chanceEstimator } from './chance.js';
import { applyAll } from './combinations.js';
import { bySum, covers, efficientPoints, type Point } from './dominance.js';
import { chanceOf, type PlanColumns, type PlanGround } from './ground.js';
import { grainVector, inGrains, type Quality } from './objectives.js';

/** A combination within the limits. Only what is compared is kept: there are tens of thousands of them. */
export interface Candidate extends Combined {
  /** Percent against the present setup, at the central values. */
  readonly changes: Readonly<Record<Quality, number>>;
  readonly effort: number;
}

/** A candidate computed over all draws. */
export interface Evaluated extends Candidate {
  readonly state: ComputedState;
  readonly columns: PlanColumns;
  readonly chance: number;
}

/** What a search found. */
export interface SearchResult {
  /** Candidates that no other beats or equals, in the order of the candidates. */
  readonly efficient: readonly (Evaluated & { readonly alike: number })[];
  /** Candidates whose chance was computed and not only estimated. */
  readonly computed: number;
}

/** Half-width within which an estimated chance is trusted at first. */
const FIRST_TOLERANCE = 0.008;

/**
 * The efficient combinations, by a search in two stages with one and the same criterion.
 *
 * First every candidate's chance is estimated (see `chance.ts`); everything else a candidate is judged by is exact
 * already. Then the candidates are gone through, the most promising first, and the chance of each is computed unless
 * one whose chance was computed makes it superfluous, even if it stood as much above its estimate as is allowed for.
 * If an estimate turns out to be farther off than that, the search goes on with a wider allowance.
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
  const admitted = (point: Point) => (point.vector[0] ?? 0) >= least;
  const vectors = candidates.map((one) => grainVector(one.changes, one.effort, grains));
  const orders = tieOrder(candidates);
  const estimator = chanceEstimator(candidates, ground);
  const estimates: readonly ChanceEstimate[] = candidates.map((one) => estimator.estimate(one));
  const pointAt = (index: number, grain: number): Point => ({
    vector: withChance(vectors[index], grain),
    order: orders[index] ?? 0,
  });
  const exact = new Map<number, Point>();
  let tolerance = FIRST_TOLERANCE;
  let error = 0;
  for (;;) {
    const hopes = estimates
      .map(({ chance }, index) => ({
        index,
        ...pointAt(index, inGrains('chance', chance + tolerance, grains)),
      }))
      .filter(admitted);
    let kept = efficientPoints([...exact.values()].filter(admitted));
    for (const hope of bySum(hopes)) {
      const candidate = candidates[hope.index];
      const estimate = estimates[hope.index];
      if (candidate === undefined || estimate === undefined) continue;
      if (exact.has(hope.index) || kept.some((one) => covers(one, hope))) continue;
      const chance = estimator.compute(candidate);
      error = Math.max(error, Math.abs(chance - estimate.chance));
      const point = pointAt(hope.index, inGrains('chance', chance, grains));
      exact.set(hope.index, point);
      if (admitted(point) && !kept.some((one) => covers(one, point)))
        kept = [...kept.filter((one) => !covers(point, one)), point];
    }
    if (error <= tolerance) break;
    tolerance = 1.25 * error;
  }
  const alike = countAlike(vectors, estimates, grains);
  const points = [...exact].map(([index, point]) => ({ ...point, index })).filter(admitted);
  return {
    efficient: efficientPoints(points).flatMap(({ index }) => {
      const candidate = candidates[index];
      if (candidate === undefined) return [];
      const columns = ground.columnsOf((setup) => applyAll(setup, candidate.combination));
      const state = ground.stateOf(applyAll(ground.central, candidate.combination));
      return [
        { ...candidate, state, columns, chance: chanceOf(columns, ground.weights), alike: alike(index) },
      ];
    }),
    computed: exact.size,
  };
}

function withChance(vector: Int32Array | undefined, grain: number): Int32Array {
  const full = vector === undefined ? new Int32Array(1) : vector.slice();
  full[0] = grain;
  return full;
}

/** Order on ties: fewer changes, less effort, smaller effects, then the order in which they were formed. */
export function tieOrder(candidates: readonly Candidate[]): number[] {
  const keys = candidates.map((one, index) => ({
    index,
    count: one.combination.length,
    effort: one.effort,
    // Rounded, so that the last digit does not decide.
    size: Math.round(1e6 * Object.values(one.changes).reduce((sum, change) => sum + Math.abs(change), 0)),
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
  estimates: readonly ChanceEstimate[],
  grains: PlanBook['grains'],
): (index: number) => number {
  const counts = new Map<string, number>();
  const key = (index: number) =>
    withChance(vectors[index], inGrains('chance', estimates[index]?.chance ?? 0, grains)).join();
  for (let index = 0; index < vectors.length; index++)
    counts.set(key(index), (counts.get(key(index)) ?? 0) + 1);
  return (index) => Math.max(0, (counts.get(key(index)) ?? 1) - 1);
}
