import { say } from '../../language/say.js';
import type { SpinningSetup } from '../../spinning/setup.js';
import { simulate } from '../../spinning/simulation.js';
import { fromTex } from '../../spinning/units/count.js';
import { setupFacts } from '../case/facts.js';
import { optionWord } from '../case/option-words.js';
import { describeFibres, type ResolvedSetup, resolveSetup } from '../case/resolve-setup.js';
import { formatNumber, formatQuantity, setupField, setupLabel } from '../case/setup-fields.js';
import { type CaseInput, type FactValue, SETUP_PATHS, type SetupPath } from '../case/types.js';
import { computedFacts } from '../diagnosis/computed-facts.js';
import type { CautionText, Ranking } from '../diagnosis/types.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import type { Objective, PlanBook, PlanSetting } from '../knowledge/plan-schema.js';
import { PLAN_SETTINGS } from '../knowledge/plan-schema.js';
import { beliefFrom, weighDraws } from './belief.js';
import { RUN_MARGINS } from './chance.js';
import { applyAll, combine, idOf } from './combinations.js';
import { conditionHolds } from './conditions.js';
import { type ConstraintGround, forbiddenSetup, refusalOf } from './constraints.js';
import { actionOf, type CostGround, costOf, lostOutput, partsOf } from './cost.js';
import { chanceOf, type PlanColumns, type PlanGround, prepareGround, shareNotNegative } from './ground.js';
import { centralChanges, QUALITY_FIELDS, type Quality } from './objectives.js';
import { listOptions, type OptionLists, type PlanOption } from './options.js';
import { loadPlanBook } from './plan-book.js';
import { reasonsAgainst, sayPlan, sayReasons } from './plan-words.js';
import { complainedQualities, type ScoreGround, scoreParts } from './score.js';
import { type Candidate, type Evaluated, searchPlans } from './search.js';
import { describeSetting, SETTINGS } from './settings.js';
import { orderSteps } from './steps.js';
import type {
  LeftOut,
  Plan,
  PlanEffects,
  PlanLimit,
  PlannedSetting,
  PlanReport,
  Ranged,
  Stock,
} from './types.js';
import { weightedRange } from './weighted.js';

/** Options of {@link makePlans}. */
export interface PlanRequest {
  readonly stock?: Stock;
  readonly limits?: readonly PlanLimit[];
  /** Settings that may move; all unless said. */
  readonly move?: readonly PlanSetting[];
  /** Offer higher rotor speeds also on a frame that runs badly. */
  readonly faster?: boolean;
  /** Values offered instead of those of `plans.yaml`. */
  readonly options?: OptionLists;
  /** Most changes in one plan, 1–3; 3 unless said. */
  readonly changes?: 1 | 2 | 3;
  /** A diagnosis of the case: what was seen then bears on which margin is short. */
  readonly ranking?: Ranking;
  /** Positions that carry the plan through; from the scope of the case, else a whole frame. */
  readonly positions?: number;
  /** Draws of the model, 256 unless said (as in a diagnosis). */
  readonly draws?: number;
  /** Numbers of the search; those of the knowledge base supplied unless said. */
  readonly plans?: PlanBook;
}

const DRAWS = 256;

/** Signs of a frame that runs badly. */
const RUNNING_SIGNS = ['end-breaks', 'breaks-after-piecing', 'piecing-poor', 'melt'];

const runsBadly = (input: CaseInput) =>
  input.measurements.endBreaks !== undefined ||
  RUNNING_SIGNS.some(
    (sign) => input.observations[sign] === 'slight' || input.observations[sign] === 'marked',
  );

/**
 * Searches all combinations of up to three changes for the ones that no other beats, and recommends one.
 *
 * Exhaustive over the stated options and deterministic. The chance of a stable run is taken over the draws of the
 * doubt about setup and parameters (weighted by the diagnosis, if one is given); qualities, limits and output are
 * compared at the central values and shown with their intervals. See `search.ts` for the two stages.
 *
 * @throws RangeError when positions or draws are not possible, or fibre or end use are unknown
 */
export function makePlans(knowledge: Knowledge, input: CaseInput, request: PlanRequest = {}): PlanReport {
  const started = performance.now();
  const plans = request.plans ?? loadPlanBook();
  const limits = request.limits ?? [];
  const draws = request.draws ?? DRAWS;
  const fibres = knowledge.parameters.fibres;
  const resolved = resolveSetup(input.given, { endUses: knowledge.endUses, fibres });
  const present = resolved.uncertain.central;
  const kind = isComplaint(input) ? 'frame-in-trouble' : 'new-yarn';
  const unset = new Set(
    kind === 'new-yarn' ? PLAN_SETTINGS.filter((setting) => !isGiven(input, setting)) : [],
  );
  const ground = groundOf(knowledge, resolved, draws, unset, request.ranking, plans);
  const cost: CostGround = {
    book: knowledge.book,
    plans,
    judgements: knowledge.judgements,
    positions: positionsOf(input, request.positions, knowledge),
    free: unset,
  };
  const constraints: ConstraintGround = {
    knowledge,
    plans,
    endUse: resolved.endUse,
    present,
    presentState: ground.stateOf(present),
    usualState: ground.stateOf(resolved.usual),
    stock: request.stock ?? {},
    limits,
    complaints: complainedQualities(input.observations, plans),
  };

  const listed = listOptions(
    present,
    plans,
    request.options,
    request.stock,
    limits,
    request.move,
    request.faster !== true && runsBadly(input),
  );
  const { kept: options, leftOut } = withoutForbidden(listed.options, input, resolved, knowledge, cost);
  const combinations = combine(options, Math.min(request.changes ?? 3, plans.options.changes.value));
  const refused = new Map<string, number>();
  const candidates: Candidate[] = [];
  for (const combination of combinations) {
    const setup = applyAll(present, combination);
    const state = ground.stateOf(setup);
    const changes = centralChanges(constraints.presentState, state);
    const because = refusalOf(setup, state, changes, constraints);
    if (because !== undefined) refused.set(because, (refused.get(because) ?? 0) + 1);
    else
      candidates.push({
        combination,
        margins: RUN_MARGINS.map((field) => state[field]),
        changes,
        effort: costOf(combination, cost).effort,
      });
  }

  const base = ground.columnsOf((setup) => setup);
  const chanceNow = chanceOf(base, ground.weights);
  const presentForbidden = forbiddenSetup(present, constraints);
  // A frame in trouble must not run worse unless it runs surely enough; for a new yarn, or where the present setup may not stay, the score decides.
  const least =
    kind === 'frame-in-trouble' && presentForbidden === undefined
      ? Math.min(chanceNow, plans.enough.value)
      : undefined;
  const found = searchPlans(candidates, ground, plans, least);
  const scoring: ScoreGround = { ...constraints, chanceNow };
  const describe = (one: Evaluated & { alike?: number }) => describePlan(one, base, ground, cost, scoring);
  const asItIs: Evaluated = {
    combination: [],
    margins: RUN_MARGINS.map((field) => constraints.presentState[field]),
    state: constraints.presentState,
    changes: centralChanges(constraints.presentState, constraints.presentState),
    effort: 0,
    columns: base,
    chance: chanceNow,
  };
  const presentPlan = describe(asItIs);
  const efficient = found.efficient
    .map((one) => ({ plan: describe(one), combination: one.combination }))
    .sort((a, b) => b.plan.score - a.plan.score || a.plan.id.localeCompare(b.plan.id));
  const best = efficient[0];
  const steps = best === undefined ? [] : orderSteps(best.combination, ground, cost);
  const after = best === undefined ? present : applyAll(present, best.combination);
  const others = efficient.slice(1).map(({ plan }) => plan);
  return {
    knowledgeVersion: knowledge.version,
    ...(input.title === undefined ? {} : { title: input.title }),
    kind,
    endUse: resolved.endUse.label,
    limits,
    tried: combinations.length,
    allowed: candidates.length,
    computedInFull: found.computed,
    refused: [...refused]
      .map(([because, count]) => ({ because, count }))
      .sort((a, b) => b.count - a.count || a.because.localeCompare(b.because)),
    leftOut: [...listed.leftOut, ...leftOut],
    present: presentPlan,
    ...(presentForbidden === undefined ? {} : { presentForbidden }),
    efficient: efficient.map(({ plan }) => plan),
    ...(best === undefined ? {} : { recommended: best.plan }),
    summary: summarise(best?.plan, presentPlan, kind, presentForbidden),
    beats: best === undefined ? [] : comparisons(best.plan, others),
    steps,
    setup: settingsTable(present, after, input),
    before: present,
    after,
    cautions: cautionsOf(
      steps.flatMap((step) => step.cautions),
      knowledge,
    ),
    assumed: resolved.assumed,
    warnings: [...input.warnings, ...resolved.warnings],
    notes: notesOf(
      combinations.length,
      candidates.length,
      found.computed,
      draws,
      request.ranking !== undefined,
    ),
    milliseconds: performance.now() - started,
  };
}

/** Whether the case complains of anything. */
export function isComplaint(input: CaseInput): boolean {
  return (
    Object.values(input.observations).some((level) => level !== 'absent') ||
    input.measurements.endBreaks !== undefined ||
    Object.keys(input.measurements.values).length > 0 ||
    Object.keys(input.findings).length > 0 ||
    input.before !== undefined
  );
}

const isGiven = (input: CaseInput, setting: PlanSetting) =>
  SETTINGS[setting].paths.some((path) => {
    const field = setupField(path);
    return field !== undefined && input.given.values[field.key] !== undefined;
  });

function positionsOf(input: CaseInput, wanted: number | undefined, knowledge: Knowledge): number {
  if (wanted !== undefined) {
    if (Number.isInteger(wanted) && wanted >= 1 && wanted <= 5000) return wanted;
    throw new RangeError(`positions: ${wanted} is not possible; give a whole number from 1 to 5000`);
  }
  const { scope } = input;
  if (scope.length > 0 && scope.every((place) => place === 'position')) return 1;
  if (scope.includes('section') && !scope.includes('frame')) return knowledge.judgements['section-positions'];
  return knowledge.judgements['frame-positions'];
}

/** The draws of the search: settings that are still to be chosen are not in doubt, and a diagnosis weighs the draws. */
function groundOf(
  knowledge: Knowledge,
  resolved: ResolvedSetup,
  draws: number,
  unset: ReadonlySet<PlanSetting>,
  ranking: Ranking | undefined,
  plans: PlanBook,
): PlanGround {
  const { central } = resolved.uncertain;
  const chosen = Object.fromEntries(
    [...unset].flatMap((setting) =>
      SETTINGS[setting].paths.flatMap((path) => {
        const field = setupField(path);
        return field === undefined ? [] : [[field.key, central[field.key]]];
      }),
    ),
  ) as Partial<SpinningSetup>;
  const settle = (setup: SpinningSetup): SpinningSetup => ({ ...setup, ...chosen });
  if (ranking === undefined) return prepareGround(knowledge, resolved, draws, settle);
  const { base } = simulate(
    { central, sample: (draw) => settle(resolved.uncertain.sample(draw)) },
    knowledge.parameters,
    { draws },
  );
  const belief = beliefFrom(ranking, knowledge, plans.belief.most.value);
  return prepareGround(knowledge, resolved, draws, settle, weighDraws(base, belief));
}

/** Drops options whose action the case forbids ("hairy already"). */
function withoutForbidden(
  options: readonly PlanOption[],
  input: CaseInput,
  resolved: ResolvedSetup,
  knowledge: Knowledge,
  cost: CostGround,
): { readonly kept: readonly PlanOption[]; readonly leftOut: readonly LeftOut[] } {
  const simulation = simulate(resolved.uncertain, knowledge.parameters, { draws: 64 });
  const facts = new Map<string, FactValue | (() => FactValue | undefined)>([
    ...Object.entries(setupFacts(input.given, input.before, resolved, knowledge.parameters.fibres)),
    ...computedFacts(simulation, input.given),
    ...Object.entries(input.observations).map(([id, level]): [string, FactValue] => [
      `observed.${id}`,
      level,
    ]),
    ...Object.entries(input.findings).map(([id, outcomes]): [string, FactValue] => [`found.${id}`, outcomes]),
  ]);
  const fact = (name: string) => {
    const value = facts.get(name);
    return typeof value === 'function' ? value() : value;
  };
  const judged = new Map<string, string | undefined>();
  const leftOut: LeftOut[] = [];
  const kept = options.filter((option) => {
    const action = actionOf(option, cost);
    const key = action.id;
    if (!judged.has(key))
      judged.set(key, action['not-when']?.find((one) => conditionHolds(one.when, fact))?.because);
    const because = judged.get(key);
    if (because !== undefined) leftOut.push({ setting: option.setting, words: option.change.words, because });
    return because === undefined;
  });
  return { kept, leftOut };
}

function describePlan(
  one: Evaluated & { readonly alike?: number },
  base: PlanColumns,
  ground: PlanGround,
  cost: CostGround,
  scoring: ScoreGround,
): Plan {
  const { columns } = one;
  const { weights } = ground;
  const range = (column: Float64Array) => weightedRange(column, weights);
  const change = (quality: Quality): Ranged => {
    const field = QUALITY_FIELDS[quality];
    return range(columns[field].map((value, i) => 100 * (value / (base[field][i] ?? Number.NaN) - 1)));
  };
  const effects: PlanEffects = {
    chance: one.chance,
    margins: {
      twist: shareNotNegative(columns.twistMargin, weights),
      tension: shareNotNegative(columns.tensionMargin, weights),
      fibres: shareNotNegative(columns.fibresMargin, weights),
      heat: shareNotNegative(columns.heatMargin, weights),
    },
    hairiness: change('hairiness'),
    hand: change('hand'),
    fly: change('fly'),
    tenacity: change('tenacity'),
    output: change('output'),
    nozzleLife: change('nozzle-life'),
    outputGPerRotorH: range(columns.outputGPerRotorH),
    nozzleLifeH: range(columns.nozzleLifeH),
  };
  const work = costOf(one.combination, cost);
  const standing = one.combination.some(
    (option) => !cost.free.has(option.setting) && SETTINGS[option.setting].part !== 'panel',
  )
    ? work.minutes
    : 0;
  const parts = scoreParts(one, scoring);
  return {
    id: idOf(one.combination),
    label:
      one.combination.length === 0
        ? say('plan-words.stay')
        : one.combination.map((option) => `${option.change.label} ${option.change.to}`).join(', '),
    changes: one.combination.map((option) => option.change),
    effects,
    cost: {
      ...work,
      parts: partsOf(one.combination, applyAll(ground.central, one.combination), cost),
      lostOutputKg: lostOutput(standing, range(base.outputGPerRotorH).value),
    },
    score: parts.reduce((sum, part) => sum + part.minutes, 0),
    scoreParts: parts,
    alike: one.alike ?? 0,
  };
}

function summarise(
  best: Plan | undefined,
  present: Plan,
  kind: PlanReport['kind'],
  forbidden: string | undefined,
): string {
  if (best === undefined) return say('plan-words.no-combination');
  if (best.changes.length === 0)
    return kind === 'new-yarn'
      ? say('plan-words.usual-best', { chance: Math.round(100 * present.effects.chance) })
      : say('plan-words.none-worth', { chance: Math.round(100 * present.effects.chance) });
  const then = say('plan-words.recommended', { plan: best.label, what: sayPlan(best, present) });
  return forbidden === undefined ? then : say('plan-words.may-not-stay', { why: forbidden, then });
}

/** Against the next in order, and against the best that changes other settings. */
function comparisons(best: Plan, others: readonly Plan[]): PlanReport['beats'] {
  const settings = (plan: Plan) => plan.changes.map((change) => change.setting).join();
  const [next] = others;
  const otherKind = others.find((plan) => settings(plan) !== settings(best));
  return [...new Set([next, otherKind])].flatMap((plan) => {
    if (plan === undefined) return [];
    const reasons = reasonsAgainst(best, plan);
    return [{ plan: plan.id, label: plan.label, reasons, words: sayReasons(reasons, plan.label) }];
  });
}

function settingsTable(before: SpinningSetup, after: SpinningSetup, input: CaseInput): PlannedSetting[] {
  const planned = new Map<SetupPath, PlanSetting>(
    PLAN_SETTINGS.flatMap((setting) => SETTINGS[setting].paths.map((path) => [path, setting] as const)),
  );
  return SETUP_PATHS.flatMap((path) => {
    if (path === 'end-use' || path === 'nozzle.notches') return [];
    const setting = planned.get(path);
    const words = (setup: SpinningSetup) =>
      setting === undefined ? plainValue(setup, path) : describeSetting(setup, setting);
    const field = setupField(path);
    const given =
      path === 'fibre'
        ? input.given.values.fibres
        : field === undefined
          ? undefined
          : input.given.values[field.key];
    const [now, then] = [words(before), words(after)];
    return [
      {
        path,
        label: setupLabel(path),
        now,
        planned: then,
        changed: now !== then,
        assumed: given === undefined,
      },
    ];
  });
}

function plainValue(setup: SpinningSetup, path: SetupPath): string {
  const field = setupField(path);
  if (field === undefined) return describeFibres(setup.fibres);
  if (path === 'count')
    return `${formatNumber(Number(setup.countTex.toPrecision(4)))} tex (${formatNumber(Number(fromTex(setup.countTex, 'Ne').toPrecision(3)))} Ne)`;
  return field.type === 'word'
    ? optionWord(String(setup[field.key]))
    : formatQuantity(field, setup[field.key]);
}

function cautionsOf(ids: readonly string[], { book }: Knowledge): CautionText[] {
  // The order of the knowledge base, so that the manual comes first.
  return [...book.cautions]
    .filter(([id]) => ids.includes(id))
    .map(([id, caution]) => ({ id, text: caution.text }));
}

function notesOf(tried: number, allowed: number, full: number, draws: number, diagnosed: boolean): string[] {
  return [
    say('plan-words.tried', { tried, allowed, full, draws }),
    diagnosed ? say('plan-words.seen-weighs') : say('plan-words.setup-alone'),
    say('plan-words.only-ranks'),
  ];
}

/** Objectives in the order in which they are shown. */
export const SHOWN_OBJECTIVES: readonly Objective[] = [
  'chance',
  'output',
  'hairiness',
  'hand',
  'fly',
  'tenacity',
  'nozzle-life',
  'effort',
];
