import { localDecimal } from '../language/numbers.js';
import { say } from '../language/say.js';
import { StatisticsError } from './errors.js';

/** Returns `value` if it is a whole number of events, 0 or more; otherwise throws a {@link StatisticsError}. */
export function requireCount(field: string, value: number): number {
  if (!Number.isSafeInteger(value) || value < 0)
    throw new StatisticsError(field, value, say('count-allowed.whole-0'));
  return value;
}

/** Returns `value` if it is a finite number above 0; otherwise throws a {@link StatisticsError}. */
export function requirePositive(field: string, value: number): number {
  if (!Number.isFinite(value) || value <= 0)
    throw new StatisticsError(field, value, say('count-allowed.above-0'));
  return value;
}

/** Returns `value` if it is finite and lies in [low, high]; otherwise throws a {@link StatisticsError}. */
export function requireWithin(field: string, value: number, low: number, high: number): number {
  if (!Number.isFinite(value) || value < low || value > high) {
    throw new StatisticsError(
      field,
      value,
      high === Number.POSITIVE_INFINITY
        ? say('count-allowed.from-number', { low: plain(low) })
        : say('count-allowed.range', { low: plain(low), high: plain(high) }),
    );
  }
  return value;
}

/** Returns `value` if it lies strictly between 0 and 1 (a confidence, a share, a power); otherwise throws. */
export function requireFraction(field: string, value: number): number {
  if (!(value > 0 && value < 1)) throw new StatisticsError(field, value, say('count-allowed.fraction'));
  return value;
}

/** Returns `value` if it is a whole number in [low, high]; otherwise throws a {@link StatisticsError}. */
export function requireWhole(
  field: string,
  value: number,
  low: number,
  high = Number.MAX_SAFE_INTEGER,
): number {
  if (!Number.isSafeInteger(value) || value < low || value > high) {
    throw new StatisticsError(
      field,
      value,
      high === Number.MAX_SAFE_INTEGER
        ? say('count-allowed.whole-from', { low: plain(low) })
        : say('count-allowed.whole-range', { low: plain(low), high: plain(high) }),
    );
  }
  return value;
}

/** Returns `list` if it holds at least `least` members; otherwise throws a {@link StatisticsError}. */
export function requireMembers<T>(field: string, list: readonly T[], least: number): readonly T[] {
  if (list.length < least)
    throw new StatisticsError(field, list, say('count-allowed.members', { n: plain(least) }));
  return list;
}

const plain = (value: number) => localDecimal(String(value));
