import { randomBytes } from 'node:crypto';
import { currentActor } from '../acting.js';
import type { Writing } from '../store.js';

/** How something ended: it was done, it failed (a wrong password), or it was refused (no right to it). */
export const OUTCOMES = ['done', 'failed', 'refused'] as const;
export type Outcome = (typeof OUTCOMES)[number];

/** A line for the audit log. */
export interface NewAudit {
  /** What it is about: `account`, `sign-in`, `token`, `setting`, `setup`, `export`, `request` … */
  readonly kind: string;
  /** Id of the thing; empty when there is none. */
  readonly subject: string;
  readonly action: string;
  /** `done` unless said otherwise. */
  readonly outcome?: Outcome;
  readonly data?: unknown;
}

/** Adds a line to the audit log in the transaction of the write it tells of: both stand, or neither. */
export async function addAudit(writing: Writing, line: NewAudit): Promise<void> {
  writing.said = true;
  const { via, account, address } = currentActor();
  await writing.trx
    .insertInto('audit')
    .values({
      // Sorts by time; the rest keeps lines of the same moment apart.
      id: `${writing.recorded}-${randomBytes(6).toString('hex')}`,
      at: writing.recorded,
      who: writing.who,
      account,
      via,
      address,
      kind: line.kind,
      subject: line.subject,
      action: line.action,
      outcome: line.outcome ?? 'done',
      data: JSON.stringify(line.data ?? null),
    })
    .execute();
}
