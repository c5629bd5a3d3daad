import type { Kysely } from 'kysely';
import { loadSpinningWindows, type SpinningWindow } from '../mill/spinning-windows.js';
import { type Journal, read } from '../store.js';
import type { Tables } from '../tables.js';

/** What a complaint probably hangs on. */
export interface LikelyLinks {
  /** When and where the lot (or, without a lot, the yarn) was spun. */
  readonly windows: readonly SpinningWindow[];
  readonly spunFrom: string | null;
  readonly spunUntil: string | null;
  readonly frames: readonly string[];
  /** Cases on those frames that were open in the window, and cases on the lot itself. */
  readonly cases: readonly string[];
}

interface Wanted {
  readonly lot: string | null;
  readonly yarn: string | null;
  readonly spunFrom: string | null;
  readonly spunUntil: string | null;
}

/** Frames and cases in the window in which a lot or yarn was spun, from the setup history. */
export async function findLikelyLinks(journal: Journal, wanted: Wanted): Promise<LikelyLinks> {
  return read(journal, (db) => loadLikelyLinks(db, wanted));
}

/** As {@link findLikelyLinks}, inside a transaction or not. */
export async function loadLikelyLinks(db: Kysely<Tables>, wanted: Wanted): Promise<LikelyLinks> {
  const windows = await loadSpinningWindows(db, {
    lot: wanted.lot,
    yarn: wanted.yarn,
    from: wanted.spunFrom,
    until: wanted.spunUntil,
  });
  const cases = new Set<string>();
  for (const window of windows) {
    const from = later(window.from, wanted.spunFrom);
    const until = earlier(window.until, wanted.spunUntil);
    let query = db
      .selectFrom('cases')
      .select('id')
      .where('frame', '=', window.frame)
      .where((eb) => eb.or([eb('closed_at', 'is', null), eb('closed_at', '>=', from)]));
    if (until !== null) query = query.where('opened_at', '<', until);
    for (const { id } of await query.execute()) cases.add(id);
  }
  if (wanted.lot !== null)
    for (const { id } of await db.selectFrom('cases').select('id').where('lot', '=', wanted.lot).execute())
      cases.add(id);
  const ends = windows.map((window) => window.until);
  return {
    windows,
    spunFrom: wanted.spunFrom ?? windows[0]?.from ?? null,
    spunUntil: wanted.spunUntil ?? (ends.includes(null) ? null : (ends.sort().at(-1) ?? null)),
    frames: [...new Set(windows.map((window) => window.frame))].sort(),
    cases: [...cases].sort(),
  };
}

const later = (a: string, b: string | null): string => (b !== null && b > a ? b : a);
const earlier = (a: string | null, b: string | null): string | null =>
  a === null ? b : b === null ? a : a < b ? a : b;
