import type { Kysely } from 'kysely';
import { readInstant } from '../input.js';
import { loadFrame } from '../mill/frames.js';
import { LIFE_PARTS, type LifePart } from '../mill/setups.js';
import { type Journal, read } from '../store.js';
import type { Tables } from '../tables.js';
import { dayOf, dayStart } from '../time.js';

/** A part at a position and the hours it has run. */
export interface PartHours {
  readonly frame: string;
  readonly part: LifePart;
  readonly position: number;
  readonly fittedAt: string;
  readonly hours: number;
}

/**
 * Running hours of nozzles, tubes and rotors on a frame at a time: hours at fitting plus the frame's running hours since.
 * A position whose fitting was never recorded is left out. Running time is kept by UTC day; the day of fitting and the
 * present day count by the share of the day.
 * @throws JournalError `not-found` for the frame
 */
export async function findPartHours(
  journal: Journal,
  frame: string,
  at: string = new Date().toISOString(),
): Promise<PartHours[]> {
  return read(journal, async (db) => {
    const { positions } = await loadFrame(db, frame);
    return loadPartHours(db, frame, positions, readInstant('at', at));
  });
}

/** As {@link findPartHours}, inside a transaction or not. */
export async function loadPartHours(
  db: Kysely<Tables>,
  frame: string,
  positions: number,
  at: string,
): Promise<PartHours[]> {
  const fittings = await db
    .selectFrom('fittings')
    .select(['part', 'position', 'at', 'hours_at_fitting'])
    .where('frame', '=', frame)
    .where('at', '<=', at)
    .orderBy('at')
    .orderBy('setup')
    .execute();
  // The last fitting of each part at each position wins.
  const last = new Map<string, (typeof fittings)[number]>();
  for (const fitting of fittings)
    if (fitting.position <= positions) last.set(`${fitting.part} ${fitting.position}`, fitting);
  const days = await db
    .selectFrom('running_days')
    .select(['day', 'frame_hours'])
    .where('frame', '=', frame)
    .where('day', '<=', dayOf(at))
    .orderBy('day')
    .execute();
  const since = runningSince(days, at);
  const known = new Map<string, number>();
  return [...last.values()]
    .map((fitting): PartHours => {
      const ran = known.get(fitting.at) ?? since(fitting.at);
      known.set(fitting.at, ran);
      return {
        frame,
        part: fitting.part as LifePart,
        position: fitting.position,
        fittedAt: fitting.at,
        hours: fitting.hours_at_fitting + ran,
      };
    })
    .sort((a, b) => LIFE_PARTS.indexOf(a.part) - LIFE_PARTS.indexOf(b.part) || a.position - b.position);
}

/** Running hours from a time to `at`. */
function runningSince(
  days: readonly { readonly day: string; readonly frame_hours: number }[],
  at: string,
): (from: string) => number {
  /** The share of a day's running that lies before an instant. */
  const before = (day: string, hours: number, instant: string): number => {
    const start = Date.parse(`${day}T00:00:00.000Z`);
    return hours * Math.min(1, Math.max(0, (Date.parse(instant) - start) / 86_400_000));
  };
  return (from) => {
    const first = dayOf(dayStart(from));
    let hours = 0;
    for (const { day, frame_hours } of days)
      if (day >= first) hours += before(day, frame_hours, at) - before(day, frame_hours, from);
    return Math.max(0, hours);
  };
}
