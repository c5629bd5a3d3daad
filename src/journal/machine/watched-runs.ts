import type { Kysely } from 'kysely';
import type { Tables } from '../tables.js';
import { mergePeriods, type Period } from './period.js';

/** A time in which a frame ran. */
export interface Run extends Period {
  readonly rotorHours: number;
  /** Breaks counted over the whole of it; null where each break is reported as an event. */
  readonly breaks: number | null;
}

/** The running of a frame that breaks can be held against. */
export interface WatchedRuns {
  /** All that touch the period, oldest first. */
  readonly runs: readonly Run[];
  /** Those without a count while the frame reported its breaks one by one. */
  readonly reported: readonly Run[];
  /** The times those cover, neighbours taken together. */
  readonly reportedTimes: readonly Period[];
}

/** A run is at most this long, so one that touches a period begins at most so long before it. */
const LONGEST_RUN = 31 * 86_400_000;

/**
 * The runs of a frame that touch a period. A run without a count is held against the events; but a frame that does not
 * report events, not yet or no longer, is not one without breaks: its runs count from the one in which the first known
 * event lies to the one with the last.
 */
export async function loadWatchedRuns(
  db: Kysely<Tables>,
  frame: string,
  period: Period,
): Promise<WatchedRuns> {
  const rows = await db
    .selectFrom('runs')
    .select(['from_at', 'until_at', 'rotor_hours', 'breaks'])
    .where('frame', '=', frame)
    .where('from_at', '>', new Date(Date.parse(period.from) - LONGEST_RUN).toISOString())
    .where('from_at', '<', period.until)
    .where('until_at', '>', period.from)
    .orderBy('from_at')
    .execute();
  const runs = rows.map(
    (row): Run => ({
      from: row.from_at,
      until: row.until_at,
      rotorHours: row.rotor_hours,
      breaks: row.breaks,
    }),
  );
  // One question for each end: both are then found without reading what lies between.
  const end = async (direction: 'asc' | 'desc') =>
    (
      await db
        .selectFrom('break_events')
        .select('at')
        .where('frame', '=', frame)
        .orderBy('at', direction)
        .limit(1)
        .executeTakeFirst()
    )?.at;
  const first = await end('asc');
  const last = await end('desc');
  const reported =
    first === undefined || last === undefined
      ? []
      : runs.filter((run) => run.breaks === null && run.until > first && run.from <= last);
  return { runs, reported, reportedTimes: mergePeriods(reported) };
}
