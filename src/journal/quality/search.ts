import { type SqlBool, sql } from 'kysely';
import { CASE_COLUMNS, type CaseRecord, toCase } from '../cases/case-rows.js';
import { type ComplaintRecord, toComplaint } from '../complaints/complaint-rows.js';
import { readInput } from '../input.js';
import { type Journal, read } from '../store.js';
import {
  type CaseFilter,
  type ComplaintFilter,
  caseCondition,
  caseFilterSchema,
  complaintCondition,
  complaintFilterSchema,
  type ReadCaseFilter,
  textCondition,
} from './filters.js';
import { type Page, type PageInput, readPage, toPage } from './pages.js';

/**
 * Cases that a filter lets through, by time of opening, a page at a time. Steps are not read: `checks`, contributing
 * causes and closing notes are empty.
 * @throws JournalInputError
 */
export async function searchCases(
  journal: Journal,
  filter: CaseFilter = {},
  page: PageInput = {},
): Promise<Page<CaseRecord>> {
  const wanted = readInput(caseFilterSchema, filter, 'filter');
  const { size, order, after } = readPage(page);
  return read(journal, async (db) => {
    const direction = order === 'newest' ? 'desc' : 'asc';
    let query = db
      .selectFrom('cases')
      .select(CASE_COLUMNS)
      .orderBy('opened_at', direction)
      .orderBy('id', direction);
    const words = onlyWords(wanted);
    if (words === undefined) {
      query = query.where(caseCondition(wanted)).limit(size + 1);
      if (after !== undefined) query = query.where(behind(order, 'opened_at', 'id', after.at, after.id));
    } else {
      let texts = db
        .selectFrom('case_texts')
        .select('case_id')
        .where(textCondition(words))
        .orderBy('opened_at', direction)
        .orderBy('case_id', direction)
        .limit(size + 1);
      if (after !== undefined) texts = texts.where(behind(order, 'opened_at', 'case_id', after.at, after.id));
      const ids = (await texts.execute()).map((row) => row.case_id);
      if (ids.length === 0) return { rows: [], next: null };
      query = query.where('id', 'in', ids);
    }
    const rows = await query.execute();
    const { rows: kept, next } = toPage(rows, size, (row) => ({ at: row.opened_at, id: row.id }));
    return { rows: kept.map(toCase), next };
  });
}

/** How many cases a filter lets through. */
export async function countCases(journal: Journal, filter: CaseFilter = {}): Promise<number> {
  const wanted = readInput(caseFilterSchema, filter, 'filter');
  return read(journal, async (db) => {
    const words = onlyWords(wanted);
    const { count } =
      words === undefined
        ? await db
            .selectFrom('cases')
            .select((eb) => eb.fn.countAll<number>().as('count'))
            .where(caseCondition(wanted))
            .executeTakeFirstOrThrow()
        : await db
            .selectFrom('case_texts')
            .select((eb) => eb.fn.countAll<number>().as('count'))
            .where(textCondition(words))
            .executeTakeFirstOrThrow();
    return count;
  });
}

/** The words of a filter that asks for nothing else: the texts alone tell, and they lie in the order of lists. */
function onlyWords(filter: ReadCaseFilter): string | undefined {
  const given = Object.entries(filter).filter(([, value]) => value !== undefined);
  return given.length === 1 && filter.text?.trim() ? filter.text : undefined;
}

/** Complaints that a filter lets through, by time of receipt, a page at a time. @throws JournalInputError */
export async function searchComplaints(
  journal: Journal,
  filter: ComplaintFilter = {},
  page: PageInput = {},
): Promise<Page<ComplaintRecord>> {
  const wanted = readInput(complaintFilterSchema, filter, 'filter');
  const { size, order, after } = readPage(page);
  return read(journal, async (db) => {
    const direction = order === 'newest' ? 'desc' : 'asc';
    let query = db.selectFrom('complaints').selectAll().where(complaintCondition(wanted));
    if (after !== undefined)
      query = query.where(behind(order, 'complaints.received_at', 'complaints.id', after.at, after.id));
    const rows = await query
      .orderBy('received_at', direction)
      .orderBy('id', direction)
      .limit(size + 1)
      .execute();
    const { rows: kept, next } = toPage(rows, size, (row) => ({ at: row.received_at, id: row.id }));
    const ids = kept.map((row) => row.id);
    if (ids.length === 0) return { rows: [], next };
    const frames = await db
      .selectFrom('complaint_frames')
      .selectAll()
      .where('complaint', 'in', ids)
      .execute();
    const cases = await db.selectFrom('complaint_cases').selectAll().where('complaint', 'in', ids).execute();
    return {
      rows: kept.map((row) =>
        toComplaint(row, {
          frames: frames
            .filter((link) => link.complaint === row.id)
            .map((link) => link.frame)
            .sort(),
          cases: cases
            .filter((link) => link.complaint === row.id)
            .map((link) => link.case_id)
            .sort(),
        }),
      ),
      next,
    };
  });
}

/** How many complaints a filter lets through. */
export async function countComplaints(journal: Journal, filter: ComplaintFilter = {}): Promise<number> {
  const wanted = readInput(complaintFilterSchema, filter, 'filter');
  return read(journal, async (db) => {
    const { count } = await db
      .selectFrom('complaints')
      .select((eb) => eb.fn.countAll<number>().as('count'))
      .where(complaintCondition(wanted))
      .executeTakeFirstOrThrow();
    return count;
  });
}

/** Everybody who ever complained, by name. */
export async function listCustomers(journal: Journal): Promise<readonly string[]> {
  const rows = await read(journal, (db) =>
    db.selectFrom('complaints').select('customer').distinct().execute(),
  );
  // Not by the engine, each of which has an order of its own.
  return rows.map((row) => row.customer).sort();
}

/** Rows behind a key, compared as pairs so that the index serves. */
const behind = (order: 'newest' | 'oldest', time: string, id: string, at: string, after: string) =>
  order === 'newest'
    ? sql<SqlBool>`(${sql.ref(time)}, ${sql.ref(id)}) < (${at}, ${after})`
    : sql<SqlBool>`(${sql.ref(time)}, ${sql.ref(id)}) > (${at}, ${after})`;
