import { localDecimal } from '../../language/numbers.js';
import { say, wordTable } from '../../language/say.js';
import type { Objective, PlanSetting } from '../knowledge/plan-schema.js';
import { inSentence, joinWords } from '../words.js';
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
  if (Math.abs(value) < 0.05) return say('plan-words.no-change');
  return `${whole > 0 ? '+' : '−'}${localDecimal(String(Math.abs(whole)))} %`;
}

/** `+4 % (+1 to +7)`. */
export function sayRange(range: Ranged): string {
  if (Math.abs(range.high - range.low) < 0.1) return sayPercent(range.value);
  const short = (value: number) =>
    `${value < -0.05 ? '−' : '+'}${localDecimal(String(Math.abs(Math.round(value * 10) / 10)))}`;
  return say('plan-words.range', {
    value: sayPercent(range.value),
    low: short(range.low),
    high: short(range.high),
  });
}

const WHY: Readonly<Record<string, string>> = wordTable('plan-why', [
  'texture-up',
  'texture-down',
  'nozzle-radius-up',
  'nozzle-radius-down',
  'nozzle-material-ceramic',
  'nozzle-material-steel',
  'nozzle-material-ceramic-head',
  'nozzle-protrusion-up',
  'nozzle-protrusion-down',
  'tube-bend-up',
  'tube-bend-down',
  'insert-up',
  'insert-down',
  'twist-up',
  'twist-down',
  'rotor-speed-up',
  'rotor-speed-down',
]);

/** Why a change of a setting in a direction moves what it moves, in one sentence; empty where there is nothing to say. */
export const sayWhy = (setting: PlanSetting, way: string): string => WHY[`${setting}-${way}`] ?? '';

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
  if (better.length === 0) return say('plan-words.hardly-told', { plan: label });
  return say('plan-words.against', {
    plan: label,
    better: joinWords(better.map((reason) => reason.words)),
    some: worse.length === 0 ? 'no' : 'yes',
    worse: joinWords(worse.map((reason) => reason.words)),
  });
}

function sayDifference(on: Objective, plan: Plan, other: Plan): string {
  const values = { value: showOf(on, plan), other: showOf(on, other) };
  return on === 'chance'
    ? say('plan-words.chance-of', values)
    : on === 'effort'
      ? say('plan-words.effort-of', values)
      : say('plan-words.quality-of', { quality: inSentence(OBJECTIVE_INFO[on].label), ...values });
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
    .map((on) => `${inSentence(OBJECTIVE_INFO[on].label)} ${sayPercent(effects[on].value)}`);
  const quality = moved.length === 0 ? say('plan-words.qualities-stay') : joinWords(moved);
  const work =
    cost.minutes === 0
      ? say('plan-words.no-work')
      : say('plan-words.work', { time: sayMinutes(cost.minutes), positions: cost.positions });
  return say('plan-words.brings', {
    before: sayChance(present.effects.chance),
    after: sayChance(effects.chance),
    quality,
    work,
    some: cost.parts.length === 0 ? 'no' : 'yes',
    parts: joinWords(cost.parts),
  });
}
