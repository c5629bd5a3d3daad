import type { Confirmation } from '../cases/steps.js';
import { readInstant } from '../input.js';
import { type Journal, read } from '../store.js';

/** A closed case as learning sees it. */
export interface ClosedCase {
  readonly id: string;
  readonly closedAt: string;
  readonly causes: readonly string[];
  readonly how: Confirmation;
  readonly symptomGone: boolean;
  /** Checks that were made in it. */
  readonly checks: readonly string[];
}

/** Closed cases that name a cause, oldest first. */
export async function loadClosedCases(
  journal: Journal,
  period: { readonly from?: string; readonly until?: string } = {},
): Promise<ClosedCase[]> {
  return read(journal, async (db) => {
    let query = db
      .selectFrom('cases')
      .select(['id', 'closed_at', 'how', 'symptom_gone'])
      .where('outcome', 'in', ['confirmed', 'suspected']);
    if (period.from !== undefined) query = query.where('closed_at', '>=', readInstant('from', period.from));
    if (period.until !== undefined) query = query.where('closed_at', '<', readInstant('until', period.until));
    const cases = await query.orderBy('closed_at').orderBy('id').execute();
    const causes = group(
      await db
        .selectFrom('case_causes')
        .select(['case_id', 'cause as one'])
        .orderBy('main', 'desc')
        .execute(),
    );
    const checks = group(await db.selectFrom('case_checks').select(['case_id', 'check_id as one']).execute());
    return cases.map((row) => ({
      id: row.id,
      closedAt: row.closed_at ?? '',
      causes: causes.get(row.id) ?? [],
      how: (row.how ?? 'unconfirmed') as Confirmation,
      symptomGone: row.symptom_gone === 1,
      checks: checks.get(row.id) ?? [],
    }));
  });
}

function group(rows: readonly { readonly case_id: string; readonly one: string }[]): Map<string, string[]> {
  const groups = new Map<string, string[]>();
  for (const { case_id, one } of rows) {
    const known = groups.get(case_id);
    if (known === undefined) groups.set(case_id, [one]);
    else known.push(one);
  }
  return groups;
}
