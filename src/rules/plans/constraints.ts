import { say } from '../../language/say.js';
import type { SpinningSetup } from '../../spinning/setup.js';
import type { ComputedState } from '../../spinning/state.js';
import { limitOf } from '../diagnosis/margins.js';
import type { EndUse, Limited } from '../knowledge/end-use-schema.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import type { PlanBook } from '../knowledge/plan-schema.js';
import { conditionHolds } from './conditions.js';
import { OBJECTIVE_INFO, QUALITY_FIELDS, type Quality } from './objectives.js';
import { nozzleInStock } from './options.js';
import { factOfSetup } from './setting-facts.js';
import { PLAN_LIMIT_WORDS, type PlanLimit, type Stock } from './types.js';

/** Qualities an end use may limit. */
const LIMITED: readonly (readonly [Quality, Limited])[] = [
  ['hairiness', 'hairiness'],
  ['hand', 'softness'],
  ['fly', 'fly'],
  ['tenacity', 'tenacity'],
  ['output', 'output'],
];

/** Changes below this, percent, are rounding. */
const ROUNDING = 1e-6;

/** What decides whether a planned setup is allowed. */
export interface ConstraintGround {
  readonly knowledge: Knowledge;
  readonly plans: PlanBook;
  readonly endUse: EndUse;
  readonly present: SpinningSetup;
  readonly presentState: ComputedState;
  /** State of the end use's usual setup, from which its limits are counted. */
  readonly usualState: ComputedState;
  readonly stock: Stock;
  readonly limits: readonly PlanLimit[];
  /** Qualities that are complained of. */
  readonly complaints: readonly Quality[];
}

/**
 * Why a planned setup is not allowed, undefined when it is. A limit of the end use holds against its usual setup; where
 * the present setup is beyond the limit already, a plan must not go farther.
 *
 * Limits are judged at the central values, the same for all combinations.
 */
export function refusalOf(
  setup: SpinningSetup,
  state: ComputedState,
  changes: Readonly<Record<Quality, number>>,
  ground: ConstraintGround,
): string | undefined {
  if (!nozzleInStock(setup, ground.present, ground.stock)) return say('plan-words.not-in-stock');
  const forbidden = forbiddenSetup(setup, ground);
  if (forbidden !== undefined) return forbidden;
  if (ground.limits.includes('dont-lose-output') && changes.output < -ROUNDING)
    return say('plan-words.delivers-less', { limit: PLAN_LIMIT_WORDS['dont-lose-output'] });
  if (ground.limits.includes('hairiness-no-worse') && changes.hairiness > ROUNDING)
    return say('plan-words.hairier', { limit: PLAN_LIMIT_WORDS['hairiness-no-worse'] });
  if (ground.limits.includes('hand-no-worse') && changes.hand < -ROUNDING)
    return say('plan-words.harsher', { limit: PLAN_LIMIT_WORDS['hand-no-worse'] });
  for (const quality of ground.complaints)
    if (OBJECTIVE_INFO[quality].better * changes[quality] < -ROUNDING)
      return say('plan-words.complained-of', { quality: OBJECTIVE_INFO[quality].label });
  for (const [quality, limited] of LIMITED) {
    const field = QUALITY_FIELDS[quality];
    const limit = limitOf(ground.endUse, limited);
    const percent = (one: ComputedState) => 100 * (one[field] / ground.usualState[field] - 1);
    const after = percent(state);
    const now = percent(ground.presentState);
    if (after > Math.max(limit.most, now) + ROUNDING || after < Math.min(limit.least, now) - ROUNDING)
      return limit.because;
  }
  return undefined;
}

/** Why a setup is forbidden as such, by the end use or for any yarn. */
export function forbiddenSetup(
  setup: SpinningSetup,
  { knowledge, plans, endUse }: Pick<ConstraintGround, 'knowledge' | 'plans' | 'endUse'>,
): string | undefined {
  const fact = (name: string) => factOfSetup(setup, name, knowledge.parameters.fibres);
  const rules = [...plans.never, ...(endUse.forbids ?? [])];
  return rules.find((rule) => conditionHolds(rule.when, fact))?.because;
}
