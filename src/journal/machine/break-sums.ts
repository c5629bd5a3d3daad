import type { Kysely } from 'kysely';
import type { Tables } from '../tables.js';
import { dayOf } from '../time.js';
import { type Period, wholeDays } from './period.js';
import { eventsIn, quartersIn, splitPeriod } from './quarters.js';

/**
 * Breaks of each frame in a period, exact to the millisecond: whole UTC days come from the sums by day, what is left at
 * both ends from those by quarter of an hour, and what is left of these from the events. A frame without breaks is left out.
 */
export async function countBreaks(
  db: Kysely<Tables>,
  frames: readonly string[],
  period: Period,
): Promise<Map<string, number>> {
  const counts = new Map<string, number>();
  if (frames.length === 0) return counts;
  const add = (rows: readonly { frame: string; breaks: number }[]) => {
    for (const { frame, breaks } of rows) counts.set(frame, (counts.get(frame) ?? 0) + breaks);
  };
  const { whole, edges } = wholeDays(period);
  if (whole !== undefined)
    add(
      await db
        .selectFrom('break_totals')
        .select((eb) => ['frame', eb.fn.sum<number>('breaks').as('breaks')])
        .where('frame', 'in', frames)
        .where('day', '>=', dayOf(whole.from))
        .where('day', '<', dayOf(whole.until))
        .groupBy('frame')
        .execute(),
    );
  for (const edge of edges) {
    const { whole: quarters, edges: ends } = splitPeriod(edge);
    if (quarters !== undefined)
      add(
        await quartersIn(db, frames, quarters.first, quarters.end)
          .select((eb) => ['frame', eb.fn.sum<number>('breaks').as('breaks')])
          .groupBy('frame')
          .execute(),
      );
    for (const end of ends)
      add(
        await eventsIn(db, frames, end)
          .select((eb) => ['frame', eb.fn.countAll<number>().as('breaks')])
          .groupBy('frame')
          .execute(),
      );
  }
  return counts;
}
