import { listFaults } from '../diagnosis/fault-rows.js';
import { expectedSearchMinutes } from '../diagnosis/search-minutes.js';
import type { CheckResult } from '../diagnosis/types.js';
import type { Check } from '../knowledge/schema.js';
import type { Random } from '../network/random.js';
import { answerCheck } from './answer.js';
import { answerChances, deviationsOf } from './answer-chances.js';
import type { PracticeCase } from './practice-case.js';
import { checkMinutes, type Standing, type TrainingRoom, withFinding } from './room.js';
import { planSearch, walkSearch } from './search-walk.js';
import { drawOne, randomFor } from './seeded.js';

/** Ways of choosing the next check. The last three are for comparison: nobody should work so. */
export const POLICIES = ['best', 'first-listed', 'cheapest', 'random'] as const;
export type PolicyName = (typeof POLICIES)[number];

/** How a policy fared on one case. */
export interface PolicyRun {
  readonly policy: PolicyName;
  readonly checks: readonly { readonly check: string; readonly outcome: string; readonly minutes: number }[];
  /** Minutes of the checks made. */
  readonly checkMinutes: number;
  /** Minutes until the true causes are come to, looking in the order of what is believed then. */
  readonly searchMinutes: number;
  readonly total: number;
}

/** A follow-up is weighed for so many checks, and so many follow-ups for each answer. */
const FIRST_STEPS = 4;
const SECOND_STEPS = 6;
/** A check must promise at least this, minutes, or the search begins. */
const LEAST_GAIN = 0.5;
/** Simple policies look no further once a cause is this likely, or after so many checks. */
const SURE = 0.6;
const MOST_CHECKS = 12;
const RAREST_ANSWER = 0.01;
const LEAST_LIKELY = 0.002;

/**
 * The check to make next, or undefined when it is time to go to the causes.
 *
 * The best policy weighs, for the few checks that promise most by themselves, what the answer and then the best
 * follow-up are expected to save (value of information two checks ahead, on the product's own posterior samples),
 * and stops when none saves more minutes than it takes. The simple ones take the first check of the list, the
 * cheapest or any, until one cause is likelier than 60 %.
 */
export function nextCheck(
  room: TrainingRoom,
  standing: Standing,
  policy: PolicyName,
  random: Random = randomFor('policy'),
): string | undefined {
  if (policy === 'best') return bestCheck(room, standing)?.check;
  const made = Object.keys(standing.input.findings).length;
  if (made >= MOST_CHECKS || (standing.ranking()[0]?.probability ?? 0) >= SURE) return undefined;
  const { book, judgements } = room.reasoner.knowledge;
  const open = [...book.checks.values()].filter((check) => canAsk(room, standing, check));
  if (policy === 'random') return drawOne(random, open)?.id;
  if (policy === 'first-listed') return open[0]?.id;
  return open.sort(
    (a, b) => checkMinutes(a, judgements) - checkMinutes(b, judgements) || a.id.localeCompare(b.id),
  )[0]?.id;
}

/** Whether a check is still open: not made, not senseless on this frame, and its answer can be predicted. */
export function canAsk(room: TrainingRoom, standing: Standing, check: Check): boolean {
  return (
    standing.input.findings[check.id] === undefined &&
    !standing.prepared.holds.has(`check:${check.id}`) &&
    deviationsOf(check, room.reasoner.graph).length > 0
  );
}

/** A check with what it is expected to save and to take, minutes. */
export interface WeighedCheck {
  readonly check: string;
  /** Minutes of search that its answer is expected to save, the best follow-up counted in. */
  readonly saves: number;
  /** Minutes it counts for. */
  readonly minutes: number;
  /** `saves` less `minutes`. */
  readonly gain: number;
}

const found = new WeakMap<Standing, { readonly best: WeighedCheck | undefined }>();

/**
 * The check that gains most, two checks ahead; undefined when none gains enough. What was found for a state is kept as
 * long as the state is: a whole class works the same case through the same states.
 */
export function bestCheck(room: TrainingRoom, standing: Standing): WeighedCheck | undefined {
  const known = found.get(standing);
  if (known !== undefined) return known.best;
  const best = weighBest(room, standing);
  found.set(standing, { best });
  return best;
}

function weighBest(room: TrainingRoom, standing: Standing): WeighedCheck | undefined {
  const minutesOf = minutesIn(room);
  const single = standing
    .checks()
    .map((check) => ({ check, gain: check.saves - minutesOf(check) }))
    .sort((a, b) => b.gain - a.gain || a.check.id.localeCompare(b.check.id));
  const lookAhead = aheadOf(
    room,
    standing,
    single.slice(0, SECOND_STEPS + 1).map((one) => one.check),
  );
  const weighed = single.slice(0, FIRST_STEPS).map(({ check, gain }): WeighedCheck => {
    const minutes = minutesOf(check);
    const better = Math.max(gain, lookAhead(check) - minutes);
    return { check: check.id, saves: better + minutes, minutes, gain: better };
  });
  const best = weighed.reduce<WeighedCheck | undefined>(
    (most, one) => (most === undefined || one.gain > most.gain ? one : most),
    undefined,
  );
  return best !== undefined && best.gain >= LEAST_GAIN ? best : undefined;
}

const minutesIn = (room: TrainingRoom) => (check: CheckResult) => {
  const entry = room.reasoner.knowledge.book.checks.get(check.id);
  return entry === undefined ? check.minutes : checkMinutes(entry, room.reasoner.knowledge.judgements);
};

/** Expected minutes saved by a check with its best follow-up, over the posterior samples of the state. */
function aheadOf(room: TrainingRoom, standing: Standing, candidates: readonly CheckResult[]) {
  const { book, judgements } = room.reasoner.knowledge;
  const samples = standing.samples();
  const causes = [...book.causes.values()].filter((cause) => standing.probability(cause.id) > LEAST_LIKELY);
  const rows = listFaults(
    samples,
    causes.map((cause) => cause.id),
  );
  const traces = causes.map((cause) => cause['trace-minutes']);
  const minutesOf = minutesIn(room);
  const searchWith = (weights: Float64Array): { mass: number; minutes: number } => {
    let mass = 0;
    const then = new Float64Array(causes.length);
    for (let row = 0; row < weights.length; row++) {
      const weight = weights[row] as number;
      mass += weight;
      for (let at = rows.starts[row] as number; at < (rows.starts[row + 1] as number); at++)
        then[rows.members[at] as number] = (then[rows.members[at] as number] as number) + weight;
    }
    if (mass === 0) return { mass, minutes: standing.searchMinutes };
    for (let c = 0; c < then.length; c++) then[c] = (then[c] as number) / mass;
    return { mass, minutes: expectedSearchMinutes(then, traces, judgements['search-hand-over']) };
  };
  const columns = new Map(candidates.map((check) => [check.id, answerColumns(room, standing, check.id)]));
  return (first: CheckResult): number => {
    let expected = 0;
    for (const column of columns.get(first.id) ?? []) {
      const alone = searchWith(column);
      const share = alone.mass / samples.count;
      if (share < RAREST_ANSWER) {
        expected += share * standing.searchMinutes;
        continue;
      }
      let best = alone.minutes;
      for (const second of candidates) {
        if (second.id === first.id) continue;
        let after = minutesOf(second);
        for (const other of columns.get(second.id) ?? []) {
          const both = searchWith(column.map((weight, row) => weight * (other[row] as number)));
          after += (both.mass / alone.mass) * both.minutes;
        }
        best = Math.min(best, after);
      }
      expected += share * best;
    }
    return standing.searchMinutes - expected;
  };
}

/** For every answer of a check, its chance in each posterior sample. */
function answerColumns(room: TrainingRoom, standing: Standing, id: string): Float64Array[] {
  const { graph, knowledge } = room.reasoner;
  const check = knowledge.book.checks.get(id);
  if (check === undefined) return [];
  const samples = standing.samples();
  const deviations = deviationsOf(check, graph);
  const chances = new Map(
    deviations.map((outcome) => [outcome, samples.leafProbabilities(`${id}:${outcome}`)]),
  );
  const columns = new Map<string, Float64Array>();
  for (let row = 0; row < samples.count; row++) {
    const answers = answerChances(check, deviations, (outcome) => chances.get(outcome)?.[row] ?? 0);
    for (const [outcome, chance] of answers) {
      const column = columns.get(outcome) ?? new Float64Array(samples.count);
      column[row] = chance;
      columns.set(outcome, column);
    }
  }
  return [...columns.values()];
}

/** Works a dealt case by a policy, then goes to the causes in the order of what is believed. */
export async function runPolicy(
  room: TrainingRoom,
  dealt: PracticeCase,
  policy: PolicyName,
): Promise<PolicyRun> {
  const random = randomFor('policy', policy, dealt.code);
  const made: PolicyRun['checks'][number][] = [];
  let standing = await room.weigh(dealt.input);
  while (made.length < MOST_CHECKS) {
    const check = nextCheck(room, standing, policy, random);
    if (check === undefined) break;
    const answer = await answerCheck(room, dealt, check);
    made.push(answer);
    standing = await room.weigh(withFinding(standing.input, check, answer.outcome));
  }
  const spent = made.reduce((sum, one) => sum + one.minutes, 0);
  const search = searchFrom(room, standing, dealt.truth.causes);
  return { policy, checks: made, checkMinutes: spent, searchMinutes: search, total: spent + search };
}

/** Minutes until the true causes are come to from a state, looking in the order of what is believed there. */
export function searchFrom(room: TrainingRoom, standing: Standing, truth: readonly string[]): number {
  const { book, judgements } = room.reasoner.knowledge;
  const causes = [...book.causes.values()].filter((cause) => standing.probability(cause.id) > LEAST_LIKELY);
  const handOver = judgements['search-hand-over'];
  const plan = planSearch(
    causes.map((cause) => standing.probability(cause.id)),
    causes.map((cause) => cause['trace-minutes']),
    handOver,
  );
  const looks = plan.order
    .slice(0, plan.stopAfter)
    .map((i) => ({ cause: causes[i]?.id ?? '', minutes: plan.costs[i] ?? 0 }));
  return walkSearch(looks, truth, handOver);
}

/**
 * Minutes a policy is expected to take, checks and search together: the mean over dealt cases, with its standard
 * error. One case or more.
 */
export async function expectedMinutes(
  room: TrainingRoom,
  cases: readonly PracticeCase[],
  policy: PolicyName,
): Promise<{ readonly mean: number; readonly standardError: number }> {
  const totals: number[] = [];
  for (const dealt of cases) totals.push((await runPolicy(room, dealt, policy)).total);
  const mean = totals.reduce((sum, total) => sum + total, 0) / totals.length;
  const square = totals.reduce((sum, total) => sum + (total - mean) ** 2, 0);
  return { mean, standardError: Math.sqrt(square / Math.max(1, totals.length - 1) / totals.length) };
}
