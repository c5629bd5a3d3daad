import { type Kysely, sql } from 'kysely';
import { MOST_ROWS, valueRows } from '../engines/value-rows.js';
import type { Tables } from '../tables.js';
import { dayOf, dayStart } from '../time.js';
import { hoursWithin, type Period, wholeDays } from './period.js';

/** A run is at most this long, so one that touches a day begins at most so long before it. */
const LONGEST_RUN = 31 * 86_400_000;

/**
 * Hours a frame had run by each of some moments, since it was first known to run, to the moment: whole UTC days come from
 * the sums, the part of the day in question from the runs that touch it. A run goes on evenly from its beginning to its end.
 * @param moments as the journal keeps times
 */
export async function loadHoursRun(
  db: Kysely<Tables>,
  frame: string,
  moments: readonly string[],
): Promise<(moment: string) => number> {
  const wanted = [...new Set(moments)].sort();
  const days = await db
    .selectFrom('running_days')
    .select(['day', 'frame_hours'])
    .where('frame', '=', frame)
    .where('day', '<', dayOf(wanted.at(-1) ?? ''))
    .orderBy('day')
    .execute();
  const partly = await loadPartDays(db, frame, wanted);
  const hours = new Map<string, number>();
  let whole = 0;
  let next = 0;
  for (const moment of wanted) {
    for (let day = days[next]; day !== undefined && day.day < dayOf(moment); day = days[++next])
      whole += day.frame_hours;
    hours.set(moment, whole + (partly.get(moment) ?? 0));
  }
  return (moment) => hours.get(moment) ?? 0;
}

/** Hours run from the beginning of the UTC day of each moment to the moment, those without left out. */
async function loadPartDays(
  db: Kysely<Tables>,
  frame: string,
  moments: readonly string[],
): Promise<Map<string, number>> {
  const hours = new Map<string, number>();
  for (let start = 0; start < moments.length; start += MOST_ROWS) {
    const rows = moments
      .slice(start, start + MOST_ROWS)
      .map((moment) => ({ moment, day: dayStart(moment) }))
      .filter(({ moment, day }) => day < moment)
      .map(({ moment, day }) => {
        const earliest = new Date(Date.parse(day) - LONGEST_RUN).toISOString();
        return [moment, day, earliest];
      });
    if (rows.length === 0) continue;
    const { rows: runs } = await sql<{
      moment: string;
      day: string;
      from_at: string;
      until_at: string;
      frame_hours: number;
    }>`with moments (moment, day, earliest) as (${valueRows(rows)})
      select moment, day, from_at, until_at, frame_hours from moments
      cross join runs where frame = ${frame} and from_at > earliest and from_at < moment and until_at > day`.execute(
      db,
    );
    for (const { moment, day, from_at, until_at, frame_hours } of runs) {
      const run = { from: from_at, until: until_at };
      const share = hoursWithin(run, { from: day, until: moment }) / hoursWithin(run, run);
      hours.set(moment, (hours.get(moment) ?? 0) + frame_hours * share);
    }
  }
  return hours;
}

/** Beginning and end of all times, as the journal keeps times. */
const EVER: Period = { from: '0000-01-01T00:00:00.000Z', until: '9999-12-31T00:00:00.000Z' };

/** Rotor-hours of each frame in a period, to the moment as {@link loadHoursRun} has it. A frame that did not run is left out. */
export async function sumRotorHours(
  db: Kysely<Tables>,
  period: Partial<Period>,
): Promise<Map<string, number>> {
  const hours = new Map<string, number>();
  const add = (frame: string, rotorHours: number) => hours.set(frame, (hours.get(frame) ?? 0) + rotorHours);
  const { whole, edges } = wholeDays({ ...EVER, ...period });
  if (whole !== undefined)
    for (const row of await db
      .selectFrom('running_days')
      .select((eb) => ['frame', eb.fn.sum<number>('rotor_hours').as('hours')])
      .where('day', '>=', dayOf(whole.from))
      .where('day', '<', dayOf(whole.until))
      .groupBy('frame')
      .execute())
      add(row.frame, row.hours);
  for (const edge of edges)
    for (const row of await db
      .selectFrom('runs')
      .select(['frame', 'from_at', 'until_at', 'rotor_hours'])
      .where('from_at', '>', new Date(Date.parse(edge.from) - LONGEST_RUN).toISOString())
      .where('from_at', '<', edge.until)
      .where('until_at', '>', edge.from)
      .execute()) {
      const run = { from: row.from_at, until: row.until_at };
      add(row.frame, (row.rotor_hours * hoursWithin(run, edge)) / hoursWithin(run, run));
    }
  return new Map([...hours].filter(([, sum]) => sum > 0));
}
