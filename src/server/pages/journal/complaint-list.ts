import { Hono } from 'hono';
import { countComplaints, searchComplaints } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { writeCsv } from '../../../statistics/tables/write-csv.js';
import { atDesk, type Desk, viewHead } from '../../journal/desk.js';
import { loadNames } from '../../journal/names.js';
import type { Site } from '../../site.js';
import { viewComplaintFilter } from '../../views/journal/case-filter.js';
import { withParams } from '../../views/journal/links.js';
import { complaintsTable } from '../../views/journal/rows.js';
import { causeName } from '../../views/journal/words.js';
import { sayNumber } from '../../words.js';
import { complaintFilterFrom } from './filter-params.js';

const PAGE_SIZE = 40;
const MOST_ROWS = 10_000;

/** Complaints as a list, to search and to take along. */
export function complaintListPages(site: Site): Hono {
  const { knowledge } = site;

  return new Hono()
    .get(
      '/complaints',
      atDesk(site, async (c, desk) => {
        const params = new URL(c.req.url).searchParams;
        const filter = complaintFilterFrom(params, new Date().toISOString());
        const after = params.get('after');
        const names = await loadNames(desk.journal);
        const found = await searchComplaints(desk.journal, filter, {
          size: PAGE_SIZE,
          ...(after === null ? {} : { after }),
        });
        const count = await countComplaints(desk.journal, filter);
        params.delete('after');
        const filtered = Object.keys(filter).length > 0;
        return c.html(
          site.page(
            'journal-list',
            { title: say('record.complaints'), section: 'journal' },
            {
              head: viewHead(desk, '/complaints'),
              heading: say('record.complaints'),
              lead: '',
              actions: [
                { href: '/complaints/new', text: say('complaint.log') },
                { href: '/complaints?state=not-closed', text: say('overview.not-closed-all') },
                { href: '/complaints', text: say('overview.all') },
              ],
              filter: viewComplaintFilter(params, knowledge, names),
              filtered,
              count: filtered ? say('overview.found', { n: sayNumber(count) }) : sayNumber(count),
              table: complaintsTable(
                'complaints',
                found.rows,
                knowledge,
                names,
                filtered ? say('complaint.none-like-that') : say('complaint.none-yet'),
              ),
              next: found.next === null ? '' : withParams('/complaints', params, { after: found.next }),
              first: after === null ? '' : withParams('/complaints', params, {}),
              downloads: [
                { href: withParams('/complaints.csv', params, {}), text: 'CSV' },
                { href: withParams('/complaints.json', params, {}), text: 'JSON' },
              ],
            },
          ),
        );
      }),
    )
    .get(
      '/complaints.csv',
      atDesk(site, async (c, desk) => {
        const rows = await everyComplaint(desk, new URL(c.req.url).searchParams);
        return c.body(
          writeCsv(
            [
              'complaint',
              'customer',
              'fault',
              'state',
              'received',
              'closed',
              'claimed kg',
              'yarn',
              'lot',
              'frames',
              'cases',
              'root cause',
              'root cause in words',
              'containment',
              'corrective',
              'preventive',
              'fixed',
              'verification',
            ],
            rows.map((row) => [
              row.id,
              row.customer,
              row.fabricFault,
              row.state,
              row.receivedAt,
              row.closedAt ?? undefined,
              row.claimedKg ?? undefined,
              row.yarn ?? undefined,
              row.lot ?? undefined,
              row.frames.join(' '),
              row.cases.join(' '),
              row.rootCause?.cause ?? undefined,
              row.rootCause === null
                ? undefined
                : `${row.rootCause.cause === null ? '' : `${causeName(knowledge, row.rootCause.cause)}: `}${row.rootCause.text}`,
              row.containment,
              row.corrective,
              row.preventive,
              row.verification?.fixed,
              row.verification?.text,
            ]),
          ),
          200,
          {
            'Content-Type': 'text/csv; charset=utf-8',
            'Content-Disposition': 'attachment; filename="complaints.csv"',
          },
        );
      }),
    )
    .get(
      '/complaints.json',
      atDesk(site, async (c, desk) =>
        c.body(
          `${JSON.stringify({ complaints: await everyComplaint(desk, new URL(c.req.url).searchParams) }, null, 1)}\n`,
          200,
          {
            'Content-Type': 'application/json; charset=utf-8',
            'Content-Disposition': 'attachment; filename="complaints.json"',
          },
        ),
      ),
    );
}

async function everyComplaint(desk: Desk, params: URLSearchParams) {
  const filter = complaintFilterFrom(params, new Date().toISOString());
  const rows = [];
  let after: string | null = null;
  do {
    const page: Awaited<ReturnType<typeof searchComplaints>> = await searchComplaints(desk.journal, filter, {
      size: 200,
      ...(after === null ? {} : { after }),
    });
    rows.push(...page.rows);
    after = page.next;
  } while (after !== null && rows.length < MOST_ROWS);
  return rows;
}
