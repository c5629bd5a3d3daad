import { requireFraction, requireMembers, requireWhole } from './checks.js';
import { logGamma } from './distributions.js';
import { StatisticsError } from './errors.js';
import { type CountOverHours, pool, requireExposure } from './exposure.js';
import { logSumExp } from './numeric.js';
import { accumulate, createRandom, DEFAULT_SEED, scatterEvents } from './random.js';

/** The likeliest single step in a series of counts. */
export interface ChangePoint {
  /** Number of periods before the step: the change lies between period `after` and the next (counted from 1). */
  readonly after: number;
  readonly ratePer1000Before: number;
  readonly ratePer1000After: number;
  readonly logLikelihoodRatio: number;
  /** Monte-Carlo p of so strong a step anywhere if the rate never changed. */
  readonly p: number;
  /** Range of `after` that holds the change with the confidence asked for, supposing that there is one. */
  readonly interval: { readonly from: number; readonly to: number; readonly confidence: number };
}

/** How the search is done. */
export interface ChangePointOptions {
  readonly replications?: number;
  readonly seed?: number;
  readonly confidence?: number;
}

/**
 * Finds the step in a series of counts (periods in order, unequal rotor-hours allowed) by the profile Poisson likelihood.
 * The p-value is by Monte Carlo given the total, so it pays for having tried every place, and has a fixed seed.
 * The interval is the central part of the probability over all places, each equally likely beforehand, the two rates
 * integrated out (gamma prior worth half an event each; judgement). 3 or more periods, at least one event.
 */
export function findChangePoint(
  periods: readonly CountOverHours[],
  options: ChangePointOptions = {},
): ChangePoint {
  requireMembers('periods', periods, 3);
  periods.forEach((period, index) => {
    requireExposure(`periods[${index}]`, period);
  });
  const replications = requireWhole('replications', options.replications ?? 999, 19, 99_999);
  const confidence = requireFraction('confidence', options.confidence ?? 0.95);
  const all = pool(periods);
  if (all.count === 0) throw new StatisticsError('periods', periods, 'at least one event, taken together');
  const hours = accumulate(periods.map((period) => period.rotorHours));
  const strongest = (counts: ArrayLike<number>) => {
    let before = 0;
    let best = { after: 1, value: -1 };
    for (let k = 1; k < periods.length; k++) {
      before += counts[k - 1] ?? 0;
      const value = stepRatio(before, (all.count * (hours[k - 1] ?? 0)) / all.rotorHours, all.count);
      if (value > best.value) best = { after: k, value };
    }
    return best;
  };
  const best = strongest(periods.map((period) => period.count));
  const random = createRandom(options.seed ?? DEFAULT_SEED);
  const drawn = new Int32Array(periods.length);
  let asStrong = 0;
  for (let i = 0; i < replications; i++) {
    if (strongest(scatterEvents(all.count, hours, random, drawn)).value >= best.value - 1e-9) asStrong++;
  }
  const before = pool(periods.slice(0, best.after));
  const after = pool(periods.slice(best.after));
  return {
    after: best.after,
    ratePer1000Before: (1000 * before.count) / before.rotorHours,
    ratePer1000After: (1000 * after.count) / after.rotorHours,
    logLikelihoodRatio: best.value,
    p: (1 + asStrong) / (replications + 1),
    interval: { ...credibleRange(periods, all, confidence), confidence },
  };
}

/** ln likelihood ratio of "two rates" against "one rate" for a given split. */
function stepRatio(count: number, expected: number, total: number): number {
  const rest = total - count;
  return (
    (count > 0 ? count * Math.log(count / expected) : 0) +
    (rest > 0 ? rest * Math.log(rest / (total - expected)) : 0)
  );
}

function credibleRange(periods: readonly CountOverHours[], all: CountOverHours, confidence: number) {
  const priorEvents = 0.5;
  const priorHours = (priorEvents * all.rotorHours) / all.count;
  const marginal = (part: CountOverHours) =>
    logGamma(part.count + priorEvents) - (part.count + priorEvents) * Math.log(part.rotorHours + priorHours);
  const logs: number[] = [];
  for (let k = 1; k < periods.length; k++) {
    const before = pool(periods.slice(0, k));
    const after = { count: all.count - before.count, rotorHours: all.rotorHours - before.rotorHours };
    logs.push(marginal(before) + marginal(after));
  }
  const total = logSumExp(logs);
  const tail = (1 - confidence) / 2;
  let sum = 0;
  let from = 1;
  let to = periods.length - 1;
  let found = false;
  for (let k = 1; k < periods.length; k++) {
    sum += Math.exp((logs[k - 1] ?? 0) - total);
    if (!found && sum > tail) {
      from = k;
      found = true;
    }
    if (sum >= 1 - tail) {
      to = k;
      break;
    }
  }
  return { from, to };
}
