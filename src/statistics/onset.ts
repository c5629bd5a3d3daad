import { type ChangePoint, type ChangePointOptions, findChangePoint } from './change-point.js';
import { requireFraction } from './checks.js';
import { poissonLogPmf } from './distributions.js';
import { type CountOverHours, pool } from './exposure.js';
import type { NamedCount } from './many-rates.js';
import { compareWithNorm } from './rate-norm.js';
import { profileTime, type TimeProfile } from './time-profile.js';
import { periodAxis, type Trend, testPeriodTrend } from './trend.js';
import { sayNumber, sayP } from './words.js';

/** How a rise came about, ready to be used as the diagnosis's onset. */
export interface OnsetVerdict {
  /** Left undefined when the counts do not say. `ongoing` only with a norm: steady, and above it. */
  readonly onset: 'sudden' | 'creeping' | 'time-of-day' | 'ongoing' | undefined;
  readonly step: ChangePoint;
  readonly trend: Trend;
  readonly profile: TimeProfile | undefined;
  /** ln likelihood of the best step less that of the best smooth drift: above 0 favours the step. */
  readonly stepOverDrift: number;
  readonly words: string;
}

/** What {@link judgeOnset} may be told. */
export interface OnsetOptions extends ChangePointOptions {
  /** The same breaks by hour of the day or shift. */
  readonly slots?: readonly NamedCount[];
  readonly normPer1000?: number;
  readonly alpha?: number;
}

/** ln likelihood by which a step must beat a drift, or a drift a step, to be called the better account. Judgement: a factor of about three. */
const MARGIN = 1;

/**
 * Says whether a rise in the counts of successive periods (in order) came suddenly, crept in, follows the time of day, or is
 * steady. A step and a drift are both tested; when either is shown, their likelihoods decide between them.
 */
export function judgeOnset(periods: readonly CountOverHours[], options: OnsetOptions = {}): OnsetVerdict {
  const alpha = requireFraction('alpha', options.alpha ?? 0.05);
  const step = findChangePoint(periods, options);
  const trend = testPeriodTrend(periods);
  const profile = options.slots && profileTime(options.slots, options);
  const stepOverDrift = stepLogLikelihood(periods, step.after) - driftLogLikelihood(periods);
  const stepShown = step.p <= alpha && step.ratePer1000After > step.ratePer1000Before;
  const driftShown = trend.pWorsening <= alpha;
  const base = { step, trend, profile, stepOverDrift };

  if (stepShown && stepOverDrift > MARGIN) {
    return {
      ...base,
      onset: 'sudden',
      words: `The rate rose in one step, from ${sayNumber(step.ratePer1000Before)} to ${sayNumber(step.ratePer1000After)} per 1000 rotor-hours, after period ${step.after} (between ${step.interval.from} and ${step.interval.to}; p ${sayP(step.p)}).`,
    };
  }
  if (driftShown && stepOverDrift < -MARGIN) {
    return {
      ...base,
      onset: 'creeping',
      words: `The rate has been rising over the periods (p ${sayP(trend.pWorsening)}); a steady drift explains the counts better than a single step.`,
    };
  }
  if (stepShown || driftShown) {
    return {
      ...base,
      onset: undefined,
      words: 'The rate has risen, but these counts cannot tell a single step from a steady drift.',
    };
  }
  if (profile && profile.p <= alpha) {
    const worst = [...profile.slots].sort((a, b) => b.rate.per1000 - a.rate.per1000)[0];
    return {
      ...base,
      onset: 'time-of-day',
      words: `The rate depends on the time of day (p ${sayP(profile.p)}); worst: ${worst?.id ?? ''} with ${sayNumber(worst?.rate.per1000 ?? 0)} per 1000 rotor-hours.`,
    };
  }
  if (options.normPer1000 !== undefined) {
    const level = compareWithNorm(pool(periods), options.normPer1000, alpha);
    if (level.verdict === 'above') {
      return {
        ...base,
        onset: 'ongoing',
        words: 'The rate is above the norm in all periods alike: neither a step nor a drift is shown.',
      };
    }
  }
  return { ...base, onset: undefined, words: 'The counts show neither a step nor a drift.' };
}

function stepLogLikelihood(periods: readonly CountOverHours[], after: number): number {
  return [periods.slice(0, after), periods.slice(after)].reduce((sum, part) => {
    const { count, rotorHours } = pool(part);
    const rate = count / rotorHours;
    return sum + part.reduce((own, period) => own + poissonLogPmf(period.count, rate * period.rotorHours), 0);
  }, 0);
}

/** Largest ln likelihood of a rate exp(a + b·time), by Newton steps on b with a solved at each. */
function driftLogLikelihood(periods: readonly CountOverHours[]): number {
  const { total, middles, mean } = periodAxis(periods);
  let slope = 0;
  const shares = (b: number) => {
    const weights = periods.map((period, i) => period.rotorHours * Math.exp(b * ((middles[i] ?? 0) - mean)));
    const sum = weights.reduce((all, weight) => all + weight, 0);
    return weights.map((weight) => weight / sum);
  };
  const observed =
    periods.reduce((sum, period, i) => sum + period.count * (middles[i] ?? 0), 0) / total.count;
  for (let i = 0; i < 50; i++) {
    const share = shares(slope);
    const centre = share.reduce((sum, weight, j) => sum + weight * (middles[j] ?? 0), 0);
    const variance = share.reduce((sum, weight, j) => sum + weight * ((middles[j] ?? 0) - centre) ** 2, 0);
    // All events at one end would send the slope to infinity; 30 is as good.
    const next = Math.max(
      -30,
      Math.min(30, slope + Math.max(-3, Math.min(3, (observed - centre) / (variance + 1e-12)))),
    );
    if (Math.abs(next - slope) < 1e-10) break;
    slope = next;
  }
  const share = shares(slope);
  return periods.reduce(
    (sum, period, i) => sum + poissonLogPmf(period.count, total.count * (share[i] ?? 0)),
    0,
  );
}
