import type { Objective, PlanSetting } from '../knowledge/plan-schema.js';
import { joinWords } from '../words.js';
import { OBJECTIVE_INFO } from './objectives.js';
import type { Plan, PlanReason, Ranged } from './types.js';

/** A chance in whole percent. */
export const sayChance = (share: number) => `${Math.round(100 * share)} %`;

/** Minutes in words: `25 min`, `12 h`, `12 h 20 min`. */
export function sayMinutes(minutes: number): string {
  const whole = Math.round(minutes);
  if (whole < 120) return `${whole} min`;
  const rest = whole % 60;
  return rest === 0 ? `${whole / 60} h` : `${Math.floor(whole / 60)} h ${rest} min`;
}

/** `+4 %`, `−12 %`, `no change`. */
export function sayPercent(value: number): string {
  const whole = Math.abs(value) < 9.95 ? Math.round(value * 10) / 10 : Math.round(value);
  if (Math.abs(value) < 0.05) return 'no change';
  return `${whole > 0 ? '+' : '−'}${Math.abs(whole)} %`;
}

/** `+4 % (+1 to +7)`. */
export function sayRange(range: Ranged): string {
  if (Math.abs(range.high - range.low) < 0.1) return sayPercent(range.value);
  const short = (value: number) => `${value < -0.05 ? '−' : '+'}${Math.abs(Math.round(value * 10) / 10)}`;
  return `${sayPercent(range.value)} (${short(range.low)} to ${short(range.high)})`;
}

/** Why a change moves what it moves, one sentence for each setting and direction. */
export const WHY: Readonly<Record<PlanSetting, Readonly<Record<string, string>>>> = {
  texture: {
    up: 'A rougher face grips the yarn more, turns the arm further and sends more turns to the groove.',
    down: 'A milder face plucks the yarn less: less hair and fly, at fewer turns in the arm.',
  },
  'nozzle-radius': {
    up: 'On a larger radius the yarn sweeps a longer way under a lighter load and is turned further; it runs warmer.',
    down: 'On a smaller radius the yarn sweeps a shorter way: less friction heat and wear, a little less false twist.',
  },
  'nozzle-material': {
    ceramic: 'Ceramic wears slowest.',
    steel: 'Steel leads the heat away best, and wears soonest.',
    'ceramic-head': 'A metal body behind the ceramic face leads the heat away at nearly the same life.',
  },
  'nozzle-protrusion': {
    up: 'Standing further out, the nozzle is wrapped further: more turns in the arm, more pull.',
    down: 'Standing further back, the nozzle is wrapped less: less pull, heat and wear, fewer turns in the arm.',
  },
  'tube-bend': {
    up: 'A sharper bend holds more twist back in the arm and adds pull.',
    down: 'A gentler bend takes pull off the yarn; it holds less twist back.',
  },
  insert: {
    up: 'The insert holds twist back in the arm, so that more turns reach the groove at the same set twist.',
    down: 'A milder insert plucks and sheds less; it holds less twist back.',
  },
  twist: {
    up: 'More set twist is more turns everywhere, at lower delivery and a firmer hand.',
    down: 'Less set twist delivers more and feels softer, with fewer turns in reserve.',
  },
  'rotor-speed': {
    up: 'More speed delivers more; the pull grows with its square, heat with its cube.',
    down: 'Less speed takes off pull with its square and heat with its cube, and delivers less.',
  },
};

/** Differences of score below this many minutes are no reason. */
const NO_REASON = 5;

/** Why one plan stands before another: the objectives on which it is worth more, and what it gives up. */
export function reasonsAgainst(plan: Plan, other: Plan): PlanReason[] {
  const minutes = (of: Plan, on: Objective) => of.scoreParts.find((part) => part.on === on)?.minutes ?? 0;
  return (Object.keys(OBJECTIVE_INFO) as Objective[])
    .filter((on) => showOf(on, plan) !== showOf(on, other))
    .map((on) => ({
      on,
      minutes: minutes(plan, on) - minutes(other, on),
      words: sayDifference(on, plan, other),
    }))
    .filter((reason) => Math.abs(reason.minutes) >= NO_REASON)
    .sort((a, b) => b.minutes - a.minutes);
}

/** The reasons as a sentence: what it has over the other, and what against it. */
export function sayReasons(reasons: readonly PlanReason[], label: string): string {
  const better = reasons.filter((reason) => reason.minutes > 0).slice(0, 3);
  const worse = reasons.filter((reason) => reason.minutes < 0).slice(-2);
  const than = `“${label}”`;
  if (better.length === 0) return `It can hardly be told from ${than}.`;
  const first = `Against ${than} it has ${joinWords(better.map((reason) => reason.words))}`;
  return worse.length === 0
    ? `${first}.`
    : `${first}; it gives up ${joinWords(worse.map((reason) => reason.words))}.`;
}

function sayDifference(on: Objective, plan: Plan, other: Plan): string {
  const words =
    on === 'chance'
      ? 'a chance of a stable run of'
      : on === 'effort'
        ? 'effort of'
        : OBJECTIVE_INFO[on].label.toLowerCase();
  return `${words} ${showOf(on, plan)} against ${showOf(on, other)}`;
}

/** A plan's value of an objective as it is shown. */
function showOf(on: Objective, plan: Plan): string {
  if (on === 'chance') return sayChance(plan.effects.chance);
  if (on === 'effort') return sayMinutes(plan.cost.effort);
  return sayPercent(plan.effects[on === 'nozzle-life' ? 'nozzleLife' : on].value);
}

/** One sentence: what a plan brings and costs. */
export function sayPlan(plan: Plan, present: Plan): string {
  const { effects, cost } = plan;
  const moved = (['hairiness', 'hand', 'fly', 'tenacity', 'output'] as const)
    .filter((on) => Math.abs(effects[on].value) >= 0.5)
    .map((on) => `${OBJECTIVE_INFO[on].label.toLowerCase()} ${sayPercent(effects[on].value)}`);
  const quality = moved.length === 0 ? 'the qualities of the yarn stay' : joinWords(moved);
  const work =
    cost.minutes === 0
      ? 'nothing to be changed on the frame'
      : `${sayMinutes(cost.minutes)} of work on ${cost.positions} positions`;
  return `Chance of a stable run ${sayChance(present.effects.chance)} → ${sayChance(effects.chance)}; ${quality}; ${work}${cost.parts.length === 0 ? '' : `; parts: ${joinWords(cost.parts)}`}.`;
}
