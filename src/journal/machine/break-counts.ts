import { sql } from 'kysely';
import { type Journal, read } from '../store.js';
import { dayOf } from '../time.js';
import { steadyStretches } from '../zone/mill-time.js';
import { readMillZone } from '../zone/mill-zone.js';
import { type Period, readPeriod, wholeDays } from './period.js';
import { QUARTER, quarterOf, startOfQuarter } from './quarters.js';

/**
 * Breaks by position on a frame in a period, positions without breaks left out, by number. Whole days come from the
 * sums, the rest of the first and last day from the events, so that any period is exact and a year is quick.
 */
export async function countBreaksByPosition(
  journal: Journal,
  frame: string,
  period: Period,
): Promise<{ readonly position: number; readonly breaks: number }[]> {
  return read(journal, async (db) => {
    const counts = new Map<number, number>();
    const add = (rows: readonly { position: number; breaks: number }[]) => {
      for (const { position, breaks } of rows) counts.set(position, (counts.get(position) ?? 0) + breaks);
    };
    const { whole, edges } = wholeDays(readPeriod(period));
    if (whole !== undefined) {
      add(
        await db
          .selectFrom('break_days')
          .select(['position'])
          .select((eb) => eb.fn.sum<number>('breaks').as('breaks'))
          .where('frame', '=', frame)
          .where('day', '>=', dayOf(whole.from))
          .where('day', '<', dayOf(whole.until))
          .groupBy('position')
          .execute(),
      );
    }
    for (const edge of edges)
      add(
        await db
          .selectFrom('break_events')
          .select(['position'])
          .select((eb) => eb.fn.countAll<number>().as('breaks'))
          .where('frame', '=', frame)
          .where('at', '>=', edge.from)
          .where('at', '<', edge.until)
          .groupBy('position')
          .execute(),
      );
    return [...counts]
      .map(([position, breaks]) => ({ position, breaks }))
      .sort((a, b) => a.position - b.position);
  });
}

/**
 * Breaks by hour of the mill's clocks on a frame, hours without breaks left out; an hour is named by its first instant.
 * The period is widened to whole hours.
 */
export async function countBreaksByHour(
  journal: Journal,
  frame: string,
  period: Period,
): Promise<{ readonly hour: string; readonly breaks: number }[]> {
  const zone = await readMillZone(journal);
  return read(journal, async (db) => {
    const { from, until } = readPeriod(period);
    const hours: { hour: string; breaks: number }[] = [];
    const stretches = steadyStretches({ from, until }, zone);
    for (const [n, stretch] of stretches.entries()) {
      // Quarters by which the hours of the mill begin earlier than those of UTC.
      const shift = (((stretch.offsetMinutes / 15) % 4) + 4) % 4;
      const hour = sql<number>`(quarter + ${sql.lit(shift)}) / 4`;
      // Only the ends of the period are widened: what lies at a change of the clocks belongs to one side of it.
      const wide = {
        from: n === 0 ? hourStart(stretch.from, shift) : quarterOf(stretch.from),
        until: n === stretches.length - 1 ? hourEnd(stretch.until, shift) : quarterOf(stretch.until),
      };
      const rows = await db
        .selectFrom('break_quarters')
        .select((eb) => [hour.as('hour'), eb.fn.sum<number>('breaks').as('breaks')])
        .where('frame', '=', frame)
        .where('quarter', '>=', wide.from)
        .where('quarter', '<', wide.until)
        .groupBy(hour)
        .orderBy(hour)
        .execute();
      for (const row of rows) hours.push({ hour: startOfQuarter(row.hour * 4 - shift), breaks: row.breaks });
    }
    return hours;
  });
}

const hourStart = (instant: string, shift: number): number =>
  Math.floor((quarterOf(instant) + shift) / 4) * 4 - shift;
const hourEnd = (instant: string, shift: number): number =>
  Math.ceil((Math.ceil(Date.parse(instant) / QUARTER) + shift) / 4) * 4 - shift;
