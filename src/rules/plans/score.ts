import type { ComputedState } from '../../spinning/state.js';
import { limitOf } from '../diagnosis/margins.js';
import type { EndUse, Limited } from '../knowledge/end-use-schema.js';
import { OBJECTIVES, type Objective, type PlanBook } from '../knowledge/plan-schema.js';
import { OBJECTIVE_INFO, QUALITY_FIELDS, type Quality } from './objectives.js';

/** What a score is reckoned from. */
export interface ScoreGround {
  readonly endUse: EndUse;
  readonly plans: PlanBook;
  readonly presentState: ComputedState;
  readonly usualState: ComputedState;
  readonly chanceNow: number;
  /** Qualities that are complained of. */
  readonly complaints: readonly Quality[];
}

const LIMIT_OF: Partial<Record<Objective, Limited>> = {
  hairiness: 'hairiness',
  hand: 'softness',
  fly: 'fly',
  tenacity: 'tenacity',
};

/**
 * What a plan is worth less what it costs, in working minutes, objective by objective. The prices are those of
 * `plans.yaml`: judgement, for putting the plans in an order, not for leaving any out.
 *
 * A quality is priced by the share of the end use's limit it uses up, counted from the end use's usual setup: a bare
 * yarn may take on the usual hair for little. Output lost counts in full, output gained by `gain-share`, since nobody
 * asked for it.
 */
export function scoreParts(
  plan: { readonly chance: number; readonly effort: number; readonly state: ComputedState },
  ground: ScoreGround,
): { readonly on: Objective; readonly minutes: number }[] {
  return OBJECTIVES.map((on) => ({ on, minutes: minutesOf(on, plan, ground) }));
}

function minutesOf(
  on: Objective,
  plan: { readonly chance: number; readonly effort: number; readonly state: ComputedState },
  ground: ScoreGround,
): number {
  const { worth } = ground.plans;
  if (on === 'chance') return 100 * (plan.chance - ground.chanceNow) * worth['chance-point'].value;
  if (on === 'effort') return -plan.effort;
  const field = QUALITY_FIELDS[on];
  const change = 100 * (plan.state[field] / ground.presentState[field] - 1);
  if (on === 'output')
    return change * worth['output-percent'].value * (change > 0 ? worth['gain-share'].value : 1);
  if (on === 'nozzle-life') return change * worth['life-percent'].value;
  const { better } = OBJECTIVE_INFO[on];
  const limited = LIMIT_OF[on];
  const limit = limited === undefined ? undefined : limitOf(ground.endUse, limited);
  const room = better > 0 ? -(limit?.least ?? Number.NaN) : (limit?.most ?? Number.NaN);
  const whole = Number.isFinite(room) ? room : worth['where-no-limit'].value;
  const complained = ground.complaints.includes(on);
  const shortfall = (state: ComputedState) => {
    const behind = (-better * 100 * (state[field] / ground.usualState[field] - 1)) / whole;
    return behind > 0 || complained ? behind : behind * worth['gain-share'].value;
  };
  return (
    (shortfall(ground.presentState) - shortfall(plan.state)) *
    worth['whole-limit'].value *
    (complained ? worth.complaint.value : 1)
  );
}

/** Qualities of which the signs of a case complain. */
export function complainedQualities(
  observations: Readonly<Record<string, string>>,
  { complaints }: PlanBook,
): Quality[] {
  return (Object.entries(complaints) as [Quality, readonly string[]][])
    .filter(([, signs]) => signs.some((sign) => (observations[sign] ?? 'absent') !== 'absent'))
    .map(([quality]) => quality);
}
