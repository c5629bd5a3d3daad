import type { Kysely } from 'kysely';
import { type Journal, read } from '../store.js';
import type { Tables } from '../tables.js';
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
    const counts = await countReported(db, watched, wanted);
    return frames.flatMap((frame) => {
      const rate = rateOf(frame, watched.get(frame) ?? NO_RUNS, counts.get(frame) ?? 0, wanted);
      return rate === undefined ? [] : [rate];
    });
  });
}

/** Breaks in the reported times of each frame, frames with the same times in one question. */
async function countReported(
  db: Kysely<Tables>,
  watched: ReadonlyMap<string, WatchedRuns>,
  period: Period,
): Promise<Map<string, number>> {
  const times = new Map<string, { readonly inside: Period; readonly frames: string[] }>();
  for (const [frame, { reportedTimes }] of watched)
    for (const time of reportedTimes) {
      const inside = cutPeriod(time, period);
      if (inside === undefined) continue;
      const key = `${inside.from} ${inside.until}`;
      const known = times.get(key) ?? { inside, frames: [] };
      known.frames.push(frame);
      times.set(key, known);
    }
  const counts = new Map<string, number>();
  for (const { inside, frames } of times.values())
    for (const [frame, breaks] of await countBreaks(db, frames, inside))
      counts.set(frame, (counts.get(frame) ?? 0) + breaks);
  return counts;
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
