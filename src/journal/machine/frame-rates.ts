import { type Journal, read } from '../store.js';
import { countBreaks } from './break-sums.js';
import { cutPeriod, hoursWithin, type Period, readPeriod } from './period.js';
import { loadWatchedRuns, NO_RUNS, type WatchedRuns } from './watched-runs.js';

/** Breaks and the rotor-hours over which they were noticed, for a rate and its comparison. */
export interface FrameRate {
  readonly frame: string;
  readonly count: number;
  readonly rotorHours: number;
  /** What the breaks come from: single events, counts of whole runs, or some of each. */
  readonly source: 'events' | 'counts' | 'both';
}

/**
 * Breaks and rotor-hours of every frame in a period, frames without hours left out. Only hours in which breaks were
 * noticed stand against them: runs with a count that began in the period, whole, and of the runs in which breaks were
 * reported one by one the share within the period, with the events that fell in it.
 */
export async function countByFrame(journal: Journal, period: Period): Promise<FrameRate[]> {
  const wanted = readPeriod(period);
  return read(journal, async (db) => {
    const frames = (await db.selectFrom('frames').select('id').orderBy('id').execute()).map((row) => row.id);
    const watched = await loadWatchedRuns(db, frames, wanted);
    const counts = await countBreaks(
      db,
      [...watched].flatMap(([frame, { reportedTimes }]) =>
        reportedTimes.flatMap((time) => {
          const inside = cutPeriod(time, wanted);
          return inside === undefined ? [] : [{ frame, ...inside }];
        }),
      ),
    );
    return frames.flatMap((frame) => {
      const rate = rateOf(frame, watched.get(frame) ?? NO_RUNS, counts.get(frame) ?? 0, wanted);
      return rate === undefined ? [] : [rate];
    });
  });
}

function rateOf(
  frame: string,
  { runs, reported }: WatchedRuns,
  reportedBreaks: number,
  period: Period,
): FrameRate | undefined {
  const counted = runs.filter(
    (run) => run.breaks !== null && period.from <= run.from && run.from < period.until,
  );
  const countedBreaks = counted.reduce((sum, run) => sum + (run.breaks ?? 0), 0);
  const countedHours = counted.reduce((sum, run) => sum + run.rotorHours, 0);
  const reportedHours = reported.reduce(
    (sum, run) => sum + (run.rotorHours * hoursWithin(run, period)) / hoursWithin(run, run),
    0,
  );
  const rotorHours = countedHours + reportedHours;
  if (!(rotorHours > 0)) return undefined;
  const source = countedHours === 0 ? 'events' : reportedHours === 0 ? 'counts' : 'both';
  return { frame, count: countedBreaks + reportedBreaks, rotorHours, source };
}
