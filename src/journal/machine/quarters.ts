import { type Kysely, sql } from 'kysely';
import { MOST_ROWS, valueRows } from '../engines/value-rows.js';
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

/** Breaks of a day; `watched`: those in the stretches of time that were asked for so. */
export interface DayBreaks {
  readonly day: string;
  readonly watched: boolean;
  readonly breaks: number;
}

/**
 * Breaks of a frame by day of a time zone in some stretches of time, which must not overlap, exact to the millisecond:
 * whole quarters of an hour come from the sums, the rest at both ends from the events. Two questions, however many
 * stretches there are. A day may come in several parts.
 */
export async function breaksByDay(
  db: Kysely<Tables>,
  frame: string,
  times: readonly (Period & { readonly watched: boolean })[],
  zone: string,
): Promise<DayBreaks[]> {
  const days: DayBreaks[] = [];
  const quarters: (readonly [low: number, high: number, ahead: number, watched: number])[] = [];
  const events: (readonly [low: string, high: string, watched: number])[] = [];
  for (const { watched, ...period } of times) {
    const { whole, edges } = splitPeriod(period);
    for (const edge of edges) events.push([edge.from, edge.until, watched ? 1 : 0]);
    if (whole === undefined) continue;
    const inside = { from: startOfQuarter(whole.first), until: startOfQuarter(whole.end) };
    for (const stretch of steadyStretches(inside, zone))
      quarters.push([
        quarterOf(stretch.from),
        quarterOf(stretch.until),
        Math.round(stretch.offsetMinutes / 15),
        watched ? 1 : 0,
      ]);
  }
  for (let start = 0; start < quarters.length; start += MOST_ROWS) {
    const { rows } = await sql<{ day: number; watched: number; breaks: number }>`
      with parts (low, high, ahead, watched) as (${valueRows(quarters.slice(start, start + MOST_ROWS))})
      select (quarter + ahead) / ${sql.lit(QUARTERS_OF_DAY)} as day, watched, sum(breaks) as breaks
      from parts cross join break_quarters
      where frame = ${frame} and quarter >= low and quarter < high group by 1, 2`.execute(db);
    for (const row of rows)
      days.push({
        day: new Date(row.day * 86_400_000).toISOString().slice(0, 10),
        watched: row.watched === 1,
        breaks: row.breaks,
      });
  }
  for (let start = 0; start < events.length; start += MOST_ROWS) {
    const { rows } = await sql<{ at: string; watched: number }>`
      with parts (low, high, watched) as (${valueRows(events.slice(start, start + MOST_ROWS))})
      select at, watched from parts cross join break_events
      where frame = ${frame} and at >= low and at < high`.execute(db);
    for (const { at, watched } of rows)
      days.push({ day: dayIn(at, zone), watched: watched === 1, breaks: 1 });
  }
  return days;
}
