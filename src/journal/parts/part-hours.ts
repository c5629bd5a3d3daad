import type { Kysely } from 'kysely';
import { readInstant } from '../input.js';
import { loadHoursRun } from '../machine/running-hours.js';
import { loadFrame } from '../mill/frames.js';
import { LIFE_PARTS, type LifePart } from '../mill/setups.js';
import { type Journal, read } from '../store.js';
import type { Tables } from '../tables.js';

/** A part at a position and the hours it has run. */
export interface PartHours {
  readonly frame: string;
  readonly part: LifePart;
  readonly position: number;
  readonly fittedAt: string;
  readonly hours: number;
}

/**
 * Running hours of nozzles, tubes and rotors on a frame at a time: hours at fitting plus the frame's running hours since,
 * to the moment. A position whose fitting was never recorded is left out.
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
  const hoursRun = await loadHoursRun(db, frame, [at, ...[...last.values()].map((fitting) => fitting.at)]);
  const now = hoursRun(at);
  return [...last.values()]
    .map(
      (fitting): PartHours => ({
        frame,
        part: fitting.part as LifePart,
        position: fitting.position,
        fittedAt: fitting.at,
        hours: fitting.hours_at_fitting + Math.max(0, now - hoursRun(fitting.at)),
      }),
    )
    .sort((a, b) => LIFE_PARTS.indexOf(a.part) - LIFE_PARTS.indexOf(b.part) || a.position - b.position);
}
