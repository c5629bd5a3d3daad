import type { Tables } from '../tables.js';
import type { ComplaintStanding } from './replay.js';
import type { ComplaintState, Fixed } from './steps.js';

/** A complaint as lists and pages show it. */
export interface ComplaintRecord extends ComplaintStanding {
  readonly id: string;
  readonly number: number;
  readonly version: number;
  readonly changedAt: string;
}

/** The columns of a complaint that follow from its steps. */
export const complaintRow = (
  standing: ComplaintStanding,
): Omit<Tables['complaints'], 'id' | 'number' | 'version' | 'changed_at' | 'search'> => ({
  state: standing.state,
  customer: standing.customer,
  fabric_fault: standing.fabricFault,
  claimed_kg: standing.claimedKg,
  lot: standing.lot,
  yarn: standing.yarn,
  received_at: standing.receivedAt,
  closed_at: standing.closedAt,
  spun_from: standing.spunFrom,
  spun_until: standing.spunUntil,
  cause: standing.rootCause?.cause ?? null,
  cause_case: standing.rootCause?.case ?? null,
  root_cause: standing.rootCause?.text ?? '',
  containment: standing.containment,
  corrective: standing.corrective,
  preventive: standing.preventive,
  verification: standing.verification?.text ?? '',
  verified_at: standing.verification?.at ?? null,
  fixed: standing.verification?.fixed ?? null,
});

/** A row as a record, its links handed in. */
export const toComplaint = (
  row: Tables['complaints'],
  links: { readonly frames: readonly string[]; readonly cases: readonly string[] },
): ComplaintRecord => ({
  id: row.id,
  number: row.number,
  version: row.version,
  state: row.state as ComplaintState,
  customer: row.customer,
  fabricFault: row.fabric_fault,
  claimedKg: row.claimed_kg,
  lot: row.lot,
  yarn: row.yarn,
  receivedAt: row.received_at,
  changedAt: row.changed_at,
  closedAt: row.closed_at,
  spunFrom: row.spun_from,
  spunUntil: row.spun_until,
  frames: links.frames,
  cases: links.cases,
  rootCause: row.root_cause === '' ? null : { cause: row.cause, case: row.cause_case, text: row.root_cause },
  containment: row.containment,
  corrective: row.corrective,
  preventive: row.preventive,
  verification:
    row.fixed === null || row.verified_at === null
      ? null
      : { fixed: row.fixed as Fixed, text: row.verification, at: row.verified_at },
});
