import { say } from '../../language/say.js';
import type { SpinningSetup } from '../../spinning/setup.js';
import { describeTexture } from '../case/ladders.js';
import { formatNumber } from '../case/setup-fields.js';
import type { Judgements } from '../knowledge/judgement-schema.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { PlanBook, PlanStepEntry } from '../knowledge/plan-schema.js';
import type { Action } from '../knowledge/schema.js';
import type { PlanOption } from './options.js';
import { describeInsert, MATERIAL_WORDS, type PlanPart, SETTINGS } from './settings.js';
import type { PlanCost } from './types.js';

/** What the cost of a plan is reckoned from. */
export interface CostGround {
  readonly book: RuleBook;
  readonly plans: PlanBook;
  readonly judgements: Judgements;
  /** Positions that carry the plan through. */
  readonly positions: number;
  /** Settings on which nothing is mounted yet, so that choosing them costs nothing. */
  readonly free: ReadonlySet<string>;
}

/** How an option is carried out. */
export function stepOf(option: PlanOption, plans: PlanBook): PlanStepEntry {
  const ways = plans.steps[option.setting] as Readonly<Record<string, PlanStepEntry>>;
  const entry = ways[option.way];
  if (entry === undefined) throw new RangeError(`plans.yaml: ${option.setting} has no step "${option.way}"`);
  return entry;
}

/** The action behind an option. @throws RangeError when the rule book has none */
export function actionOf(option: PlanOption, ground: Pick<CostGround, 'book' | 'plans'>): Action {
  const { do: id } = stepOf(option, ground.plans);
  const action = ground.book.actions.get(id);
  if (action === undefined) throw new RangeError(`plans.yaml: there is no action "${id}"`);
  return action;
}

/** The options of a combination by the part that is taken in hand; a nozzle is one part whatever differs about it. */
export function byPart(combination: readonly PlanOption[]): Map<string, PlanOption[]> {
  const parts = new Map<string, PlanOption[]>();
  for (const option of combination) {
    const { part } = SETTINGS[option.setting];
    const key = part === 'panel' ? option.setting : part;
    parts.set(key, [...(parts.get(key) ?? []), option]);
  }
  return parts;
}

/**
 * Work, parts and lost output of a combination. A nozzle is changed once however much differs about it; parts changed
 * at one stop share stopping and opening. The effort adds what proving each change takes and what the parts cost.
 */
export function costOf(
  combination: readonly PlanOption[],
  ground: CostGround,
): Omit<PlanCost, 'parts' | 'lostOutputKg'> {
  const { judgements, positions } = ground;
  const trial = Math.min(positions, judgements['trial-positions']);
  let perPosition = 0;
  let perFrame = 0;
  let opened = 0;
  let bought = 0;
  let proofs = 0;
  for (const options of byPart(combination).values()) {
    const paid = options.filter((option) => !ground.free.has(option.setting));
    const actions = paid.map((option) => actionOf(option, ground));
    if (actions.length === 0) continue;
    proofs += 1;
    const minutes = Math.max(...actions.map((action) => action.minutes));
    if (actions.some((action) => action.per === 'position')) {
      perPosition += minutes;
      opened += 1;
    } else perFrame += minutes;
    bought += Math.max(
      ...actions.map((action, i) => (needsPart(paid[i]) ? judgements[`cost-${action.cost}`] : 0)),
    );
  }
  if (opened > 1)
    perPosition = Math.max(1, perPosition - (opened - 1) * ground.plans.work['opening-minutes'].value);
  const minutes = perPosition * positions + perFrame;
  return {
    positions,
    trialMinutes: perPosition * trial + perFrame,
    minutes,
    effort:
      minutes +
      proofs * judgements['proof-minutes'] +
      bought +
      combination.length * ground.plans.work['each-change'].value,
  };
}

const needsPart = (option: PlanOption | undefined) =>
  option !== undefined && option.id !== 'insert:none' && SETTINGS[option.setting].part !== 'panel';

/**
 * The parts to take from the store, in words.
 *
 * @param after the planned setup
 */
export function partsOf(
  combination: readonly PlanOption[],
  after: SpinningSetup,
  ground: Pick<CostGround, 'positions' | 'free'>,
): string[] {
  const words: string[] = [];
  for (const [part, options] of byPart(combination)) {
    if (options.every((option) => ground.free.has(option.setting) || !needsPart(option))) continue;
    words.push(
      say('plan-step.part-count', {
        n: String(ground.positions),
        part: partWords(part as PlanPart, options, after),
      }),
    );
  }
  return words;
}

function partWords(part: PlanPart, options: readonly PlanOption[], after: SpinningSetup): string {
  switch (part) {
    case 'nozzle':
      return say('plan-step.nozzle', { nozzle: nozzleParts(after) });
    case 'insert':
      return say('plan-step.insert', { insert: describeInsert(after.insert) });
    case 'tube':
      return say('plan-step.tube', { bend: formatNumber(after.tubeBendDeg) });
    default:
      return say('plan-step.washers', { to: options[0]?.change.to ?? '' });
  }
}

/** `4 notches, ceramic, radius 4 mm`. */
export function nozzleParts(setup: SpinningSetup): string {
  const texture = describeTexture({ surface: setup.nozzleSurface, notches: setup.notches });
  return say('plan-step.nozzle-parts', {
    texture,
    material: MATERIAL_WORDS[setup.nozzleMaterial],
    radius: formatNumber(setup.nozzleRadiusMm),
  });
}

/** Yarn not spun while positions stand for the work, kg: each stands as long as is worked on it. */
export function lostOutput(minutesAtPositions: number, gramsPerRotorHour: number): number {
  return (minutesAtPositions / 60) * (gramsPerRotorHour / 1000);
}
