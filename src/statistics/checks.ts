import { StatisticsError } from './errors.js';

/** Returns `value` if it is a whole number of events, 0 or more; otherwise throws a {@link StatisticsError}. */
export function requireCount(field: string, value: number): number {
  if (!Number.isSafeInteger(value) || value < 0)
    throw new StatisticsError(field, value, 'a whole number, 0 or more');
  return value;
}

/** Returns `value` if it is a finite number above 0; otherwise throws a {@link StatisticsError}. */
export function requirePositive(field: string, value: number): number {
  if (!Number.isFinite(value) || value <= 0) throw new StatisticsError(field, value, 'a number above 0');
  return value;
}

/** Returns `value` if it is finite and lies in [low, high]; otherwise throws a {@link StatisticsError}. */
export function requireWithin(field: string, value: number, low: number, high: number): number {
  if (!Number.isFinite(value) || value < low || value > high) {
    throw new StatisticsError(
      field,
      value,
      high === Number.POSITIVE_INFINITY ? `a number, ${low} or more` : `${low} to ${high}`,
    );
  }
  return value;
}

/** Returns `value` if it lies strictly between 0 and 1 (a confidence, a share, a power); otherwise throws. */
export function requireFraction(field: string, value: number): number {
  if (!(value > 0 && value < 1)) throw new StatisticsError(field, value, 'a fraction between 0 and 1');
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
        ? `a whole number, ${low} or more`
        : `a whole number, ${low} to ${high}`,
    );
  }
  return value;
}

/** Returns `list` if it holds at least `least` members; otherwise throws a {@link StatisticsError}. */
export function requireMembers<T>(field: string, list: readonly T[], least: number): readonly T[] {
  if (list.length < least) throw new StatisticsError(field, list, `a list of ${least} or more`);
  return list;
}
