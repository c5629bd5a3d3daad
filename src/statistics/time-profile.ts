import { adjustPValues } from './adjustment.js';
import { requireMembers, requireWhole } from './checks.js';
import { chiSquareAtLeast } from './distributions.js';
import { StatisticsError } from './errors.js';
import { pool, requireExposure } from './exposure.js';
import type { NamedCount } from './many-rates.js';
import { accumulate, createRandom, DEFAULT_SEED, scatterEvents } from './random.js';
import { compareRates } from './rate-ratio.js';
import { computeRate, type Rate } from './rates.js';

/** Break rates by hour of the day or by shift. */
export interface TimeProfile {
  readonly slots: readonly {
    readonly id: string;
    readonly rate: Rate;
    readonly ratioToRest: number;
    /** Holm-corrected mid-p against the other slots. */
    readonly adjustedP: number;
  }[];
  readonly chiSquare: number;
  readonly degrees: number;
  readonly p: number;
  /** `chi-square` when at least five events are expected in every slot, else the exact distribution given the total, by Monte Carlo. */
  readonly method: 'chi-square' | 'monte-carlo';
}

/**
 * Rates of recurring slots of time (hours of the day, shifts) with a test that all slots share one rate. Slots in the order
 * given, rotor-hours of each slot summed over the days. Supposes independent events; if they come bunched within a day, use
 * one count per day and slot and look at its dispersion first.
 */
export function profileTime(
  slots: readonly NamedCount[],
  options: { readonly replications?: number; readonly seed?: number } = {},
): TimeProfile {
  requireMembers('slots', slots, 2);
  slots.forEach((slot, index) => {
    requireExposure(`slots[${index}]`, slot);
  });
  const replications = requireWhole('replications', options.replications ?? 1999, 19, 99_999);
  const all = pool(slots);
  if (all.count === 0) throw new StatisticsError('slots', slots, 'at least one event, taken together');
  const expected = slots.map((slot) => (all.count * slot.rotorHours) / all.rotorHours);
  const scatter = (counts: ArrayLike<number>) =>
    expected.reduce((sum, mean, index) => sum + ((counts[index] ?? 0) - mean) ** 2 / mean, 0);
  const chiSquare = scatter(slots.map((slot) => slot.count));
  const degrees = slots.length - 1;
  const method = Math.min(...expected) >= 5 ? 'chi-square' : 'monte-carlo';
  let p = chiSquareAtLeast(chiSquare, degrees);
  if (method === 'monte-carlo') {
    const random = createRandom(options.seed ?? DEFAULT_SEED);
    const cumulative = accumulate(slots.map((slot) => slot.rotorHours));
    const drawn = new Int32Array(slots.length);
    let asLarge = 0;
    for (let i = 0; i < replications; i++) {
      if (scatter(scatterEvents(all.count, cumulative, random, drawn)) >= chiSquare - 1e-9) asLarge++;
    }
    p = (1 + asLarge) / (replications + 1);
  }
  const against = slots.map((slot) =>
    compareRates(slot, { count: all.count - slot.count, rotorHours: all.rotorHours - slot.rotorHours }),
  );
  const adjusted = adjustPValues(
    against.map((comparison) => comparison.test.midP.twoSided),
    'holm',
  );
  return {
    slots: slots.map((slot, index) => ({
      id: slot.id,
      rate: computeRate(slot),
      ratioToRest: against[index]?.ratio ?? Number.NaN,
      adjustedP: adjusted[index] ?? 1,
    })),
    chiSquare,
    degrees,
    p,
    method,
  };
}
