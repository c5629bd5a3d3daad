/** Times of the journal for reading and typing: in the time zone of the mill, as its clocks show it. */

import {
  dayIn,
  endOfDay,
  monthsEarlier,
  readWallClock,
  startOfNextDay,
  type WallTime,
  wallClock,
} from '../../../journal/index.js';
import { sayTime } from '../../../language/numbers.js';
import { millZone } from '../../journal/mill-clock.js';

const MOMENT = {
  day: 'numeric',
  month: 'short',
  year: 'numeric',
  hour: '2-digit',
  minute: '2-digit',
} as const;
const DAY = { day: 'numeric', month: 'short', year: 'numeric' } as const;
const LONG_DAY = { day: 'numeric', month: 'long', year: 'numeric' } as const;

const format = (options: Intl.DateTimeFormatOptions, timeZone: string, instant: string): string =>
  sayTime(new Date(instant), { ...options, timeZone });

/** "24 Nov 2026, 08:46". */
export const sayMoment = (instant: string) => format(MOMENT, millZone(), instant);
/** "24 Nov 2026". */
export const sayDay = (instant: string) => format(DAY, millZone(), instant);
/** "24 November 2026", for letters. */
export const sayLongDay = (instant: string) => format(LONG_DAY, millZone(), instant);
/** A day of the calendar, `2026-11-24`, as "24 Nov 2026": the same in every zone. */
export const sayDate = (day: string) => format(DAY, 'UTC', `${day}T12:00:00Z`);

/** For a control that takes a day and a time: "2026-11-24T08:46". */
export const typedMoment = (instant: string): string => wallClock(instant, millZone());

/** For a control that takes a day, and for grouping by day: "2026-11-24". */
export const typedDay = (instant: string): string => dayIn(instant, millZone());

/** Reads what such a control sends, or what is typed in the same form, and says what is wrong with it. */
export const readWall = (text: string): WallTime => readWallClock(text, millZone());

/** As {@link readWall}; undefined when it is no time. */
export function readMoment(text: string): string | undefined {
  const wall = readWall(text);
  return wall.kind === 'instant' ? wall.instant : undefined;
}

/** The first instant of the day after that of an instant. */
export const nextDay = (instant: string): string => startOfNextDay(instant, millZone());

/** The last instant of the day of an instant. */
export const lastOfDay = (instant: string): string => endOfDay(instant, millZone());

/** The instant so many months before another; the day is kept where the month has it. */
export const monthsBefore = (instant: string, months: number): string =>
  monthsEarlier(instant, months, millZone());
