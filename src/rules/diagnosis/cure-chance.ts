import type { PosteriorSamples } from '../network/network.js';
import { countFaultSets, listFaults } from './fault-rows.js';
import type { Inference } from './infer.js';
import type { PreparedCase, Reasoner } from './prepare.js';
import { signsSeen } from './signs.js';
import { singleCauseReach } from './single-cause-reach.js';

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
  const place = new Map(causes.map((id, i) => [id, i]));
  const reach = singleCauseReach(reasoner.graph, prepared.cutLinks);
  const strengths = signs.map((sign) => Float64Array.from(causes, (id) => reach(id, sign.symptom)));
  const totalWeight = signs.reduce((sum, sign) => sum + sign.weight, 0);
  const { starts, members, counts, having } = countFaultSets(listFaults(samples, causes));
  // Chance that a sign stays away with all causes of a set at work: the same whatever is taken away.
  const absent = signs.map((sign, s) =>
    Float64Array.from(counts, (_, set) => {
      let stays = 1 - sign.leak;
      for (let at = starts[set] as number; at < (starts[set + 1] as number); at++)
        stays *= 1 - ((strengths[s] as Float64Array)[members[at] as number] as number);
      return stays;
    }),
  );
  const removed = new Float64Array(causes.length);
  const visited = new Int32Array(counts.length);
  let visit = 0;

  /** One less the chance of all signs that are left of a set over their chance as it stands. */
  function gone(set: number): number {
    let sum = 0;
    for (let s = 0; s < signs.length; s++) {
      const { leak, weight } = signs[s] as (typeof signs)[number];
      const strength = strengths[s] as Float64Array;
      let left = 1 - leak;
      for (let at = starts[set] as number; at < (starts[set + 1] as number); at++) {
        const cause = members[at] as number;
        left *= 1 - (strength[cause] as number) * (1 - (removed[cause] as number));
      }
      sum += weight * (1 - (1 - left) / (1 - ((absent[s] as Float64Array)[set] as number)));
    }
    return (counts[set] as number) * sum;
  }

  return (shares) => {
    visit++;
    removed.fill(0);
    for (const [id, share] of shares) {
      const cause = place.get(id);
      if (cause !== undefined) removed[cause] = share;
    }
    let sum = 0;
    for (const [id, share] of shares) {
      const cause = place.get(id);
      if (cause === undefined || share <= 0) continue;
      for (const set of having[cause] as readonly number[]) {
        if (visited[set] === visit) continue;
        visited[set] = visit;
        sum += gone(set);
      }
    }
    return sum / (samples.count * totalWeight);
  };
}
