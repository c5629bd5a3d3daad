import { requireFraction, requirePositive } from '../checks.js';
import { poissonAtLeast } from '../distributions.js';

/** The rise of a frame worth noticing, and that of one position; both judgement. */
export const FRAME_RISE = 1.5;
export const POSITION_RISE = 3;

/**
 * Hours after which a unit that breaks `ratio` times as often as usual is noticed with the chance asked for, by a one-sided exact
 * Poisson test against a known usual rate. rate: breaks per hour of the unit, above 0; ratio above 1; alpha and power 0–1.
 * For one position among many give the alpha that the correction leaves (0.1 / positions).
 */
export function hoursToNotice(rate: number, ratio: number, alpha: number, power = 0.8): number {
  requirePositive('rate', rate);
  requirePositive('ratio - 1', ratio - 1);
  requireFraction('alpha', alpha);
  requireFraction('power', power);
  const reached = (expected: number) =>
    poissonAtLeast(alarmCount(expected, alpha), expected * ratio) >= power;
  let high = 0.05;
  while (!reached(high) && high < 1e7) high *= 1.3;
  let low = high / 1.3;
  for (let i = 0; i < 30; i++) {
    const middle = (low + high) / 2;
    if (reached(middle)) high = middle;
    else low = middle;
  }
  return high / rate;
}

/** Smallest count that raises the alarm at the given expectation. */
function alarmCount(expected: number, alpha: number): number {
  let low = Math.floor(expected);
  let high = low + 1;
  while (poissonAtLeast(high, expected) > alpha) {
    low = high;
    high += Math.max(1, Math.ceil(Math.sqrt(expected)));
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (poissonAtLeast(middle, expected) > alpha) low = middle;
    else high = middle;
  }
  return high;
}
