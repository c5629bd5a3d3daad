import { say } from '../../language/say.js';
import type { DateOrder } from './types.js';

/** A time read from a cell, or why it could not be read. */
export type TimeReading =
  | { readonly ok: true; readonly wall: number; readonly hasClock: boolean }
  | { readonly ok: false; readonly why: () => string };

const DAY = 86_400_000;
const FIRST_YEAR = 1980;
const LAST_YEAR = 2099;
const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

const CLOCK = String.raw`(\d{1,2})[:.h](\d{2})(?:[:.](\d{2})(?:[.,]\d{1,9})?)?\s*([ap])?\.?m?\.?`;
const ONLY_CLOCK = new RegExp(`^${CLOCK}$`, 'i');
const ZONE = String.raw`\s*(?:z|[+-]\d{2}:?\d{2})?`;
const YEAR_FIRST = new RegExp(
  String.raw`^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})(?:[T\s,;]+${CLOCK}${ZONE})?$`,
  'i',
);
const YEAR_LAST = new RegExp(
  String.raw`^(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|\d{2})\.?(?:[T\s,;]+${CLOCK})?$`,
  'i',
);
const COMPACT = /^(\d{4})(\d{2})(\d{2})(?:[T ]?(\d{2})(\d{2})(\d{2})?)?$/;
const NAMED = new RegExp(
  String.raw`^(\d{1,2})[-\s.]+([a-z]{3,9})[-\s.,]+(\d{4}|\d{2})(?:[T\s,;]+${CLOCK})?$`,
  'i',
);

const fail = (why: () => string): TimeReading => ({ ok: false, why });

/**
 * Reads a date, with or without a time of day: ISO (2026-11-24 06:12), 24.11.2026 06:12, 24 Nov 2026, 20261124, and dates
 * with slashes or dashes when the day is above 12 or the order is stated. A time zone behind the time is passed over: the
 * clock counts as written.
 */
export function readCellTime(text: string, order?: DateOrder): TimeReading {
  const plain = text.trim();
  if (plain.length > 40) return fail(() => say('table-reading.no-time'));
  const iso = YEAR_FIRST.exec(plain);
  if (iso !== null) return join(iso[1], iso[3], iso[4], iso.slice(5, 9));
  const last = YEAR_LAST.exec(plain);
  if (last !== null) {
    const [, first = '', sign, second = '', year, ...clock] = last;
    const read = readOrder(Number(first), Number(second), sign === '.' ? 'dmy' : undefined, order);
    if (typeof read !== 'string') return fail(read.why);
    return read === 'dmy' ? join(year, second, first, clock) : join(year, first, second, clock);
  }
  const compact = COMPACT.exec(plain);
  if (compact !== null) return join(compact[1], compact[2], compact[3], compact.slice(4, 7));
  const named = NAMED.exec(plain);
  if (named !== null) {
    const month = MONTHS.indexOf((named[2] ?? '').slice(0, 3).toLowerCase()) + 1;
    if (month > 0) return join(named[3], String(month), named[1], named.slice(4, 8));
  }
  return fail(() =>
    ONLY_CLOCK.test(plain) ? say('table-reading.no-date') : say('table-reading.no-time-read'),
  );
}

/** Reads a time of day (06:12, 6.12, 6:12 pm, or a whole hour 0 to 23) as milliseconds since midnight; undefined when it is none. */
export function readCellClock(text: string): number | undefined {
  const plain = text.trim();
  if (/^\d{1,2}$/.test(plain)) return Number(plain) <= 23 ? Number(plain) * 3_600_000 : undefined;
  const match = ONLY_CLOCK.exec(plain);
  return match === null ? undefined : clockOf(match.slice(1, 5));
}

function readOrder(
  first: number,
  second: number,
  fixed: DateOrder | undefined,
  stated: DateOrder | undefined,
): DateOrder | { readonly why: () => string } {
  if (fixed !== undefined) return fixed;
  if (stated !== undefined) {
    const month = stated === 'dmy' ? second : first;
    return month > 12
      ? {
          why: () => say('table-reading.no-month', { month: String(month), order: stated }),
        }
      : stated;
  }
  if (first > 12) return 'dmy';
  if (second > 12) return 'mdy';
  if (first === second) return 'dmy';
  return { why: () => say('table-reading.either-order') };
}

function join(
  year = '',
  month = '',
  day = '',
  clock: readonly (string | undefined)[] | undefined,
): TimeReading {
  const y = year.length === 2 ? (Number(year) < 80 ? 2000 : 1900) + Number(year) : Number(year);
  const m = Number(month);
  const d = Number(day);
  const wall = Date.UTC(y, m - 1, d);
  const date = new Date(wall);
  if (date.getUTCMonth() !== m - 1 || date.getUTCDate() !== d) return fail(() => say('table-reading.no-day'));
  if (y < FIRST_YEAR || y > LAST_YEAR) return fail(() => say('table-reading.far-year', { year: String(y) }));
  const hasClock = clock?.[0] !== undefined;
  const since = hasClock ? clockOf(clock ?? []) : 0;
  return since === undefined
    ? fail(() => say('table-reading.no-such-time'))
    : { ok: true, wall: wall + since, hasClock };
}

function clockOf([hours = '', minutes = '0', seconds = '0', half]: readonly (string | undefined)[]):
  | number
  | undefined {
  let h = Number(hours);
  const m = Number(minutes);
  const s = Number(seconds);
  if (half !== undefined && half !== '') {
    if (h < 1 || h > 12) return undefined;
    h = (h % 12) + (half.toLowerCase() === 'p' ? 12 : 0);
  }
  if (m > 59 || s > 60 || h > 24 || (h === 24 && (m > 0 || s > 0))) return undefined;
  return Math.min(DAY, (h * 3600 + m * 60 + s) * 1000);
}
