import { say } from '../../language/say.js';
import { JournalInputError } from '../errors.js';
import { readInstant } from '../input.js';
import { loadHoursRun } from '../machine/running-hours.js';
import type { LifePart } from '../mill/setups.js';
import { type Journal, read } from '../store.js';
import { daysBefore, presentInstant } from '../time.js';
import { loadPartHours } from './part-hours.js';

/** Expected life of the parts, hours; a part without one is not listed. The caller knows fibre and material. */
export type ExpectedLife = Readonly<Partial<Record<LifePart, number>>>;

/** Positions of a frame whose parts have run equally long. */
export interface Replacement {
  readonly frame: string;
  readonly part: LifePart;
  /** Numbers of the positions, ascending. */
  readonly positions: readonly number[];
  readonly hours: number;
  readonly expectedLife: number;
  /** Share of the expected life that is used; above 1 it is overdue. */
  readonly used: number;
  /** Days until the life is used up, at the running of the last 28 days; null when the frame did not run. */
  readonly daysLeft: number | null;
}

/** Hours a day below which a frame stands: sums of shares of days come out a little above none. */
const STANDING = 1e-6;

/** Days over which the present pace is taken. */
const PACE_DAYS = 28;

/**
 * What is due for replacement, most used first.
 * @param lifeOf the expected life of the parts on a frame, from the fibre it spins
 * @param options `from`: list what has used at least this share of its life (default 0.8); `at`: default now
 */
export async function listReplacements(
  journal: Journal,
  lifeOf: (frame: string) => ExpectedLife | Promise<ExpectedLife>,
  options: { readonly from?: number; readonly at?: string } = {},
): Promise<Replacement[]> {
  const { from = 0.8 } = options;
  const at = readInstant('at', options.at ?? presentInstant());
  const frames = await read(journal, (db) =>
    db.selectFrom('frames').select(['id', 'positions']).where('retired', '=', 0).orderBy('id').execute(),
  );
  const paceFrom = daysBefore(at, PACE_DAYS);
  const list: Replacement[] = [];
  for (const { id, positions } of frames) {
    const life = await lifeOf(id);
    const [parts, hoursRun] = await read(journal, async (db) => [
      await loadPartHours(db, id, positions, at),
      await loadHoursRun(db, id, [paceFrom, at]),
    ]);
    const perDay = (hoursRun(at) - hoursRun(paceFrom)) / PACE_DAYS;
    const groups = new Map<string, Replacement>();
    for (const { part, position, hours } of parts) {
      const expectedLife = life[part];
      if (expectedLife === undefined) continue;
      if (!(expectedLife > 0))
        throw new JournalInputError([
          {
            field: `life of ${part} on ${id}`,
            value: String(expectedLife),
            allowed: say('input.hours-above-0'),
          },
        ]);
      const used = hours / expectedLife;
      if (used < from) continue;
      const key = `${part} ${hours}`;
      const known = groups.get(key);
      groups.set(key, {
        frame: id,
        part,
        positions: [...(known?.positions ?? []), position],
        hours,
        expectedLife,
        used,
        daysLeft: perDay < STANDING ? null : Math.max(0, (expectedLife - hours) / perDay),
      });
    }
    list.push(...groups.values());
  }
  return list.sort((a, b) => b.used - a.used || (a.frame < b.frame ? -1 : 1));
}
