import { sayFixed } from '../../language/numbers.js';
import { say } from '../../language/say.js';
import type { SpinningSetup } from '../../spinning/setup.js';
import { formatNumber } from '../case/setup-fields.js';
import { joinWords } from '../words.js';
import { applyAll } from './combinations.js';
import { actionOf, byPart, type CostGround, costOf, nozzleParts, partsOf, stepOf } from './cost.js';
import { chanceOf, type PlanColumns, type PlanGround, shareNotNegative } from './ground.js';
import type { PlanOption } from './options.js';
import { sayChance, sayMinutes, sayPercent, sayWhy } from './plan-words.js';
import { describeInsert } from './settings.js';
import type { PlanStep } from './types.js';
import { weightedRange } from './weighted.js';

const MARGIN_FIELDS = [
  ['twistMargin', 'plan-step.twist-suffices'],
  ['tensionMargin', 'plan-step.tension-borne'],
  ['heatMargin', 'plan-step.heat-below'],
] as const;

const QUALITY_WORDS = [
  ['hairinessIndex', 'objective.hairiness'],
  ['softnessIndex', 'objective.hand'],
  ['flyIndex', 'objective.fly'],
  ['outputGPerRotorH', 'objective.output'],
] as const;

/**
 * The changes of a plan one at a time, in the order that keeps the chance of a stable run highest on the way; on a tie
 * what is set at the panel comes before parts, and less work before more. A nozzle is one step however much differs
 * about it.
 */
export function orderSteps(
  combination: readonly PlanOption[],
  ground: PlanGround,
  cost: CostGround,
): PlanStep[] {
  const groups = [...byPart(combination).values()];
  const columns = new Map<string, PlanColumns>();
  const columnsOf = (options: readonly PlanOption[]) => {
    const key = options
      .map((option) => option.id)
      .sort()
      .join('+');
    let found = columns.get(key);
    if (found === undefined) {
      found = ground.columnsOf((setup) => applyAll(setup, options));
      columns.set(key, found);
    }
    return found;
  };
  const ranked = permutations(groups).map((order) => ({
    order,
    least: Math.min(
      1,
      ...order.map((_group, i) => chanceOf(columnsOf(order.slice(0, i + 1).flat()), ground.weights)),
    ),
    // Work that comes early weighs more, so that the lighter step goes first.
    work: order.reduce((sum, group, i) => sum + costOf(group, cost).minutes * (order.length - i), 0),
  }));
  ranked.sort((a, b) => Math.round(100 * (b.least - a.least)) || a.work - b.work);
  const order = ranked[0]?.order ?? [];
  return order.map((group, i) => {
    const done = order.slice(0, i).flat();
    return describeStep(
      group,
      i + 1,
      applyAll(ground.central, done),
      columnsOf(done),
      columnsOf([...done, ...group]),
      ground,
      cost,
    );
  });
}

function describeStep(
  group: readonly PlanOption[],
  number: number,
  from: SpinningSetup,
  before: PlanColumns,
  after: PlanColumns,
  ground: PlanGround,
  cost: CostGround,
): PlanStep {
  const [lead] = group;
  if (lead === undefined) throw new RangeError('a step needs a change');
  const to = applyAll(from, group);
  const entries = group.map((option) => stepOf(option, cost.plans));
  const actions = group.map((option) => actionOf(option, cost));
  const action = actions[0];
  const own = { ...cost, free: new Set<string>() };
  const { minutes, trialMinutes } = costOf(group, own);
  const parts = partsOf(group, to, own);
  const heaviest = actions.reduce(
    (most, one) => (one.minutes > most.minutes ? one : most),
    actions[0] ?? raise(),
  );
  return {
    number,
    title: titleOf(group, to),
    settings: group.map((option) => option.setting),
    why: [...group.map((option) => sayWhy(option.setting, option.way)), ...chanceWords(before, after, ground)]
      .filter((words) => words !== '')
      .join(' '),
    how: howTo(lead, to, cost, trialMinutes, minutes),
    minutes,
    trialMinutes,
    stops: heaviest.stops,
    who: heaviest.who,
    ...(parts.length === 0 ? {} : { parts: joinWords(parts) }),
    measure: [...new Set(entries.flatMap((entry) => entry.measure))],
    expect: expectations(before, after, ground),
    proof: entries[0]?.proof ?? action?.proof ?? '',
    goBack: entries[0]?.['go-back'] ?? action?.['go-back'] ?? '',
    cautions: [...new Set(actions.flatMap((one) => one.cautions))],
    chance: chanceOf(after, ground.weights),
  };
}

const raise = (): never => {
  throw new RangeError('a step needs an action');
};

function titleOf(group: readonly PlanOption[], to: SpinningSetup): string {
  const [lead] = group;
  if (lead === undefined) return '';
  switch (lead.setting) {
    case 'texture':
    case 'nozzle-radius':
    case 'nozzle-material':
      return say('plan-step.fit-nozzle', { nozzle: nozzleParts(to) });
    case 'nozzle-protrusion':
      return say(lead.way === 'up' ? 'plan-step.put-washers' : 'plan-step.take-washers', {
        to: lead.change.to,
      });
    case 'tube-bend':
      return say('plan-step.fit-tube', { to: lead.change.to });
    case 'insert':
      return to.insert === 'none'
        ? say('plan-step.insert-out')
        : say('plan-step.fit-insert', { insert: describeInsert(to.insert) });
    case 'twist':
      return say('plan-step.set-twist', { to: lead.change.to });
    case 'rotor-speed':
      return say('plan-step.set-speed', { to: lead.change.to });
  }
}

function howTo(lead: PlanOption, to: SpinningSetup, cost: CostGround, trial: number, all: number): string[] {
  const { positions } = cost;
  const few = Math.min(positions, cost.judgements['trial-positions']);
  switch (lead.setting) {
    case 'twist':
      return [say('plan-step.note-twist'), say('plan-step.twist-steps', { to: lead.change.to })];
    case 'rotor-speed':
      return [
        say('plan-step.note-speed'),
        say('plan-step.speed-steps', {
          to: lead.change.to,
          twist: formatNumber(Math.round(to.twistPerMetre)),
        }),
      ];
    default: {
      const what =
        lead.setting === 'nozzle-protrusion'
          ? say('plan-step.set-nozzle', { to: lead.change.to })
          : lead.setting === 'insert' && to.insert === 'none'
            ? say('plan-step.inserts-out')
            : say('plan-step.fit-part');
      if (positions <= few)
        return [
          positions === 1
            ? say('plan-step.stop-one', { what })
            : say('plan-step.stop-all', { n: positions, what }),
        ];
      return [
        say('plan-step.stop-few', { n: few, what, time: sayMinutes(trial) }),
        say('plan-step.run-shift'),
        say('plan-step.do-all', { n: positions, time: sayMinutes(all) }),
      ];
    }
  }
}

function chanceWords(before: PlanColumns, after: PlanColumns, ground: PlanGround): string[] {
  const moved = MARGIN_FIELDS.flatMap(([field, words]) => {
    const was = shareNotNegative(before[field], ground.weights);
    const is = shareNotNegative(after[field], ground.weights);
    return Math.round(100 * was) === Math.round(100 * is)
      ? []
      : [say(words, { before: sayChance(was), after: sayChance(is) })];
  });
  return moved.length === 0 ? [] : [say('plan-step.chance', { moves: joinWords(moved) })];
}

function expectations(before: PlanColumns, after: PlanColumns, ground: PlanGround): string[] {
  const tension = (columns: PlanColumns) => weightedRange(columns.takeUpTensionCnPerTex, ground.weights);
  const was = tension(before);
  const is = tension(after);
  const words: string[] = [];
  if (Math.abs(is.value / was.value - 1) >= 0.005)
    words.push(
      say('plan-step.tension', {
        before: sayFixed(was.value, 2),
        after: sayFixed(is.value, 2),
        change: sayPercent(100 * (is.value / was.value - 1)),
      }),
    );
  for (const [field, label] of QUALITY_WORDS) {
    const change = weightedRange(
      after[field].map((value, i) => 100 * (value / (before[field][i] ?? Number.NaN) - 1)),
      ground.weights,
    ).value;
    if (Math.abs(change) >= 0.5)
      words.push(say('plan-step.quality', { quality: say(label), change: sayPercent(change) }));
  }
  return words.length === 0 ? [say('plan-step.nothing-moves')] : words;
}

function permutations<T>(items: readonly T[]): T[][] {
  if (items.length <= 1) return [[...items]];
  return items.flatMap((item, i) =>
    permutations([...items.slice(0, i), ...items.slice(i + 1)]).map((rest) => [item, ...rest]),
  );
}
