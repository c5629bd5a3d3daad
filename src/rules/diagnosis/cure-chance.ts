import { keepLayout } from '../keep-layout.js';
import type { PosteriorSamples } from '../network/network.js';
import { countFaultSets, type FaultSets, listFaults } from './fault-rows.js';
import type { Inference } from './infer.js';
import type { PreparedCase, Reasoner } from './prepare.js';
import { type Sign, signsSeen } from './signs.js';
import { singleCauseReach, strengthsOf } from './single-cause-reach.js';

/** Causes below this probability are left out of account. */
const LEAST_LIKELY = 0.001;

/** Chance, 0–1, that the complaint goes away when causes are taken away. @param shares by cause, the chance that it goes */
export type CureChance = (shares: ReadonlyMap<string, number>) => number;

/**
 * Chance that the complaint goes away: over exact posterior samples of what is wrong, one less the chance of each sign
 * with the causes taken away over its chance as it stands, averaged over the signs (a marked one counts twice). With no
 * sign seen, the chance that one of the causes is at work and goes.
 */
export function cureEstimator(
  reasoner: Reasoner,
  prepared: PreparedCase,
  inference: Inference,
  samples: PosteriorSamples,
): CureChance {
  const { marginals } = inference.posterior;
  const signs = signsSeen(reasoner, inference);
  const chanceOf = (id: string) => marginals.get(id) ?? 0;
  if (signs.length === 0)
    return (shares) => {
      let sum = 0;
      for (const [id, share] of shares) if (chanceOf(id) > LEAST_LIKELY) sum += share * chanceOf(id);
      return Math.min(1, sum);
    };
  const causes = [...inference.priors.keys()].filter((id) => chanceOf(id) > LEAST_LIKELY);
  const reach = singleCauseReach(reasoner.graph, prepared.cutLinks);
  const strengths = signs.map((sign) => strengthsOf(causes, sign.symptom, reach));
  const faults = countFaultSets(listFaults(samples, causes));
  const cures = keepLayout(new CureSums(causes, signs, strengths, faults, samples.count));
  return (shares) => cures.chance(shares);
}

/** What taking causes away leaves of the signs, set of causes by set of causes. */
class CureSums {
  private readonly place: ReadonlyMap<string, number>;
  private readonly totalWeight: number;
  /** By sign and set: chance that the sign shows with all causes of the set at work, whatever is taken away. */
  private readonly shown: readonly Float64Array[];
  /** Share of each cause that is taken away. */
  private readonly removed: Float64Array;
  private readonly visited: Int32Array;
  private visit = 0;

  /** @param strengths by sign and cause, the chance that the cause alone brings the sign about */
  constructor(
    causes: readonly string[],
    private readonly signs: readonly Sign[],
    private readonly strengths: readonly Float64Array[],
    private readonly faults: FaultSets,
    private readonly rows: number,
  ) {
    this.place = new Map(causes.map((id, i) => [id, i]));
    this.totalWeight = signs.reduce((sum, sign) => sum + sign.weight, 0);
    this.removed = new Float64Array(causes.length);
    this.visited = new Int32Array(faults.counts.length);
    this.shown = signs.map((_, s) => this.showing(s));
  }

  /** Chance, 0–1, that the signs go away. @param shares by cause, the chance that it goes */
  chance(shares: ReadonlyMap<string, number>): number {
    const { faults, place, removed, visited } = this;
    this.visit++;
    removed.fill(0);
    for (const [id, share] of shares) {
      const cause = place.get(id);
      if (cause !== undefined) removed[cause] = share;
    }
    let sum = 0;
    for (const [id, share] of shares) {
      const cause = place.get(id);
      if (cause === undefined || share <= 0) continue;
      for (const set of faults.having[cause] as readonly number[]) {
        if (visited[set] === this.visit) continue;
        visited[set] = this.visit;
        sum += this.gone(set);
      }
    }
    return sum / (this.rows * this.totalWeight);
  }

  /** One less the chance of all signs that are left of a set over their chance as it stands. */
  private gone(set: number): number {
    const { removed, signs } = this;
    const { starts, members, counts } = this.faults;
    let sum = 0;
    for (let s = 0; s < signs.length; s++) {
      const { leak, weight } = signs[s] as Sign;
      const strength = this.strengths[s] as Float64Array;
      let left = 1 - leak;
      for (let at = starts[set] as number; at < (starts[set + 1] as number); at++) {
        const cause = members[at] as number;
        left *= 1 - (strength[cause] as number) * (1 - (removed[cause] as number));
      }
      sum += weight * (1 - (1 - left) / ((this.shown[s] as Float64Array)[set] as number));
    }
    return (counts[set] as number) * sum;
  }

  /** By set, the chance that a sign shows with all causes at work. */
  private showing(s: number): Float64Array {
    const { starts, members, counts } = this.faults;
    const strength = this.strengths[s] as Float64Array;
    const shown = new Float64Array(counts.length);
    for (let set = 0; set < counts.length; set++) {
      let stays = 1 - (this.signs[s] as Sign).leak;
      for (let at = starts[set] as number; at < (starts[set + 1] as number); at++)
        stays *= 1 - (strength[members[at] as number] as number);
      shown[set] = 1 - stays;
    }
    return shown;
  }
}
