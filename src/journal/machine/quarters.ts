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

/** The whole quarters of an hour within a period, if any, and what is left at its ends. */
export function splitPeriod({ from, until }: Period): {
  readonly whole: { readonly first: number; readonly end: number } | undefined;
  readonly edges: readonly Period[];
} {
  const first = Math.ceil(Date.parse(from) / QUARTER);
  const end = Math.floor(Date.parse(until) / QUARTER);
  if (first >= end) return { whole: undefined, edges: from < until ? [{ from, until }] : [] };
  const edges = [
    { from, until: startOfQuarter(first) },
    { from: startOfQuarter(end), until },
  ];
  return { whole: { first, end }, edges: edges.filter((edge) => edge.from < edge.until) };
}

/**
 * Breaks of a frame in a period by day of a time zone, exact to the millisecond: whole quarters of an hour come from the
 * sums, the rest at both ends from the events.
 */
export async function breaksByDay(
  db: Kysely<Tables>,
  frame: string,
  period: Period,
  zone: string,
): Promise<Map<string, number>> {
  const days = new Map<string, number>();
  const add = (day: string, breaks: number) => days.set(day, (days.get(day) ?? 0) + breaks);
  const { whole, edges } = splitPeriod(period);
  for (const edge of edges) {
    const events = await eventsIn(db, [frame], edge).select('at').execute();
    for (const { at } of events) add(dayIn(at, zone), 1);
  }
  if (whole === undefined) return days;
  const inside = { from: startOfQuarter(whole.first), until: startOfQuarter(whole.end) };
  for (const stretch of steadyStretches(inside, zone)) {
    const ahead = Math.round(stretch.offsetMinutes / 15);
    const day = sql<number>`(quarter + ${sql.lit(ahead)}) / ${sql.lit(QUARTERS_OF_DAY)}`;
    const rows = await quartersIn(db, [frame], quarterOf(stretch.from), quarterOf(stretch.until))
      .select((eb) => [day.as('day'), eb.fn.sum<number>('breaks').as('breaks')])
      .groupBy(day)
      .execute();
    for (const row of rows) add(new Date(row.day * 86_400_000).toISOString().slice(0, 10), row.breaks);
  }
  return days;
}

/** Events of frames in a period. */
export const eventsIn = (db: Kysely<Tables>, frames: readonly string[], { from, until }: Period) =>
  db.selectFrom('break_events').where('frame', 'in', frames).where('at', '>=', from).where('at', '<', until);

/** Sums of frames by quarter of an hour. */
export const quartersIn = (db: Kysely<Tables>, frames: readonly string[], first: number, end: number) =>
  db
    .selectFrom('break_quarters')
    .where('frame', 'in', frames)
    .where('quarter', '>=', first)
    .where('quarter', '<', end);
