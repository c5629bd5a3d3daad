import type { SpinningSetup } from '../../spinning/setup.js';
import { formatNumber } from '../case/setup-fields.js';
import { joinWords } from '../words.js';
import { applyAll } from './combinations.js';
import { actionOf, byPart, type CostGround, costOf, nozzleWords, partsOf, stepOf } from './cost.js';
import { chanceOf, type PlanColumns, type PlanGround, shareNotNegative } from './ground.js';
import type { PlanOption } from './options.js';
import { sayChance, sayMinutes, sayPercent, WHY } from './plan-words.js';
import { describeInsert } from './settings.js';
import type { PlanStep } from './types.js';
import { weightedRange } from './weighted.js';

const MARGIN_FIELDS = [
  ['twistMargin', 'that the twist suffices'],
  ['tensionMargin', 'that the yarn bears its tension'],
  ['heatMargin', 'that the fibre stays below sticking'],
] as const;

const QUALITY_WORDS = [
  ['hairinessIndex', 'Hairiness'],
  ['softnessIndex', 'Softness of hand'],
  ['flyIndex', 'Fly'],
  ['outputGPerRotorH', 'Output'],
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
    why: [
      ...group.map((option) => WHY[option.setting][option.way] ?? ''),
      ...chanceWords(before, after, ground),
    ]
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
      return `Fit another nozzle: ${nozzleWords(to).replace('nozzle, ', '')}`;
    case 'nozzle-protrusion':
      return `${lead.way === 'up' ? 'Put washers under' : 'Take washers from under'} the nozzle: protrusion ${lead.change.to}`;
    case 'tube-bend':
      return `Fit a tube with a bend of ${lead.change.to}`;
    case 'insert':
      return to.insert === 'none' ? 'Take the insert out' : `Fit an insert: ${describeInsert(to.insert)}`;
    case 'twist':
      return `Set the twist to ${lead.change.to}`;
    case 'rotor-speed':
      return `Set the rotor speed to ${lead.change.to}`;
  }
}

function howTo(lead: PlanOption, to: SpinningSetup, cost: CostGround, trial: number, all: number): string[] {
  const { positions } = cost;
  const few = Math.min(positions, cost.judgements['trial-positions']);
  switch (lead.setting) {
    case 'twist':
      return [
        'Write down twist, rotor speed and delivery in force.',
        `Go to ${lead.change.to} in steps of about 2 %, the rotor speed unchanged; let the frame settle for ten minutes after each.`,
      ];
    case 'rotor-speed':
      return [
        'Write down twist, rotor speed and delivery in force; check the speed the rotors are rated for.',
        `Go to ${lead.change.to} in steps of about 3 % and let delivery follow, so that the twist stays ${formatNumber(Math.round(to.twistPerMetre))} t/m.`,
      ];
    default: {
      const what =
        lead.setting === 'nozzle-protrusion'
          ? `set the nozzle to ${lead.change.to} before the groove plane by washers, and turn the rotor by hand to see that it is free`
          : lead.setting === 'insert' && to.insert === 'none'
            ? 'take the inserts out and count them'
            : 'fit the new part, check seat and depth, keep the old ones in order';
      const onFew = `Stop ${few} positions spread over the frame, wait until the rotors stand still and the parts are cool; ${what}.`;
      if (positions <= few)
        return [
          onFew.replace(
            ` ${few} positions spread over the frame`,
            positions === 1 ? ' the position' : ` the ${positions} positions`,
          ),
        ];
      return [
        `${onFew} ${sayMinutes(trial)} of work.`,
        'Run a shift with nothing else changed and the trial packages kept apart.',
        `If what was measured agrees, do the same on all ${positions} positions: ${sayMinutes(all)} of work.`,
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
      : [`${words}: ${sayChance(was)} → ${sayChance(is)}`];
  });
  return moved.length === 0 ? [] : [`Chance ${joinWords(moved)}.`];
}

function expectations(before: PlanColumns, after: PlanColumns, ground: PlanGround): string[] {
  const tension = (columns: PlanColumns) => weightedRange(columns.takeUpTensionCnPerTex, ground.weights);
  const was = tension(before);
  const is = tension(after);
  const words: string[] = [];
  if (Math.abs(is.value / was.value - 1) >= 0.005)
    words.push(
      `Draw-off tension ${was.value.toFixed(2)} → ${is.value.toFixed(2)} cN/tex (${sayPercent(100 * (is.value / was.value - 1))})`,
    );
  for (const [field, label] of QUALITY_WORDS) {
    const change = weightedRange(
      after[field].map((value, i) => 100 * (value / (before[field][i] ?? Number.NaN) - 1)),
      ground.weights,
    ).value;
    if (Math.abs(change) >= 0.5) words.push(`${label} ${sayPercent(change)}`);
  }
  return words.length === 0 ? ['Nothing that can be measured moves by more than one half percent'] : words;
}

function permutations<T>(items: readonly T[]): T[][] {
  if (items.length <= 1) return [[...items]];
  return items.flatMap((item, i) =>
    permutations([...items.slice(0, i), ...items.slice(i + 1)]).map((rest) => [item, ...rest]),
  );
}
