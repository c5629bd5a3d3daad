import { CASE_COLUMNS, type CaseRecord, toCase } from '../cases/case-rows.js';
import { readInstant } from '../input.js';
import { type FrameDay, loadFrameDays } from '../machine/frame-days.js';
import type { Period } from '../machine/period.js';
import { loadFrame } from '../mill/frames.js';
import { loadSetups, type SetupRecord } from '../mill/setups.js';
import { type Journal, read } from '../store.js';
import { readMillZone } from '../zone/mill-zone.js';

/** Everything that happened on a frame in a period, newest first; days oldest first. */
export interface FrameHistory {
  readonly frame: string;
  readonly setups: readonly SetupRecord[];
  /** Cases opened in the period, at most 200. */
  readonly cases: readonly CaseRecord[];
  readonly complaints: readonly {
    readonly id: string;
    readonly receivedAt: string;
    readonly customer: string;
    readonly fabricFault: string;
    readonly state: string;
  }[];
  readonly days: readonly FrameDay[];
}

const MOST_CASES = 200;

/** The history of a frame: setups, cases, complaints, breaks and hours by day. @throws JournalError `not-found` */
export async function findFrameHistory(
  journal: Journal,
  frame: string,
  period: Period,
): Promise<FrameHistory> {
  const from = readInstant('period.from', period.from);
  const until = readInstant('period.until', period.until);
  const zone = await readMillZone(journal);
  return read(journal, async (db) => {
    await loadFrame(db, frame);
    const setups = await loadSetups(db, frame, { from, until });
    const cases = await db
      .selectFrom('cases')
      .select(CASE_COLUMNS)
      .where('frame', '=', frame)
      .where('opened_at', '>=', from)
      .where('opened_at', '<', until)
      .orderBy('opened_at', 'desc')
      .orderBy('id', 'desc')
      .limit(MOST_CASES)
      .execute();
    const complaints = await db
      .selectFrom('complaint_frames')
      .innerJoin('complaints', 'complaints.id', 'complaint_frames.complaint')
      .select(['id', 'received_at as receivedAt', 'customer', 'fabric_fault as fabricFault', 'state'])
      .where('complaint_frames.frame', '=', frame)
      .where('received_at', '>=', from)
      .where('received_at', '<', until)
      .orderBy('received_at', 'desc')
      .orderBy('id', 'desc')
      .execute();
    const days = await loadFrameDays(db, frame, { from, until }, zone);
    return { frame, setups, cases: cases.map(toCase), complaints, days };
  });
}
