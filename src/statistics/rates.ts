import { requireFraction } from './checks.js';
import { type CountOverHours, requireExposure } from './exposure.js';
import type { Interval } from './interval.js';
import { poissonInterval } from './poisson-interval.js';

/** End breaks per 1000 rotor-hours with its exact interval. */
export interface Rate extends CountOverHours {
  readonly per1000: number;
  readonly interval: Interval;
}

/**
 * Events per 1000 rotor-hours with the exact Garwood interval. count: whole, 0 or more; rotorHours above 0.
 * Supposes that events come independently; see dispersion.ts when they come in bunches.
 */
export function computeRate(events: CountOverHours, confidence = 0.95): Rate {
  requireExposure('rate', events);
  requireFraction('confidence', confidence);
  const scale = 1000 / events.rotorHours;
  const limits = poissonInterval(events.count, confidence);
  return {
    count: events.count,
    rotorHours: events.rotorHours,
    per1000: events.count * scale,
    interval: { lower: limits.lower * scale, upper: limits.upper * scale, confidence },
  };
}
