import { translateError } from '../engines/translate-error.js';
import { JournalError } from '../errors.js';
import { type Journal, storeOf } from '../store.js';
import type { Moved } from './export.js';
import { makeRoom } from './make-room.js';
import { refreshStatistics } from './refresh-statistics.js';
import { countRows, differingCounts, putRows, rowPages, TABLE_NAMES } from './row-pages.js';
import { readSnapshot } from './snapshot.js';

/**
 * Copies a journal as it is at one moment into another, empty one (SQLite to PostgreSQL, or back), all of it or nothing,
 * and checks that every table holds as many rows. The source stays as it is; stop writing to it before, so that
 * nothing is written behind the copy.
 * @throws JournalError `refused` when the target is not empty
 */
export async function moveJournal(from: Journal, to: Journal): Promise<Moved> {
  const target = storeOf(to);
  return readSnapshot(from, async (source) => {
    const expected = await countRows(source);
    try {
      const moved = await target.db.transaction().execute(async (trx) => {
        await makeRoom(trx, target.place);
        for (const table of TABLE_NAMES)
          for await (const page of rowPages(source, table)) await putRows(trx, table, page);
        const rows = await countRows(trx);
        const wrong = differingCounts(expected, rows);
        if (wrong.length > 0)
          throw new JournalError(
            'corrupt',
            `The copy is not complete (${wrong.join(', ')}), so nothing was kept.`,
          );
        return { rows, total: Object.values(rows).reduce((total, count) => total + count, 0) };
      });
      await refreshStatistics(target);
      return moved;
    } catch (error) {
      throw translateError(error, target.place);
    }
  });
}
