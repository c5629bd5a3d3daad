import type { Kysely } from 'kysely';
import { type Journal, read } from '../store.js';
import type { Tables } from '../tables.js';
import { daysOf, type MillDay } from '../zone/mill-time.js';
import { readMillZone } from '../zone/mill-zone.js';
import { cutPeriod, hoursWithin, type Period, readPeriod } from './period.js';
import { breaksByDay } from './quarters.js';
import { loadWatchedRuns, NO_RUNS, type Run } from './watched-runs.js';

/** One day of a frame: breaks and running time. */
export interface FrameDay {
  /** The day by the mill's clocks: `2026-03-02`. It has 23 or 25 hours when clocks are put forward or back. */
  readonly day: string;
  /** Breaks reported one by one. */
  readonly events: number;
  /** Breaks counted by hand or by the panel, and the rotor-hours they were counted over, of the runs begun on the day. */
  readonly countedBreaks: number;
  readonly countedRotorHours: number;
  /** Rotor-hours run within the day, counted or not. */
  readonly rotorHours: number;
  /**
   * For a rate: breaks and just those rotor-hours over which they were noticed. A run with a count stands whole on the
   * day on which it began; of the others the share within the day, with the events that fell in it.
   */
  readonly rateBreaks: number;
  readonly rateRotorHours: number;
}

/** Breaks and running time by day of the mill on a frame, days without either left out. The period is widened to whole days. */
export async function countFrameDays(journal: Journal, frame: string, period: Period): Promise<FrameDay[]> {
  const zone = await readMillZone(journal);
  return read(journal, (db) => loadFrameDays(db, frame, period, zone));
}

/** As {@link countFrameDays}, inside a transaction or not. */
export async function loadFrameDays(
  db: Kysely<Tables>,
  frame: string,
  period: Period,
  zone: string,
): Promise<FrameDay[]> {
  const slots = daysOf(readPeriod(period), zone);
  const [first] = slots;
  const last = slots.at(-1);
  if (first === undefined || last === undefined) return [];
  const wide = { from: first.from, until: last.until };
  const days = new Map<string, Counted>();
  const at = (day: string): Counted => {
    const known = days.get(day) ?? emptyDay(day);
    days.set(day, known);
    return known;
  };
  const { runs, reported, reportedTimes } = (await loadWatchedRuns(db, [frame], wide)).get(frame) ?? NO_RUNS;
  for (const run of runs) {
    for (const { slot, share } of sharesOf(run, slots)) at(slot.day).rotorHours += run.rotorHours * share;
    const begun = run.breaks === null ? undefined : slots.find((slot) => within(run.from, slot));
    if (begun === undefined) continue;
    const day = at(begun.day);
    day.countedBreaks += run.breaks ?? 0;
    day.countedRotorHours += run.rotorHours;
    day.rateBreaks += run.breaks ?? 0;
    day.rateRotorHours += run.rotorHours;
  }
  for (const run of reported)
    for (const { slot, share } of sharesOf(run, slots)) at(slot.day).rateRotorHours += run.rotorHours * share;
  for (const { day, watched, breaks } of await breaksByDay(db, frame, cutInto(wide, reportedTimes), zone)) {
    at(day).events += breaks;
    if (watched) at(day).rateBreaks += breaks;
  }
  return [...days.values()].sort((a, b) => (a.day < b.day ? -1 : 1));
}

/** A period in stretches: those of the reported times within it, watched, and those between. */
function cutInto(wide: Period, reported: readonly Period[]): (Period & { readonly watched: boolean })[] {
  const stretches = [];
  let { from } = wide;
  for (const time of reported) {
    const inside = cutPeriod(time, wide);
    if (inside === undefined) continue;
    stretches.push({ from, until: inside.from, watched: false }, { ...inside, watched: true });
    from = inside.until;
  }
  stretches.push({ from, until: wide.until, watched: false });
  return stretches.filter((stretch) => stretch.from < stretch.until);
}

type Counted = { -readonly [K in keyof FrameDay]: FrameDay[K] };

const emptyDay = (day: string): Counted => ({
  day,
  events: 0,
  countedBreaks: 0,
  countedRotorHours: 0,
  rotorHours: 0,
  rateBreaks: 0,
  rateRotorHours: 0,
});

const within = (instant: string, slot: Period): boolean => slot.from <= instant && instant < slot.until;

/** The days a run touches, with the share of it that lies in each. */
function sharesOf(run: Run, slots: readonly MillDay[]): { readonly slot: MillDay; readonly share: number }[] {
  const hours = hoursWithin(run, run);
  // Days are 23 hours or longer, so the day of the start is found without looking through all of them.
  const guess = Math.floor((Date.parse(run.from) - Date.parse(slots[0]?.from ?? run.from)) / 90_000_000) - 1;
  const shares: { slot: MillDay; share: number }[] = [];
  for (let n = Math.max(0, guess); n < slots.length; n++) {
    const slot = slots[n];
    if (slot === undefined || slot.from >= run.until) break;
    const share = hoursWithin(run, slot) / hours;
    if (share > 0) shares.push({ slot, share });
  }
  return shares;
}
