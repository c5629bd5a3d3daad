import type { Kysely } from 'kysely';
import { readInstant } from '../input.js';
import { type Journal, read } from '../store.js';
import type { Tables } from '../tables.js';
import { loadSetups } from './setups.js';

/** A time during which a frame spun a lot or a yarn; `until` is null while it still does. */
export interface SpinningWindow {
  readonly frame: string;
  readonly from: string;
  readonly until: string | null;
  readonly lot: string | null;
  readonly yarn: string | null;
}

/**
 * When and on which frames a lot or yarn was spun, from the setup history: from each entry that names it to the next
 * that names another. Oldest first.
 */
export async function findSpinningWindows(
  journal: Journal,
  what: {
    readonly lot?: string | null;
    readonly yarn?: string | null;
    readonly from?: string | null;
    readonly until?: string | null;
  },
): Promise<SpinningWindow[]> {
  const { from, until } = what;
  return read(journal, (db) =>
    loadSpinningWindows(db, {
      ...what,
      from: typeof from === 'string' ? readInstant('from', from) : null,
      until: typeof until === 'string' ? readInstant('until', until) : null,
    }),
  );
}

/** As {@link findSpinningWindows}, inside a transaction or not. A lot is looked for before a yarn. */
export async function loadSpinningWindows(
  db: Kysely<Tables>,
  what: {
    readonly lot?: string | null;
    readonly yarn?: string | null;
    readonly from?: string | null;
    readonly until?: string | null;
  },
): Promise<SpinningWindow[]> {
  const column = typeof what.lot === 'string' ? 'lot' : 'yarn';
  const wanted = what[column];
  if (typeof wanted !== 'string') return [];
  const frames = await db
    .selectFrom('setups')
    .select('frame')
    .distinct()
    .where(column, '=', wanted)
    .where('superseded_by', 'is', null)
    .where('withdrawn', '=', 0)
    .execute();
  const windows: SpinningWindow[] = [];
  for (const { frame } of frames) {
    const setups = (await loadSetups(db, frame)).reverse();
    setups.forEach((setup, n) => {
      if (setup[column] !== wanted) return;
      const until = setups[n + 1]?.at ?? null;
      const last = windows.at(-1);
      if (last !== undefined && last.frame === frame && last.until === setup.at && last.lot === setup.lot)
        windows[windows.length - 1] = { ...last, until };
      else windows.push({ frame, from: setup.at, until, lot: setup.lot, yarn: setup.yarn });
    });
  }
  return windows
    .filter(
      (window) =>
        (typeof what.from !== 'string' || window.until === null || window.until > what.from) &&
        (typeof what.until !== 'string' || window.from < what.until),
    )
    .sort((a, b) => (a.from === b.from ? (a.frame < b.frame ? -1 : 1) : a.from < b.from ? -1 : 1));
}
