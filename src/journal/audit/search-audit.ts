import { type Expression, type ExpressionBuilder, type SqlBool, sql } from 'kysely';
import { z } from 'zod';
import { plainText, readInput } from '../input.js';
import { type Journal, read } from '../store.js';
import type { Tables } from '../tables.js';
import { instantSchema } from '../time.js';
import { OUTCOMES } from './add-audit.js';

/** One line of the audit log: an entry of a history, or a line of its own. */
export interface AuditLine {
  readonly id: string;
  readonly at: string;
  readonly who: string;
  /** Account or token; null when nobody signed in. */
  readonly account: string | null;
  /** How they came in; empty in entries from before this was kept. */
  readonly via: string;
  readonly address: string;
  readonly kind: string;
  readonly subject: string;
  readonly action: string;
  readonly outcome: string;
  readonly data: unknown;
}

/** Kinds of things that have a history of their own. */
const HISTORIES = [
  'frame',
  'yarn',
  'lot',
  'case',
  'complaint',
  'course',
  'practice-case',
  'knowledge',
] as const;

export const auditFilterSchema = z.strictObject({
  /** From this time on. */
  from: instantSchema.optional(),
  /** Before this time. */
  until: instantSchema.optional(),
  kind: plainText(40).optional(),
  outcome: z.enum(OUTCOMES).optional(),
  /** Part of the name, the address, the record or the action; case does not matter. */
  text: plainText(100).optional(),
});
export type AuditFilter = z.input<typeof auditFilterSchema>;

export const auditPageSchema = z.strictObject({
  size: z.number().int().min(1).max(1000).default(50),
  /** Id of the last line of the page before. */
  after: plainText(200).optional(),
});

export interface AuditPage {
  readonly rows: readonly AuditLine[];
  /** To be given as `after` for the next page; undefined at the end. */
  readonly next: string | undefined;
}

/** Between the parts of an entry's id; it sorts behind everything that ids are made of. */
const GLUE = '~';

/** Lines of the audit log that a filter lets through, newest first. @throws JournalInputError */
export async function searchAudit(
  journal: Journal,
  filter: AuditFilter = {},
  page: z.input<typeof auditPageSchema> = {},
): Promise<AuditPage> {
  const wanted = readInput(auditFilterSchema, filter, 'filter');
  const { size, after } = readInput(auditPageSchema, page, 'page');
  return read(journal, async (db) => {
    const own = db
      .selectFrom('audit')
      .select([
        'id',
        'at',
        'who',
        'account',
        'via',
        'address',
        'kind',
        'subject',
        'action',
        'outcome',
        'data',
      ])
      .where((eb) => keep(eb as never, wanted, after, { at: 'at', id: sql.ref('id'), action: 'action' }))
      .orderBy('at', 'desc')
      .orderBy('id', 'desc')
      .limit(size + 1);
    const entryId = sql<string>`recorded || ${sql.lit(GLUE)} || kind || ${sql.lit(GLUE)} || subject || ${sql.lit(GLUE)} || cast(version as text)`;
    const history = db
      .selectFrom('entries')
      .select([
        'recorded as at',
        'who',
        'account',
        'via',
        'address',
        'kind',
        'subject',
        'step as action',
        'data',
      ])
      .select(entryId.as('id'))
      .where((eb) => keep(eb as never, wanted, after, { at: 'recorded', id: entryId, action: 'step' }))
      .orderBy('recorded', 'desc')
      .orderBy('id', 'desc')
      .limit(size + 1);
    const { kind, outcome } = wanted;
    const inHistory = kind === undefined || HISTORIES.includes(kind as (typeof HISTORIES)[number]);
    const rows = [
      ...(await own.execute()).map(toLine),
      ...(inHistory && (outcome === undefined || outcome === 'done')
        ? (await history.execute()).map((row) => toLine({ ...row, outcome: 'done' }))
        : []),
    ].sort((a, b) => (a.at === b.at ? order(b.id, a.id) : order(b.at, a.at)));
    const shown = rows.slice(0, size);
    return { rows: shown, next: rows.length > size ? shown.at(-1)?.id : undefined };
  });
}

const order = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);

/** Length of an instant as the journal keeps it; every id begins with one. */
const INSTANT = 24;

function keep(
  eb: ExpressionBuilder<Tables, 'audit'>,
  { from, until, kind, outcome, text }: z.output<typeof auditFilterSchema>,
  after: string | undefined,
  columns: { readonly at: string; readonly id: Expression<unknown>; readonly action: string },
): Expression<SqlBool> {
  const at = sql.ref(columns.at);
  const all: Expression<SqlBool>[] = [];
  if (from !== undefined) all.push(sql<SqlBool>`${at} >= ${from}`);
  if (until !== undefined) all.push(sql<SqlBool>`${at} < ${until}`);
  if (kind !== undefined) all.push(sql<SqlBool>`kind = ${kind}`);
  if (outcome !== undefined && columns.action === 'action') all.push(sql<SqlBool>`outcome = ${outcome}`);
  if (text !== undefined && text !== '') {
    const like = `%${text.toLowerCase().replace(/[\\%_]/g, (sign) => `\\${sign}`)}%`;
    const fields = ['who', 'subject', columns.action, 'address'].map(
      (name) => sql<SqlBool>`lower(${sql.ref(name)}) like ${like} escape '\\'`,
    );
    all.push(eb.or(fields));
  }
  if (after !== undefined) {
    const time = after.slice(0, INSTANT);
    // The first condition is what the index is used for.
    all.push(sql<SqlBool>`${at} <= ${time} and (${at} < ${time} or ${columns.id} < ${after})`);
  }
  return eb.and(all);
}

const toLine = (row: {
  readonly id: string;
  readonly at: string;
  readonly who: string;
  readonly account: string | null;
  readonly via: string | null;
  readonly address: string | null;
  readonly kind: string;
  readonly subject: string;
  readonly action: string;
  readonly outcome: string;
  readonly data: string;
}): AuditLine => ({
  ...row,
  via: row.via ?? '',
  address: row.address ?? '',
  data: JSON.parse(row.data) as unknown,
});

/** Kinds of lines there are, for a filter. */
export async function auditKinds(journal: Journal): Promise<string[]> {
  const rows = await read(journal, (db) => db.selectFrom('audit').select('kind').distinct().execute());
  return [...new Set([...HISTORIES, ...rows.map((row) => row.kind)])].sort();
}
