import type { ExpressionBuilder, Kysely } from 'kysely';
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

/** Of a frame that never ran. */
export const NO_RUNS: WatchedRuns = { runs: [], reported: [], reportedTimes: [] };

/** A run is at most this long, so one that touches a period begins at most so long before it. */
const LONGEST_RUN = 31 * 86_400_000;

/**
 * The runs of frames that touch a period. A run without a count is held against the events; but a frame that does not
 * report events, not yet or no longer, is not one without breaks: its runs count from the one in which the first known
 * event lies to the one with the last.
 * @returns by frame, those without runs too
 */
export async function loadWatchedRuns(
  db: Kysely<Tables>,
  frames: readonly string[],
  period: Period,
): Promise<Map<string, WatchedRuns>> {
  if (frames.length === 0) return new Map();
  const rows = await db
    .selectFrom('runs')
    .select(['frame', 'from_at', 'until_at', 'rotor_hours', 'breaks'])
    .where('frame', 'in', frames)
    .where('from_at', '>', new Date(Date.parse(period.from) - LONGEST_RUN).toISOString())
    .where('from_at', '<', period.until)
    .where('until_at', '>', period.from)
    .orderBy('frame')
    .orderBy('from_at')
    .execute();
  const runs = new Map<string, Run[]>(frames.map((frame) => [frame, []]));
  for (const row of rows)
    runs.get(row.frame)?.push({
      from: row.from_at,
      until: row.until_at,
      rotorHours: row.rotor_hours,
      breaks: row.breaks,
    });
  // Both ends are found without reading what lies between.
  const ends = await db
    .selectFrom('frames')
    .select((eb) => ['id', firstEvent(eb, 'asc').as('first'), firstEvent(eb, 'desc').as('last')])
    .where('id', 'in', frames)
    .execute();
  const endsOf = new Map(ends.map((row) => [row.id, row]));
  return new Map(
    [...runs].map(([frame, ofFrame]) => {
      const { first = null, last = null } = endsOf.get(frame) ?? {};
      const reported =
        first === null || last === null
          ? []
          : ofFrame.filter((run) => run.breaks === null && run.until > first && run.from <= last);
      return [frame, { runs: ofFrame, reported, reportedTimes: mergePeriods(reported) }];
    }),
  );
}

/** The time of the first or last event of a frame. */
const firstEvent = (eb: ExpressionBuilder<Tables, 'frames'>, direction: 'asc' | 'desc') =>
  eb
    .selectFrom('break_events')
    .select('at')
    .whereRef('break_events.frame', '=', 'frames.id')
    .orderBy('at', direction)
    .limit(1);
