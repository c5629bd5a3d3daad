import { type ExpressionBuilder, type ExpressionWrapper, type SqlBool, sql } from 'kysely';
import { z } from 'zod';
import { CASE_STATES } from '../cases/steps.js';
import { COMPLAINT_STATES } from '../complaints/steps.js';
import { idSchema, plainText, positionSchema } from '../input.js';
import type { Tables } from '../tables.js';
import { instantSchema } from '../time.js';

const oneOrMore = <T extends z.ZodType>(schema: T) =>
  z.union([schema.transform((one) => [one]), z.array(schema)]);

/** What cases are looked for; everything given must hold. Times: from included, until excluded. */
export const caseFilterSchema = z.strictObject({
  /** Words, all of which must occur in number, title, notes, place or cause. */
  text: plainText(200).optional(),
  frame: oneOrMore(idSchema).optional(),
  position: positionSchema.optional(),
  lot: idSchema.optional(),
  yarn: idSchema.optional(),
  /** The root cause, found or suspected. */
  cause: idSchema.optional(),
  state: oneOrMore(z.enum(CASE_STATES)).optional(),
  outcome: oneOrMore(z.enum(['confirmed', 'suspected', 'not-found'])).optional(),
  assignee: plainText(200).optional(),
  openedFrom: instantSchema.optional(),
  openedUntil: instantSchema.optional(),
  closedFrom: instantSchema.optional(),
  closedUntil: instantSchema.optional(),
  /** Only cases linked to this complaint. */
  complaint: idSchema.optional(),
  /** Only cases linked to a complaint of this customer. */
  customer: plainText(200).optional(),
});
export type CaseFilter = z.input<typeof caseFilterSchema>;
export type ReadCaseFilter = z.output<typeof caseFilterSchema>;

/** What complaints are looked for; everything given must hold. */
export const complaintFilterSchema = z.strictObject({
  text: plainText(200).optional(),
  customer: plainText(200).optional(),
  frame: idSchema.optional(),
  lot: idSchema.optional(),
  yarn: idSchema.optional(),
  cause: idSchema.optional(),
  state: oneOrMore(z.enum(COMPLAINT_STATES)).optional(),
  receivedFrom: instantSchema.optional(),
  receivedUntil: instantSchema.optional(),
  /** Only complaints linked to this case. */
  case: idSchema.optional(),
});
export type ComplaintFilter = z.input<typeof complaintFilterSchema>;
export type ReadComplaintFilter = z.output<typeof complaintFilterSchema>;

type Condition = ExpressionWrapper<Tables, never, SqlBool>;

/** The filter as a condition on `cases`. */
export function caseCondition(filter: ReadCaseFilter) {
  return (eb: ExpressionBuilder<Tables, 'cases'>) => {
    const all: unknown[] = [];
    const words = wordConditions('case_texts.search', filter.text);
    if (words.length > 0)
      all.push(
        eb.exists((inner) =>
          inner
            .selectFrom('case_texts')
            .select('case_texts.case_id')
            .whereRef('case_texts.opened_at', '=', 'cases.opened_at')
            .whereRef('case_texts.case_id', '=', 'cases.id')
            .where((text) => text.and(words as Condition[])),
        ),
      );
    if (filter.frame !== undefined) all.push(eb('cases.frame', 'in', filter.frame));
    if (filter.position !== undefined) all.push(eb('cases.position', '=', filter.position));
    if (filter.lot !== undefined) all.push(eb('cases.lot', '=', filter.lot));
    if (filter.yarn !== undefined) all.push(eb('cases.yarn', '=', filter.yarn));
    if (filter.cause !== undefined) all.push(eb('cases.cause', '=', filter.cause));
    if (filter.state !== undefined) all.push(eb('cases.state', 'in', filter.state));
    if (filter.outcome !== undefined) all.push(eb('cases.outcome', 'in', filter.outcome));
    if (filter.assignee !== undefined) all.push(eb('cases.assignee', '=', filter.assignee));
    if (filter.openedFrom !== undefined) all.push(eb('cases.opened_at', '>=', filter.openedFrom));
    if (filter.openedUntil !== undefined) all.push(eb('cases.opened_at', '<', filter.openedUntil));
    if (filter.closedFrom !== undefined) all.push(eb('cases.closed_at', '>=', filter.closedFrom));
    if (filter.closedUntil !== undefined) all.push(eb('cases.closed_at', '<', filter.closedUntil));
    if (filter.complaint !== undefined)
      all.push(
        eb('cases.id', 'in', (inner) =>
          inner
            .selectFrom('complaint_cases')
            .select('complaint_cases.case_id')
            .where('complaint_cases.complaint', '=', filter.complaint ?? ''),
        ),
      );
    if (filter.customer !== undefined)
      all.push(
        eb('cases.id', 'in', (inner) =>
          inner
            .selectFrom('complaint_cases')
            .innerJoin('complaints', 'complaints.id', 'complaint_cases.complaint')
            .select('complaint_cases.case_id')
            .where('complaints.customer', '=', filter.customer ?? ''),
        ),
      );
    return eb.and(all as Condition[]);
  };
}

/** The filter as a condition on `complaints`. */
export function complaintCondition(filter: ReadComplaintFilter) {
  return (eb: ExpressionBuilder<Tables, 'complaints'>) => {
    const all: unknown[] = wordConditions('complaints.search', filter.text);
    if (filter.customer !== undefined) all.push(eb('complaints.customer', '=', filter.customer));
    if (filter.lot !== undefined) all.push(eb('complaints.lot', '=', filter.lot));
    if (filter.yarn !== undefined) all.push(eb('complaints.yarn', '=', filter.yarn));
    if (filter.cause !== undefined) all.push(eb('complaints.cause', '=', filter.cause));
    if (filter.state !== undefined) all.push(eb('complaints.state', 'in', filter.state));
    if (filter.receivedFrom !== undefined) all.push(eb('complaints.received_at', '>=', filter.receivedFrom));
    if (filter.receivedUntil !== undefined) all.push(eb('complaints.received_at', '<', filter.receivedUntil));
    if (filter.frame !== undefined)
      all.push(
        eb('complaints.id', 'in', (inner) =>
          inner
            .selectFrom('complaint_frames')
            .select('complaint_frames.complaint')
            .where('complaint_frames.frame', '=', filter.frame ?? ''),
        ),
      );
    if (filter.case !== undefined)
      all.push(
        eb('complaints.id', 'in', (inner) =>
          inner
            .selectFrom('complaint_cases')
            .select('complaint_cases.complaint')
            .where('complaint_cases.case_id', '=', filter.case ?? ''),
        ),
      );
    return eb.and(all as Condition[]);
  };
}

/** Words as a condition on `case_texts`. */
export const textCondition = (text: string) => (eb: ExpressionBuilder<Tables, 'case_texts'>) =>
  eb.and(wordConditions('case_texts.search', text) as Condition[]);

/** Each word of a search must occur, in any case; `%` and `_` mean themselves. */
function wordConditions(column: string, text: string | undefined): unknown[] {
  return (text ?? '')
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== '')
    .slice(0, 10)
    .map((word) => `%${word.replace(/[\\%_]/g, '\\$&')}%`)
    .map((pattern) => sql<SqlBool>`${sql.ref(column)} like ${pattern} escape '\\'`);
}
