import { searchText } from '../cases/case-rows.js';
import type { Seen } from '../cases/write-case.js';
import { addEntry, entriesOf, nextNumber, notFound, takeVersion } from '../entries.js';
import { type By, readInput } from '../input.js';
import { requireLinked } from '../mill/linked.js';
import { type Journal, type Writing, write } from '../store.js';
import { loadLikelyLinks } from './complaint-links.js';
import { type ComplaintRecord, complaintRow, toComplaint } from './complaint-rows.js';
import { type ComplaintStanding, replayComplaint } from './replay.js';
import {
  type ComplaintStepInput,
  complaintSchema,
  complaintStepSchema,
  type LoggedStep,
  type NewComplaint,
} from './steps.js';

/**
 * Logs a complaint. Window, frames and cases that are not given are found from the setup history of its lot or yarn.
 * @throws JournalInputError; JournalError `not-found`
 */
export async function logComplaint(
  journal: Journal,
  complaint: NewComplaint,
  by: By,
): Promise<ComplaintRecord> {
  const input = readInput(complaintSchema, complaint, 'complaint');
  return write(journal, by, { logComplaint: input }, async (writing) => {
    const { trx } = writing;
    await requireLinked(trx, { lot: input.lot, yarn: input.yarn });
    const likely = await loadLikelyLinks(trx, input);
    const step: LoggedStep = {
      step: 'logged',
      customer: input.customer,
      fabricFault: input.fabricFault,
      receivedAt: input.receivedAt ?? writing.at,
      claimedKg: input.claimedKg,
      lot: input.lot,
      yarn: input.yarn,
      spunFrom: likely.spunFrom,
      spunUntil: likely.spunUntil,
      frames: input.frames ?? likely.frames,
      cases: input.cases ?? likely.cases,
      note: input.note,
    };
    const number = await nextNumber(writing, 'complaint');
    const id = `complaint-${number}`;
    const entry = await addEntry(writing, 'complaint', id, 1, { step: 'logged', data: step });
    const standing = replayComplaint([entry]);
    await trx
      .insertInto('complaints')
      .values({
        id,
        number,
        version: 1,
        changed_at: writing.recorded,
        search: '',
        ...complaintRow(standing),
      })
      .execute();
    return settleComplaint(writing, id);
  });
}

/**
 * Records a step on a complaint.
 * @throws StaleError when it was changed since the version seen; JournalError `refused` or `not-found`
 */
export async function recordComplaintStep(
  journal: Journal,
  on: Seen,
  step: ComplaintStepInput,
  by: By,
): Promise<ComplaintRecord> {
  const input = readInput(complaintStepSchema, step, 'step');
  return write(journal, by, { recordComplaintStep: input, on }, async (writing) => {
    const version = await takeVersion(writing, 'complaint', on.id, on.seen);
    if (input.step === 'root-cause' && input.case !== null) await requireCases(writing, [input.case]);
    await addEntry(writing, 'complaint', on.id, version, { step: input.step, data: input });
    return settleComplaint(writing, on.id);
  });
}

/** Brings a complaint's row and links in line with its steps, in the same transaction. */
export async function settleComplaint(writing: Writing, id: string): Promise<ComplaintRecord> {
  const { trx, recorded } = writing;
  const entries = await entriesOf(trx, 'complaint', id);
  const standing = replayComplaint(entries);
  await requireLinked(trx, { lot: standing.lot, yarn: standing.yarn });
  const notes = entries.map(({ data }) => data as { note?: string; text?: string; why?: string });
  const row = await trx
    .updateTable('complaints')
    .set({
      ...complaintRow(standing),
      version: entries.at(-1)?.version ?? 0,
      changed_at: recorded,
      search: searchText([
        id,
        standing.customer,
        standing.fabricFault,
        standing.lot,
        standing.yarn,
        standing.rootCause?.cause ?? null,
        ...notes.flatMap(({ note, text, why }) => [note ?? null, text ?? null, why ?? null]),
      ]),
    })
    .where('id', '=', id)
    .returningAll()
    .executeTakeFirstOrThrow();
  await putLinks(writing, id, standing);
  return toComplaint(row, standing);
}

async function putLinks(writing: Writing, id: string, standing: ComplaintStanding): Promise<void> {
  const { trx } = writing;
  await requireCases(writing, standing.cases);
  for (const frame of standing.frames) await requireLinked(trx, { frame });
  await trx.deleteFrom('complaint_frames').where('complaint', '=', id).execute();
  await trx.deleteFrom('complaint_cases').where('complaint', '=', id).execute();
  if (standing.frames.length > 0)
    await trx
      .insertInto('complaint_frames')
      .values(standing.frames.map((frame) => ({ complaint: id, frame })))
      .execute();
  if (standing.cases.length > 0)
    await trx
      .insertInto('complaint_cases')
      .values(standing.cases.map((one) => ({ complaint: id, case_id: one })))
      .execute();
}

async function requireCases({ trx }: Writing, cases: readonly string[]): Promise<void> {
  if (cases.length === 0) return;
  const found = await trx
    .selectFrom('cases')
    .select('id')
    .where('id', 'in', [...cases])
    .execute();
  const missing = cases.find((id) => !found.some((row) => row.id === id));
  if (missing !== undefined) throw notFound('case', missing);
}
