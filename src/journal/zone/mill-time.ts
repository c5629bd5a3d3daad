import { DateTime, IANAZone } from 'luxon';

/** The time zone of the machine this program runs on, IANA name. */
export const serverTimeZone = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone || 'UTC';

/** Whether this program knows a time zone of that IANA name (`Europe/Istanbul`, `Asia/Kolkata`, `UTC`). */
export function knowsTimeZone(name: string): boolean {
  if (found.has(name)) return true;
  const known = IANAZone.isValidZone(name);
  if (known) found.add(name);
  return known;
}

/** Those that were asked for and are known: to ask means to set up a calendar, and every page of the journal does. */
const found = new Set<string>();

/** Names of time zones to choose from, by name; `UTC` first. */
export const timeZones = (): readonly string[] => [
  'UTC',
  ...Intl.supportedValuesOf('timeZone').filter((name) => name !== 'UTC'),
];

const DAY = 86_400_000;
const MINUTE = 60_000;

const inZone = (instant: string, zone: string): DateTime => DateTime.fromISO(instant, { zone });
const utc = (time: DateTime): string => iso(time.toMillis());
const iso = (millis: number): string => new Date(millis).toISOString();

/** Offsets at the beginning of UTC days, by zone: asking the zone tables is dear, and a year of days is asked for often. */
const known = new Map<string, Map<number, number>>();
const MOST_KNOWN = 20_000;

function offsetAtDay(zone: string, day: number): number {
  let ofZone = known.get(zone);
  if (ofZone === undefined || ofZone.size > MOST_KNOWN) {
    ofZone = new Map();
    known.set(zone, ofZone);
  }
  let offset = ofZone.get(day);
  if (offset === undefined) {
    offset = DateTime.fromMillis(day * DAY, { zone }).offset;
    ofZone.set(day, offset);
  }
  return offset;
}

/** Offset in minutes. A day that begins and ends with the same offset has it throughout. */
function offsetAt(zone: string, millis: number): number {
  const day = Math.floor(millis / DAY);
  const start = offsetAtDay(zone, day);
  return start === offsetAtDay(zone, day + 1) ? start : DateTime.fromMillis(millis, { zone }).offset;
}

/** How far the clocks of a zone are ahead of UTC at an instant, minutes. */
export const offsetMinutes = (instant: string, zone: string): number => offsetAt(zone, Date.parse(instant));

/** The calendar day of an instant in a zone: `2026-03-02`. */
export function dayIn(instant: string, zone: string): string {
  const millis = Date.parse(instant);
  return iso(millis + offsetAt(zone, millis) * MINUTE).slice(0, 10);
}

/** The first instant of the day that an instant lies in. Where midnight is skipped, the day begins at the next time there is. */
export const startOfDay = (instant: string, zone: string): string =>
  utc(inZone(instant, zone).startOf('day'));

/** The first instant of the next day: 23, 24 or 25 hours after that of the day. */
export const startOfNextDay = (instant: string, zone: string): string =>
  utc(inZone(instant, zone).startOf('day').plus({ days: 1 }).startOf('day'));

/** The last millisecond of the day that an instant lies in. */
export const endOfDay = (instant: string, zone: string): string =>
  new Date(Date.parse(startOfNextDay(instant, zone)) - 1).toISOString();

/** The instant so many months before another by the calendar of a zone; the day is kept where the month has it. */
export const monthsEarlier = (instant: string, months: number, zone: string): string =>
  utc(inZone(instant, zone).minus({ months }));

/** What the clock on the wall shows at an instant: `2026-11-24T08:46`. */
export const wallClock = (instant: string, zone: string): string =>
  inZone(instant, zone).toFormat("yyyy-MM-dd'T'HH:mm");

/** What a time of the wall clock can be. */
export type WallTime =
  | { readonly kind: 'instant'; readonly instant: string }
  /** No time at all. */
  | { readonly kind: 'no-time' }
  /** The clocks were put forward over it: that day has no such time. */
  | { readonly kind: 'skipped' };

const WALL = /^(\d{4})-(\d\d)-(\d\d)(?:[T ](\d\d):(\d\d)(?::\d\d)?)?$/;

/**
 * The instant at which the clock on the wall shows a time (`2026-11-24 08:46`, `2026-11-24T08:46`) or a day begins
 * (`2026-11-24`). A time that the clock shows twice, when clocks are put back, is taken as the first of the two.
 */
export function readWallClock(text: string, zone: string): WallTime {
  const match = WALL.exec(text.trim());
  if (match === null) return { kind: 'no-time' };
  const [year, month, day, hour, minute] = match.slice(1).map((part) => Number(part ?? 0)) as [
    number,
    number,
    number,
    number,
    number,
  ];
  if (hour > 23 || !DateTime.utc(year, month, day, hour, minute).isValid) return { kind: 'no-time' };
  const whole = match[4] === undefined;
  const at = DateTime.fromObject({ year, month, day, hour, minute }, { zone });
  const start = whole ? at.startOf('day') : at;
  if (start.day !== day || (!whole && (start.hour !== hour || start.minute !== minute)))
    return { kind: 'skipped' };
  const [first] = start.getPossibleOffsets();
  return { kind: 'instant', instant: utc(first ?? start) };
}

/** A day of the mill: its name and its bounds, from included and until excluded. */
export interface MillDay {
  readonly day: string;
  readonly from: string;
  readonly until: string;
}

/** The days of a zone that a period touches, oldest first; none for an empty period. */
export function daysOf(period: { readonly from: string; readonly until: string }, zone: string): MillDay[] {
  const days: MillDay[] = [];
  const end = Date.parse(period.until);
  if (!(Date.parse(period.from) < end)) return days;
  for (let from = startOfDay(period.from, zone); Date.parse(from) < end; ) {
    const until = nextStart(from, zone);
    days.push({ day: dayIn(from, zone), from, until });
    from = until;
  }
  return days;
}

/** The start of the day after one that starts at `from`. */
function nextStart(from: string, zone: string): string {
  const start = Date.parse(from);
  const offset = offsetAt(zone, start);
  const usual = start + DAY;
  const midnight = (start + offset * MINUTE) % DAY === 0;
  return midnight && offsetAt(zone, usual) === offset && offsetAt(zone, usual - 1) === offset
    ? iso(usual)
    : startOfNextDay(from, zone);
}

/** A stretch of time in which the clocks of a zone stay equally far from UTC. */
export interface SteadyStretch {
  readonly from: string;
  readonly until: string;
  readonly offsetMinutes: number;
}

const QUARTER = 900_000;

/** A period cut where the clocks of a zone are put forward or back. */
export function steadyStretches(
  period: { readonly from: string; readonly until: string },
  zone: string,
): SteadyStretch[] {
  const at = (millis: number) => offsetAt(zone, millis);
  const end = Date.parse(period.until);
  const stretches: SteadyStretch[] = [];
  let start = Date.parse(period.from);
  while (start < end) {
    const offset = at(start);
    // Clocks are not put forward and back within a fortnight but for rare decrees (a fasting month); a week is safer.
    let low = start;
    let high = start;
    while (high < end && at(high) === offset) {
      low = high;
      high = Math.min(end, high + 7 * DAY);
      if (high === end) break;
    }
    if (at(high) !== offset) {
      // Clocks change on a quarter of an hour of UTC.
      let before = Math.floor(low / QUARTER);
      let after = Math.ceil(high / QUARTER);
      while (after - before > 1) {
        const middle = Math.floor((before + after) / 2);
        if (at(middle * QUARTER) === offset) before = middle;
        else after = middle;
      }
      high = Math.min(end, after * QUARTER);
    }
    stretches.push({
      from: iso(start),
      until: iso(high),
      offsetMinutes: offset,
    });
    start = high;
  }
  return stretches;
}
