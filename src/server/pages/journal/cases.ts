import { Hono } from 'hono';
import { type CaseRecord, countCases, findCase, type Journal, searchCases } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { writeCsv } from '../../../statistics/tables/write-csv.js';
import { atDesk, pathPart, viewHead } from '../../journal/desk.js';
import { benchQuery, inputWithFindings, readKept } from '../../journal/kept-case.js';
import { lastDiagnosis } from '../../journal/last-diagnosis.js';
import { loadNames } from '../../journal/names.js';
import type { Site } from '../../site.js';
import { viewCase } from '../../views/journal/case.js';
import { viewCaseFilter } from '../../views/journal/case-filter.js';
import { withParams } from '../../views/journal/links.js';
import { casesTable } from '../../views/journal/rows.js';
import { causeName } from '../../views/journal/words.js';
import { sayNumber } from '../../words.js';
import { caseFilterFrom } from './filter-params.js';

const PAGE_SIZE = 40;
/** Rows of one download; more is better asked of the API, page by page. */
const MOST_ROWS = 10_000;

/** Cases: the list and its downloads, and the page of each. */
export function casePages(site: Site): Hono {
  const { knowledge } = site;
  return new Hono()
    .get(
      '/cases',
      atDesk(site, async (c, desk) => {
        const params = new URL(c.req.url).searchParams;
        const filter = caseFilterFrom(params, new Date().toISOString());
        const after = params.get('after');
        const names = await loadNames(desk.journal);
        const [found, count] = [
          await searchCases(desk.journal, filter, { size: PAGE_SIZE, ...(after === null ? {} : { after }) }),
          await countCases(desk.journal, filter),
        ];
        params.delete('after');
        const filtered = Object.keys(filter).length > 0;
        return c.html(
          site.page(
            'journal-list',
            { title: say('complaint.cases'), section: 'journal' },
            {
              head: viewHead(desk, '/cases'),
              heading: say('complaint.cases'),
              lead: '',
              actions: [
                { href: '/cases?state=not-closed', text: say('overview.not-closed-all') },
                { href: '/cases', text: say('overview.all') },
                { href: '/bench', text: say('overview.diagnose-open') },
              ],
              filter: viewCaseFilter(params, knowledge, names),
              filtered,
              count: filtered ? say('overview.found', { n: sayNumber(count) }) : sayNumber(count),
              table: casesTable(
                'cases',
                found.rows,
                knowledge,
                names,
                filtered ? say('overview.no-case-like') : say('overview.no-case-yet'),
              ),
              next: found.next === null ? '' : withParams('/cases', params, { after: found.next }),
              first: after === null ? '' : withParams('/cases', params, {}),
              downloads: [
                { href: withParams('/cases.csv', params, {}), text: 'CSV' },
                { href: withParams('/cases.json', params, {}), text: 'JSON' },
              ],
            },
          ),
        );
      }),
    )
    .get(
      '/cases.csv',
      atDesk(site, async (c, desk) => {
        const rows = await everyCase(desk.journal, new URL(c.req.url).searchParams);
        const text = writeCsv(
          CSV_COLUMNS.map(([title]) => title),
          rows.map((row) => CSV_COLUMNS.map(([, value]) => value(row, (id) => causeName(knowledge, id)))),
        );
        return c.body(text, 200, {
          'Content-Type': 'text/csv; charset=utf-8',
          'Content-Disposition': 'attachment; filename="cases.csv"',
        });
      }),
    )
    .get(
      '/cases.json',
      atDesk(site, async (c, desk) =>
        c.body(
          `${JSON.stringify({ cases: await everyCase(desk.journal, new URL(c.req.url).searchParams) }, null, 1)}\n`,
          200,
          {
            'Content-Type': 'application/json; charset=utf-8',
            'Content-Disposition': 'attachment; filename="cases.json"',
          },
        ),
      ),
    )
    .get(
      '/cases/:id{case-[0-9]+}',
      atDesk(site, async (c, desk) => {
        const record = await findCase(desk.journal, pathPart(c, 'id'));
        const kept = await lastDiagnosis(desk.journal, record);
        const input =
          kept === undefined ? undefined : readKept(inputWithFindings(kept, record), site.vocabulary).case;
        const bench = `/bench${input === undefined ? '' : benchQuery(input, site.mill, record)}`;
        return c.html(
          site.page(
            'journal-case',
            { title: record.title, section: 'journal' },
            viewCase(record, kept, bench, knowledge, await loadNames(desk.journal), viewHead(desk, '/cases')),
          ),
        );
      }),
    );
}

async function everyCase(journal: Journal, params: URLSearchParams): Promise<CaseRecord[]> {
  const filter = caseFilterFrom(params, new Date().toISOString());
  const rows: CaseRecord[] = [];
  let after: string | null = null;
  do {
    const page = await searchCases(journal, filter, { size: 200, ...(after === null ? {} : { after }) });
    rows.push(...page.rows);
    after = page.next;
  } while (after !== null && rows.length < MOST_ROWS);
  return rows;
}

type Value = string | number | undefined;
const CSV_COLUMNS: readonly (readonly [string, (row: CaseRecord, cause: (id: string) => string) => Value])[] =
  [
    ['case', (row) => row.id],
    ['title', (row) => row.title],
    ['state', (row) => row.state],
    ['opened', (row) => row.openedAt],
    ['closed', (row) => row.closure?.at],
    ['frame', (row) => row.frame ?? undefined],
    ['position', (row) => row.position ?? undefined],
    ['section', (row) => row.section ?? undefined],
    ['yarn', (row) => row.yarn ?? undefined],
    ['lot', (row) => row.lot ?? undefined],
    ['in charge', (row) => row.assignee],
    ['outcome', (row) => row.closure?.outcome],
    ['root cause', (row) => row.closure?.cause ?? undefined],
    [
      'root cause in words',
      (row, cause) => (row.closure?.cause == null ? undefined : cause(row.closure.cause)),
    ],
    ['confirmed', (row) => row.closure?.how ?? undefined],
    ['minutes', (row) => row.cost.minutes],
    ['rotor-hours lost', (row) => row.cost.rotorHours],
    ['waste kg', (row) => row.cost.wasteKg],
    ['minutes to find', (row) => row.findMinutes ?? undefined],
    ['minutes to fix', (row) => row.fixMinutes ?? undefined],
    ['nozzle hours', (row) => row.partHours.nozzle ?? undefined],
    ['first in the ranking', (row) => row.firstRanking?.cause],
    ['its probability', (row) => row.firstRanking?.probability],
    ['place of the root cause', (row) => row.firstRanking?.place ?? undefined],
  ];
