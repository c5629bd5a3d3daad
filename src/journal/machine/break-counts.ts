import type { Kysely } from 'kysely';
import { readInstant } from '../input.js';
import { type Journal, read } from '../store.js';
import type { Tables } from '../tables.js';
import { dayOf, dayStart, hourOf, nextDayStart } from '../time.js';

/** A stretch of time: from (included) to until (excluded), ISO 8601. */
export interface Period {
  readonly from: string;
  readonly until: string;
}

const normal = ({ from, until }: Period): Period => ({
  from: readInstant('period.from', from),
  until: readInstant('period.until', until),
});

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
    const { from, until } = normal(period);
    const counts = new Map<number, number>();
    const add = (rows: readonly { position: number; breaks: number }[]) => {
      for (const { position, breaks } of rows) counts.set(position, (counts.get(position) ?? 0) + breaks);
    };
    const whole = wholeDays(from, until);
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
    for (const edge of edges(from, until, whole))
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

/** Breaks by UTC hour on a frame, hours without breaks left out. The period is widened to whole hours. */
export async function countBreaksByHour(
  journal: Journal,
  frame: string,
  period: Period,
): Promise<{ readonly hour: string; readonly breaks: number }[]> {
  return read(journal, async (db) => {
    const { from, until } = normal(period);
    return db
      .selectFrom('break_hours')
      .select(['hour', 'breaks'])
      .where('frame', '=', frame)
      .where('hour', '>=', hourOf(from))
      .where('hour', '<', hourOf(new Date(Date.parse(until) + 3_599_999).toISOString()))
      .orderBy('hour')
      .execute();
  });
}

/** One day of a frame: breaks and running time. */
export interface FrameDay {
  readonly day: string;
  /** Breaks reported one by one. */
  readonly events: number;
  /** Breaks counted by hand or by the panel, and the rotor-hours they were counted over. */
  readonly countedBreaks: number;
  readonly countedRotorHours: number;
  readonly rotorHours: number;
}

/** Breaks and running time by UTC day on a frame, days without either left out. The period is widened to whole days. */
export async function countFrameDays(journal: Journal, frame: string, period: Period): Promise<FrameDay[]> {
  return read(journal, (db) => loadFrameDays(db, frame, period));
}

/** As {@link countFrameDays}, inside a transaction or not. */
export async function loadFrameDays(db: Kysely<Tables>, frame: string, period: Period): Promise<FrameDay[]> {
  const { from, until } = normal(period);
  const days = new Map<string, FrameDay>();
  const empty = { events: 0, countedBreaks: 0, countedRotorHours: 0, rotorHours: 0 };
  const events = await db
    .selectFrom('break_hours')
    .select(['hour', 'breaks'])
    .where('frame', '=', frame)
    .where('hour', '>=', dayOf(from))
    .where('hour', '<', dayOf(nextDayStart(until)))
    .execute();
  for (const { hour, breaks } of events) {
    const day = dayOf(hour);
    const known = days.get(day) ?? { day, ...empty };
    days.set(day, { ...known, events: known.events + breaks });
  }
  const running = await db
    .selectFrom('running_days')
    .selectAll()
    .where('frame', '=', frame)
    .where('day', '>=', dayOf(from))
    .where('day', '<', dayOf(nextDayStart(until)))
    .execute();
  for (const row of running)
    days.set(row.day, {
      ...(days.get(row.day) ?? { day: row.day, ...empty }),
      countedBreaks: row.counted_breaks,
      countedRotorHours: row.counted_rotor_hours,
      rotorHours: row.rotor_hours,
    });
  return [...days.values()].sort((a, b) => (a.day < b.day ? -1 : 1));
}

/** Breaks and rotor-hours by frame over whole UTC days, for a rate and its comparison. */
export interface FrameRate {
  readonly frame: string;
  readonly count: number;
  readonly rotorHours: number;
  /** Whether single events or counts were used: events where the frame reported any. */
  readonly source: 'events' | 'counts';
}

/** Breaks and rotor-hours of every frame in a period (widened to whole UTC days); frames without hours left out. */
export async function countByFrame(journal: Journal, period: Period): Promise<FrameRate[]> {
  return read(journal, async (db) => {
    const { from, until } = normal(period);
    const running = await db
      .selectFrom('running_days')
      .select('frame')
      .select((eb) => [
        eb.fn.sum<number>('rotor_hours').as('hours'),
        eb.fn.sum<number>('counted_breaks').as('breaks'),
        eb.fn.sum<number>('counted_rotor_hours').as('counted'),
      ])
      .where('day', '>=', dayOf(from))
      .where('day', '<', dayOf(nextDayStart(until)))
      .groupBy('frame')
      .orderBy('frame')
      .execute();
    const events = await db
      .selectFrom('break_hours')
      .select('frame')
      .select((eb) => eb.fn.sum<number>('breaks').as('breaks'))
      .where('hour', '>=', dayOf(from))
      .where('hour', '<', dayOf(nextDayStart(until)))
      .groupBy('frame')
      .execute();
    const byFrame = new Map(events.map((row) => [row.frame, row.breaks]));
    return running
      .map((row): FrameRate => {
        const reported = byFrame.get(row.frame);
        return reported === undefined
          ? { frame: row.frame, count: row.breaks, rotorHours: row.counted, source: 'counts' }
          : { frame: row.frame, count: reported, rotorHours: row.hours, source: 'events' };
      })
      .filter((row) => row.rotorHours > 0);
  });
}

/** The whole UTC days within a period, if any. */
function wholeDays(from: string, until: string): Period | undefined {
  const start = nextDayStart(from);
  const end = dayStart(until);
  return start < end ? { from: start, until: end } : undefined;
}

function edges(from: string, until: string, whole: Period | undefined): Period[] {
  const parts =
    whole === undefined
      ? [{ from, until }]
      : [
          { from, until: whole.from },
          { from: whole.until, until },
        ];
  return parts.filter((part) => part.from < part.until);
}
