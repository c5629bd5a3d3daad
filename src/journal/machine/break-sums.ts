import { type Kysely, type RawBuilder, sql } from 'kysely';
import { MOST_ROWS, valueRows } from '../engines/value-rows.js';
import type { Tables } from '../tables.js';
import { dayOf } from '../time.js';
import { type Period, wholeDays } from './period.js';
import { splitPeriod } from './quarters.js';

/** A stretch of time on a frame. */
export interface FrameTime extends Period {
  readonly frame: string;
}

type Part = readonly [frame: string, low: string | number, high: string | number];

/**
 * Breaks of each frame in some stretches of time, which must not overlap, exact to the millisecond: whole UTC days come
 * from the sums by day, what is left at both ends from those by quarter of an hour, and what is left of these from the
 * events. Three questions, however many stretches there are. A frame without breaks is left out.
 */
export async function countBreaks(
  db: Kysely<Tables>,
  times: readonly FrameTime[],
): Promise<Map<string, number>> {
  const days: Part[] = [];
  const quarters: Part[] = [];
  const events: Part[] = [];
  for (const { frame, ...period } of times) {
    const { whole, edges } = wholeDays(period);
    if (whole !== undefined) days.push([frame, dayOf(whole.from), dayOf(whole.until)]);
    for (const edge of edges) {
      const split = splitPeriod(edge);
      if (split.whole !== undefined) quarters.push([frame, split.whole.first, split.whole.end]);
      for (const end of split.edges) events.push([frame, end.from, end.until]);
    }
  }
  const counts = new Map<string, number>();
  const add = async (parts: readonly Part[], sum: RawBuilder<unknown>, table: string, column: string) => {
    for (let start = 0; start < parts.length; start += MOST_ROWS) {
      const { rows } = await sql<{ frame: string; breaks: number }>`
        with parts (part_frame, low, high) as (${valueRows(parts.slice(start, start + MOST_ROWS))})
        select frame, ${sum} as breaks from parts cross join ${sql.table(table)}
        where frame = part_frame and ${sql.ref(column)} >= low and ${sql.ref(column)} < high
        group by frame`.execute(db);
      for (const { frame, breaks } of rows) counts.set(frame, (counts.get(frame) ?? 0) + breaks);
    }
  };
  await add(days, sql`sum(breaks)`, 'break_totals', 'day');
  await add(quarters, sql`sum(breaks)`, 'break_quarters', 'quarter');
  await add(events, sql`count(*)`, 'break_events', 'at');
  return counts;
}
