import { type Context, Hono } from 'hono';
import {
  type AuditFilter,
  type AuditLine,
  auditKinds,
  type Journal,
  JournalInputError,
  OUTCOMES,
  searchAudit,
} from '../../../journal/index.js';
import { say, wordTable } from '../../../language/say.js';
import { writeCsv } from '../../../statistics/tables/write-csv.js';
import type { Site } from '../../site.js';
import { accessLinks } from '../../views/access/links.js';
import { startFields, typedFrom, viewForm } from '../../views/journal/form.js';
import { withParams } from '../../views/journal/links.js';
import { readMoment, sayMoment, typedDay } from '../../views/journal/moments.js';
import { viewTable } from '../../views/journal/table.js';
import { atAccounts } from './sign-in.js';

const A_DAY = 86_400_000;
/** Looked back over where no day is given. */
const USUAL_DAYS = 30;
/** Lines of a file. */
const MOST_LINES = 100_000;
const OUTCOME_WORDS: Readonly<Record<string, string>> = wordTable('audit', OUTCOMES);
const outcomeWords = (outcome: string): string => OUTCOME_WORDS[outcome] ?? outcome;
const WAYS: Readonly<Record<string, string>> = wordTable('audit-way', [
  'session',
  'token',
  'open',
  'command',
  'program',
]);

/** The audit log: who did what, when, from where. */
export function auditPages(site: Site): Hono {
  return new Hono()
    .get(
      '/audit',
      atAccounts(site, async (c, journal) => {
        const params = new URL(c.req.url).searchParams;
        const filter = filterFrom(params);
        const after = params.get('after') ?? undefined;
        const page = await search(journal, filter, after);
        const typed = typedFrom(params);
        const make = startFields(typed, []);
        const kinds = await auditKinds(journal);
        return c.html(
          site.page(
            'audit',
            { title: say('access.audit-log'), section: 'account' },
            {
              tabs: accessLinks(),
              heading: say('access.audit-log'),
              lead: `${say('audit.lead')} ${params.get('from') === null ? say('audit.last-days', { n: USUAL_DAYS }) : ''}`,
              filter: viewForm('/audit', say('audit.search'), [
                make.text('q', say('audit.contains')),
                make.day('from', say('audit.from'), {
                  value: typedDay(filter.from ?? new Date().toISOString()),
                }),
                make.day('until', say('audit.until')),
                make.select('kind', say('audit.about'), [
                  ['', say('audit.everything')],
                  ...kinds.map((one): [string, string] => [one, one]),
                ]),
                make.select('outcome', say('audit.outcome'), [
                  ['', say('audit.any')],
                  ...OUTCOMES.map((one): [string, string] => [one, outcomeWords(one)]),
                ]),
              ]),
              filtered: ['q', 'from', 'until', 'kind', 'outcome'].some(
                (name) => (params.get(name) ?? '') !== '',
              ),
              table: viewTable(
                'audit',
                say('audit.newest-first'),
                [
                  say('audit.when'),
                  say('audit.who'),
                  say('audit.what'),
                  say('audit.record'),
                  say('audit.from'),
                ],
                page.rows.map((line) => [
                  sayMoment(line.at),
                  { text: line.who, note: WAYS[line.via] ?? '' },
                  {
                    text: `${line.kind}: ${line.action.replaceAll('-', ' ')}`,
                    note:
                      line.outcome === 'done'
                        ? sayData(line)
                        : `${outcomeWords(line.outcome)}. ${sayData(line)}`,
                  },
                  { text: sayRecord(line), href: hrefOf(line) },
                  line.address === '' ? '–' : line.address,
                ]),
                say('audit.none'),
                page.rows.map((line) => (line.outcome === 'done' ? '' : 'high')),
              ),
              next: page.next === undefined ? '' : withParams('/audit', params, { after: page.next }),
              first: after === undefined ? '' : withParams('/audit', params, { after: '' }),
              downloads: [
                { href: withParams('/audit.csv', params, { after: '' }), text: 'CSV' },
                { href: withParams('/audit.json', params, { after: '' }), text: 'JSON' },
              ],
            },
          ),
        );
      }),
    )
    .get(
      '/audit.csv',
      atAccounts(site, async (c, journal) =>
        file(
          c,
          'audit.csv',
          'text/csv; charset=utf-8',
          writeCsv(
            ['at', 'who', 'account', 'via', 'address', 'kind', 'action', 'outcome', 'record', 'data'],
            (await allLines(journal, filterFrom(new URL(c.req.url).searchParams))).map((line) => [
              line.at,
              line.who,
              line.account ?? '',
              line.via,
              line.address,
              line.kind,
              line.action,
              line.outcome,
              line.subject,
              line.data === null ? '' : JSON.stringify(line.data),
            ]),
          ),
        ),
      ),
    )
    .get(
      '/audit.json',
      atAccounts(site, async (c, journal) =>
        file(
          c,
          'audit.json',
          'application/json',
          JSON.stringify(
            { lines: await allLines(journal, filterFrom(new URL(c.req.url).searchParams)) },
            null,
            1,
          ),
        ),
      ),
    );
}

const file = (c: Context, name: string, type: string, text: string): Response =>
  c.body(text, 200, { 'Content-Type': type, 'Content-Disposition': `attachment; filename="${name}"` });

/** What an address asks for; what it says wrongly is left out. */
function filterFrom(params: URLSearchParams): AuditFilter {
  const from = readMoment(params.get('from') ?? '');
  const until = readMoment(params.get('until') ?? '');
  const kind = params.get('kind')?.trim().slice(0, 40) ?? '';
  const text = params.get('q')?.trim().replaceAll('\0', '').slice(0, 100) ?? '';
  const outcome = OUTCOMES.find((one) => one === params.get('outcome'));
  return {
    from: from ?? new Date(Date.now() - USUAL_DAYS * A_DAY).toISOString(),
    ...(until === undefined ? {} : { until: new Date(Date.parse(until) + A_DAY).toISOString() }),
    ...(kind === '' ? {} : { kind: kind.replaceAll('\0', '') }),
    ...(text === '' ? {} : { text }),
    ...(outcome === undefined ? {} : { outcome }),
  };
}

/** A page of the log; a mark of an earlier page that is none leads to the first. */
async function search(journal: Journal, filter: AuditFilter, after: string | undefined) {
  try {
    return await searchAudit(journal, filter, after === undefined ? {} : { after });
  } catch (error) {
    if (!(error instanceof JournalInputError)) throw error;
    return searchAudit(journal, filter);
  }
}

async function allLines(journal: Journal, filter: AuditFilter): Promise<AuditLine[]> {
  const lines: AuditLine[] = [];
  for (let after: string | undefined; lines.length < MOST_LINES; ) {
    const page = await searchAudit(journal, filter, {
      size: 1000,
      ...(after === undefined ? {} : { after }),
    });
    lines.push(...page.rows);
    if (page.next === undefined) break;
    after = page.next;
  }
  return lines;
}

/** The data of lines that are no entries of a history; those are long, and stand on the page of the record. */
function sayData({ kind, data }: AuditLine): string {
  if (HAS_PAGE[kind] !== undefined || data === null) return '';
  const text =
    typeof data === 'object'
      ? Object.entries(data)
          .map(([name, value]) => `${name}: ${sayValue(value)}`)
          .join('; ')
      : String(data);
  return text.length > 160 ? `${text.slice(0, 159)}…` : text;
}

const sayValue = (value: unknown): string =>
  Array.isArray(value)
    ? value.map(sayValue).join(', ')
    : typeof value === 'string'
      ? value
      : JSON.stringify(value);

/** People are better known by their name than by the id of their account. */
function sayRecord({ subject, data }: AuditLine): string {
  if (subject === '') return '–';
  const name: unknown = typeof data === 'object' && data !== null ? Reflect.get(data, 'name') : undefined;
  return /^(account|token)-/.test(subject) && typeof name === 'string' ? name : subject;
}

const HAS_PAGE: Readonly<Record<string, (id: string) => string>> = {
  case: (id) => `/cases/${id}`,
  complaint: (id) => `/complaints/${id}`,
  frame: (id) => `/frames/${id}`,
  yarn: (id) => `/yarns/${id}/edit`,
  lot: (id) => `/lots/${id}/edit`,
  setup: (id) => `/frames/${id}`,
};

const hrefOf = ({ kind, subject }: AuditLine): string =>
  subject.startsWith('account-')
    ? `/accounts/${subject}`
    : subject === ''
      ? ''
      : (HAS_PAGE[kind]?.(encodeURIComponent(subject)) ?? '');
