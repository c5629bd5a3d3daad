import { type Kysely, sql } from 'kysely';
import type { Tables } from '../tables.js';
import { dayIn, steadyStretches } from '../zone/mill-time.js';
import type { Period } from './period.js';

/** A quarter of an hour, the step in which breaks are summed up, ms. */
export const QUARTER = 900_000;
const QUARTERS_OF_DAY = 96;

/** The quarter of an hour an instant lies in, counted from 1970 in UTC. */
export const quarterOf = (instant: string): number => Math.floor(Date.parse(instant) / QUARTER);

/** The instant at which a quarter begins. */
export const startOfQuarter = (quarter: number): string => new Date(quarter * QUARTER).toISOString();

/**
 * Breaks of a frame in a period by day of a time zone, exact to the millisecond: whole quarters of an hour come from the
 * sums, the rest at both ends from the events.
 */
export async function breaksByDay(
  db: Kysely<Tables>,
  frame: string,
  { from, until }: Period,
  zone: string,
): Promise<Map<string, number>> {
  const days = new Map<string, number>();
  const add = (day: string, breaks: number) => days.set(day, (days.get(day) ?? 0) + breaks);
  const first = Math.ceil(Date.parse(from) / QUARTER);
  const last = Math.floor(Date.parse(until) / QUARTER);
  const whole = first < last;
  const edges: Period[] = whole
    ? [
        { from, until: startOfQuarter(first) },
        { from: startOfQuarter(last), until },
      ]
    : [{ from, until }];
  for (const edge of edges) {
    if (edge.from >= edge.until) continue;
    const events = await db
      .selectFrom('break_events')
      .select('at')
      .where('frame', '=', frame)
      .where('at', '>=', edge.from)
      .where('at', '<', edge.until)
      .execute();
    for (const { at } of events) add(dayIn(at, zone), 1);
  }
  if (!whole) return days;
  const inside = { from: startOfQuarter(first), until: startOfQuarter(last) };
  for (const stretch of steadyStretches(inside, zone)) {
    const ahead = stretch.offsetMinutes / 15;
    const day = sql<number>`(quarter + ${sql.lit(Math.round(ahead))}) / ${sql.lit(QUARTERS_OF_DAY)}`;
    const rows = await db
      .selectFrom('break_quarters')
      .select((eb) => [day.as('day'), eb.fn.sum<number>('breaks').as('breaks')])
      .where('frame', '=', frame)
      .where('quarter', '>=', quarterOf(stretch.from))
      .where('quarter', '<', quarterOf(stretch.until))
      .groupBy(day)
      .execute();
    for (const row of rows) add(new Date(row.day * 86_400_000).toISOString().slice(0, 10), row.breaks);
  }
  return days;
}

/** Breaks of a frame in a period, exact to the millisecond. */
export async function countBreaks(db: Kysely<Tables>, frame: string, period: Period): Promise<number> {
  let sum = 0;
  for (const breaks of (await breaksByDay(db, frame, period, 'UTC')).values()) sum += breaks;
  return sum;
}
