import { keepLayout } from '../keep-layout.js';
import type { PosteriorSamples } from '../network/network.js';
import { AnswerPredictor } from './answer-weights.js';
import { shareBlame } from './blame.js';
import { type FaultRows, listFaults } from './fault-rows.js';
import { groundOf } from './ground.js';
import type { Inference } from './infer.js';
import type { PreparedCase, Reasoner } from './prepare.js';
import { expectedSearchMinutes } from './search-minutes.js';
import { signsSeen } from './signs.js';
import { singleCauseReach } from './single-cause-reach.js';
import type { CheckResult } from './types.js';

/**
 * Joint samples behind the ranking of checks; drawn from the exact posterior, stratified, with a fixed seed. From one seed
 * to another the worth of a check varies by some 4 % of the best one's.
 */
export const CHECK_SAMPLES = 500;
export const SAMPLE_SEED = 20_260;

/** Answers rarer than this are passed over: too few samples tell where they would lead. */
const RAREST_ANSWER = 0.004;
/** Minutes that a standing position or frame adds to a check. */
const STANDING = {
  none: 0,
  position: 'stop-position',
  section: 'stop-section',
  frame: 'stop-frame',
  lab: 0,
} as const;

/**
 * Ranks the checks not yet made by the minutes of search that knowing the answer is expected to save, per minute
 * spent (value of information; one check ahead). Answers are predicted from exact posterior samples: for each sample the
 * chance of each answer follows from its causes and mechanisms, and the samples weighted by that chance give the
 * causes as they would stand then.
 */
export function rankChecks(
  reasoner: Reasoner,
  prepared: PreparedCase,
  inference: Inference,
  samples: PosteriorSamples,
): CheckResult[] {
  const { book, judgements } = reasoner.knowledge;
  const handOver = judgements['search-hand-over'];
  const causes = [...book.causes.values()].filter(
    (cause) => (inference.posterior.marginals.get(cause.id) ?? 0) > 0.002,
  );
  const rows = listFaults(
    samples,
    causes.map((cause) => cause.id),
  );
  const reach = singleCauseReach(reasoner.graph, prepared.cutLinks);
  const { shares } = shareBlame(rows, signsSeen(reasoner, inference), reach);
  const minutes = causes.map((cause) => cause['trace-minutes']);
  const everyRow = new Float64Array(samples.count).fill(1 / samples.count);
  const sums: CauseChances = {
    blame: new Float64Array(causes.length),
    chances: new Float64Array(causes.length),
  };
  sumUnder(everyRow, 1, rows, shares, sums);
  const now = expectedSearchMinutes(sums.blame, minutes, handOver);
  const predictor = keepLayout(new AnswerPredictor(samples, reasoner.graph));
  const seen = new Set(inference.items.flatMap((item) => item.nodes.map(([node]) => node)));
  const results: CheckResult[] = [];
  for (const check of book.checks.values()) {
    if (prepared.input.findings[check.id] !== undefined || prepared.holds.has(`check:${check.id}`)) continue;
    // A measurement has answered it already.
    if (Object.keys(check.outcomes).some((outcome) => seen.has(`${check.id}:${outcome}`))) continue;
    const answers = predictor.predict(check);
    if (answers === undefined) continue;
    let expected = 0;
    const outcomes: CheckResult['outcomes'][number][] = [];
    for (const { id, weights } of answers) {
      const label = check.outcomes[id]?.label ?? id;
      const mass = sumOf(weights);
      const probability = mass / samples.count;
      if (probability < RAREST_ANSWER) {
        expected += probability * now;
        outcomes.push({ id, label, probability, leads: [] });
        continue;
      }
      sumUnder(weights, mass, rows, shares, sums);
      expected += probability * expectedSearchMinutes(sums.blame, minutes, handOver);
      const leads = highest(sums.chances, 3).map((i) => ({
        cause: causes[i]?.id ?? '',
        label: causes[i]?.label ?? '',
        probability: sums.chances[i] as number,
      }));
      outcomes.push({ id, label, probability, leads });
    }
    const standing = STANDING[check.stops];
    const spent =
      check.minutes + (standing === 0 ? 0 : judgements[standing]) + 0.1 * (check['waiting-minutes'] ?? 0);
    const saves = Math.max(0, now - expected);
    results.push({
      id: check.id,
      label: check.label,
      ask: check.ask,
      how: check.how,
      minutes: check.minutes,
      waitingMinutes: check['waiting-minutes'] ?? 0,
      stops: check.stops,
      who: check.who,
      saves,
      savesPerMinute: saves / spent,
      outcomes,
      cautions: check.cautions ?? [],
      ground: groundOf(book, check.basis),
    });
  }
  return results.sort((a, b) => b.savesPerMinute - a.savesPerMinute || a.id.localeCompare(b.id));
}

function sumOf(weights: Float64Array): number {
  let sum = 0;
  for (let row = 0; row < weights.length; row++) sum += weights[row] as number;
  return sum;
}

/** Chances of the causes with the rows weighted. */
interface CauseChances {
  /** Chance that each is the one to find. */
  readonly blame: Float64Array;
  /** Chance that each is at work. */
  readonly chances: Float64Array;
}

/** Works the chances of the causes out with the rows weighted, into `sums`. @param mass sum of the weights */
function sumUnder(
  weights: Float64Array,
  mass: number,
  rows: FaultRows,
  shares: Float64Array,
  { blame, chances }: CauseChances,
): void {
  const { starts, members, count } = rows;
  blame.fill(0);
  chances.fill(0);
  let at = 0;
  for (let row = 0; row < count; row++) {
    const end = starts[row + 1] as number;
    if (at === end) continue;
    const weight = (weights[row] as number) / mass;
    for (; at < end; at++) {
      const member = members[at] as number;
      blame[member] = (blame[member] as number) + weight * (shares[at] as number);
      chances[member] = (chances[member] as number) + weight;
    }
  }
}

/** Places of the highest values, highest first; of equal ones the earlier first. */
function highest(values: Float64Array, most: number): number[] {
  const found: number[] = [];
  for (let i = 0; i < values.length; i++) {
    const value = values[i] as number;
    let at = found.length;
    while (at > 0 && value > (values[found[at - 1] as number] as number)) at--;
    if (at >= most) continue;
    found.splice(at, 0, i);
    if (found.length > most) found.pop();
  }
  return found;
}
