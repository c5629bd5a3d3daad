import { type Entry, entriesOf, notFound } from '../entries.js';
import { type Journal, read } from '../store.js';
import { type ComplaintRecord, toComplaint } from './complaint-rows.js';
import { listPhotosOf, type PhotoRecord } from './photos.js';

/** A complaint with everything that happened to it. */
export interface ComplaintDetail extends ComplaintRecord {
  readonly entries: readonly Entry[];
  readonly photos: readonly PhotoRecord[];
}

/** One complaint with its history and its photos (without their bytes). @throws JournalError `not-found` */
export async function findComplaint(journal: Journal, id: string): Promise<ComplaintDetail> {
  return read(journal, async (db) => {
    const row = await db.selectFrom('complaints').selectAll().where('id', '=', id).executeTakeFirst();
    if (row === undefined) throw notFound('complaint', id);
    const frames = await db
      .selectFrom('complaint_frames')
      .select('frame')
      .where('complaint', '=', id)
      .orderBy('frame')
      .execute();
    const cases = await db
      .selectFrom('complaint_cases')
      .select('case_id')
      .where('complaint', '=', id)
      .orderBy('case_id')
      .execute();
    const entries = await entriesOf(db, 'complaint', id);
    return {
      ...toComplaint(row, {
        frames: frames.map((link) => link.frame),
        cases: cases.map((link) => link.case_id),
      }),
      entries: entries.filter((entry) => entry.version <= row.version),
      photos: await listPhotosOf(db, id),
    };
  });
}
