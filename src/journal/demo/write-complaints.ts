import type { CaseRecord } from '../cases/case-rows.js';
import { addPhoto } from '../complaints/photos.js';
import type { ComplaintStepInput } from '../complaints/steps.js';
import { logComplaint, recordComplaintStep } from '../complaints/write-complaint.js';
import type { Journal } from '../store.js';
import type { Draws } from './draws.js';
import type { PlannedCase } from './plan-cases.js';
import { instantOn, type PlannedMill } from './plan-mill.js';
import { drawStripes } from './stripe-picture.js';
import { CONTAINMENT, CUSTOMERS, fabricFaults, fabricOf, PEOPLE, PREVENTIVE, VERIFIED } from './words.js';

/** Complaints of a year. */
const COMPLAINTS = 16;

/** Writes complaints that go back to cases of the year: the older ones solved and closed, the latest still open. */
export async function writeComplaints(
  journal: Journal,
  mill: PlannedMill,
  cases: readonly { readonly planned: PlannedCase; readonly record: CaseRecord }[],
  draws: Draws,
): Promise<number> {
  const solved = cases.filter(
    ({ planned, record }) =>
      record.closure?.outcome === 'confirmed' && planned.lot !== null && planned.position === null,
  );
  const chosen = Array.from({ length: Math.min(COMPLAINTS, solved.length) }, (_, n) => {
    const span = solved.length / Math.min(COMPLAINTS, solved.length);
    return solved[Math.floor(n * span + draws.next() * span * 0.9)];
  }).filter((one) => one !== undefined);
  let written = 0;
  for (const [n, { planned, record }] of chosen.entries()) {
    const last = n === chosen.length - 1;
    const later = planned.day + draws.between(18, 45);
    const day = last ? mill.days - 1.4 : Math.min(mill.days - 3, later);
    const fabric = fabricOf(planned.frame.setup['end-use']);
    const at = (after: number) => instantOn(mill, Math.min(mill.days - 0.05, day + after));
    const who = draws.pick(PEOPLE);
    let complaint = await logComplaint(
      journal,
      {
        customer: draws.pick(CUSTOMERS[fabric]),
        fabricFault: draws.pick(fabricFaults(planned.cause, fabric)),
        claimedKg: Math.round(draws.logNormal(350, 0.8)),
        lot: planned.lot,
        yarn: planned.frame.yarnId,
        note: 'Reported by telephone, cones and a piece of fabric to follow.',
      },
      { who, at: at(0) },
    );
    if (draws.chance(0.5)) {
      await addPhoto(
        journal,
        complaint.id,
        {
          bytes: drawStripes(draws.whole(6, 24)),
          caption: 'Drawn, not photographed: this mill is invented.',
        },
        { who, at: at(0.2) },
      );
      complaint = { ...complaint, version: complaint.version + 1 };
    }
    const steps: readonly (readonly [number, ComplaintStepInput])[] = [
      [0.5, { step: 'containment', text: draws.pick(CONTAINMENT) }],
      [
        3,
        {
          step: 'root-cause',
          cause: planned.cause.id,
          case: record.id,
          text: `Found in case ${record.number} on ${planned.frame.name}, in the days in which the lot was spun.`,
        },
      ],
      [
        4,
        {
          step: 'corrective',
          text: `Put right in case ${record.number} and looked after on the frames of the same yarn.`,
        },
      ],
      [6, { step: 'preventive', text: draws.pick(PREVENTIVE) }],
      [
        20,
        {
          step: 'verified',
          fixed: draws.chance(0.85) ? 'yes' : 'partly',
          text: VERIFIED[fabric],
        },
      ],
      [22, { step: 'closed', note: 'Closing letter sent.' }],
    ];
    // The latest complaints are still on their way, and the cause of the last one is to be found.
    const known = steps
      .filter(([after]) => day + after < mill.days)
      .slice(0, last ? 1 : n >= chosen.length - 3 ? 2 : steps.length);
    for (const [after, step] of known)
      complaint = await recordComplaintStep(journal, { id: complaint.id, seen: complaint.version }, step, {
        who,
        at: at(after),
      });
    written++;
  }
  return written;
}
