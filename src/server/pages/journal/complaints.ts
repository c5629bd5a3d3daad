import { type Context, Hono } from 'hono';
import {
  addPhoto,
  type CaseRecord,
  type ComplaintDetail,
  countComplaints,
  findCase,
  findComplaint,
  findLikelyLinks,
  findPhoto,
  logComplaint,
  MOST_PHOTOS,
  recordComplaintStep,
  type StaleError,
  searchComplaints,
  withdrawPhoto,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { writeCsv } from '../../../statistics/tables/write-csv.js';
import type { FormView, RecordPage } from '../../../templates/journal-models.js';
import {
  atDesk,
  byFrom,
  type Desk,
  newKey,
  pathPart,
  readSent,
  rememberName,
  viewHead,
  viewStale,
  writeSent,
} from '../../journal/desk.js';
import { loadNames } from '../../journal/names.js';
import type { Site } from '../../site.js';
import { viewComplaintFilter } from '../../views/journal/case-filter.js';
import { complaintFacts, sayComplaintEntry, viewComplaint } from '../../views/journal/complaint.js';
import {
  type ComplaintContext,
  type ComplaintForm,
  complaintFields,
  complaintForm,
  readComplaint,
} from '../../views/journal/complaint-step-forms.js';
import { type FormProblem, readTyped, startFields, type Typed, viewForm } from '../../views/journal/form.js';
import { sayLongDay } from '../../views/journal/moments.js';
import { complaintsTable } from '../../views/journal/rows.js';
import { causeName } from '../../views/journal/words.js';
import { sayNumber } from '../../words.js';
import { complaintFilterFrom, withParams } from './filter-params.js';

const PAGE_SIZE = 40;
const MOST_ROWS = 10_000;

interface Sent {
  readonly typed: Typed;
  readonly problems: readonly FormProblem[];
  readonly stale?: StaleError;
}

/** Complaints: the list, logging one, and the page of each with its photos and its letter. */
export function complaintPages(site: Site): Hono {
  const { knowledge } = site;

  const linkable = async (desk: Desk, record: ComplaintDetail): Promise<CaseRecord[]> => {
    const likely = await findLikelyLinks(desk.journal, record);
    const ids = [...new Set([...record.cases, ...likely.cases])];
    const cases: CaseRecord[] = [];
    for (const id of ids.slice(0, 60)) cases.push(await findCase(desk.journal, id));
    return cases.sort((a, b) => (a.openedAt < b.openedAt ? 1 : -1));
  };

  const answer = (c: Context, page: RecordPage, sent?: Sent) => {
    const wrong = (sent?.problems.length ?? 0) > 0;
    return c.html(
      site.page(
        'journal-record',
        { title: wrong ? say('complaint.error', { title: page.heading }) : page.heading, section: 'journal' },
        page,
      ),
      sent?.stale !== undefined ? 409 : wrong ? 422 : 200,
    );
  };

  const bare = { stale: undefined, cautions: [], how: [], facts: [], second: undefined, secondHeading: '' };

  const logPage = async (c: Context, desk: Desk, sent?: Sent) => {
    const make = startFields(sent?.typed ?? new Map(), sent?.problems ?? []);
    return answer(
      c,
      {
        ...bare,
        head: viewHead(desk, '/complaints'),
        backHref: '/complaints',
        backText: say('complaint.all'),
        heading: say('complaint.log'),
        lead: say('complaint.log-lead'),
        form: viewForm(
          '/complaints/new',
          say('complaint.log-submit'),
          [
            ...complaintFields(make, await loadNames(desk.journal)),
            make.day('receivedAt', say('complaint.received'), { hint: say('complaint.empty-today') }),
            make.area('note', say('record.note')),
            make.hidden('key', newKey()),
            make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
          ],
          sent?.problems ?? [],
        ),
      },
      sent,
    );
  };

  const photoForm = (
    desk: Desk,
    record: ComplaintDetail,
    problems: readonly FormProblem[] = [],
    typed: Typed = new Map(),
  ): FormView => {
    const make = startFields(typed, problems);
    return viewForm(
      `/complaints/${record.id}/photos`,
      say('complaint.add-photo'),
      [
        make.file('photo', say('complaint.photo'), {
          hint: say('complaint.photo-hint', { most: MOST_PHOTOS }),
        }),
        make.text('caption', say('complaint.shows')),
        make.hidden('key', newKey()),
        make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
      ],
      problems,
    );
  };

  const show = async (
    c: Context,
    desk: Desk,
    problems: readonly FormProblem[] = [],
    typed: Typed = new Map(),
  ) => {
    const record = await findComplaint(desk.journal, pathPart(c, 'id'));
    const cases: CaseRecord[] = [];
    for (const id of record.cases) cases.push(await findCase(desk.journal, id));
    return c.html(
      site.page(
        'journal-complaint',
        {
          title:
            problems.length > 0 ? say('complaint.error', { title: record.fabricFault }) : record.fabricFault,
          section: 'journal',
        },
        viewComplaint(
          record,
          cases.sort((a, b) => (a.openedAt < b.openedAt ? 1 : -1)),
          photoForm(desk, record, problems, typed),
          knowledge,
          await loadNames(desk.journal),
          viewHead(desk, '/complaints'),
        ),
      ),
      problems.length > 0 ? 422 : 200,
    );
  };

  const contextOf = async (desk: Desk, id: string): Promise<ComplaintContext> => {
    const record = await findComplaint(desk.journal, id);
    return { record, cases: await linkable(desk, record), knowledge, names: await loadNames(desk.journal) };
  };

  const stepPage = (
    desk: Desk,
    context: ComplaintContext,
    step: string,
    form: ComplaintForm,
    sent?: Sent,
  ): RecordPage => {
    const { record } = context;
    const make = startFields(sent?.typed ?? new Map(), sent?.problems ?? []);
    return {
      ...bare,
      head: viewHead(desk, '/complaints'),
      backHref: `/complaints/${record.id}`,
      backText: say('complaint.back', { number: record.number, fault: record.fabricFault }),
      heading: form.heading,
      lead: form.lead,
      stale:
        sent?.stale === undefined
          ? undefined
          : viewStale(
              sent.stale,
              sent.stale.since.map((one) => sayComplaintEntry(one, knowledge)),
            ),
      form: viewForm(
        `/complaints/${record.id}/record/${step}`,
        form.submit,
        [
          ...form.fields(make),
          make.hidden('seen', String(record.version)),
          make.hidden('key', newKey()),
          make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
        ],
        sent?.problems ?? [],
      ),
    };
  };

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
    )
    .get(
      '/complaints/new',
      atDesk(site, (c, desk) => logPage(c, desk)),
    )
    .post(
      '/complaints/new',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const reader = readTyped(typed);
        const complaint = readComplaint(reader);
        const receivedAt = reader.moment('receivedAt', say('complaint.received'));
        const note = reader.text('note');
        reader.needed('who', say('record.your-name'));
        const controls = [
          ...complaintFields(startFields(typed, []), await loadNames(desk.journal)),
          startFields(typed, []).text('who', say('record.your-name')),
        ];
        const written = await writeSent(controls, reader.problems, () =>
          logComplaint(
            desk.journal,
            { ...complaint, note, ...(receivedAt === undefined ? {} : { receivedAt }) },
            byFrom(typed),
          ),
        );
        if (!written.ok) return logPage(c, desk, { typed, ...written });
        rememberName(c, typed);
        return c.redirect(`/complaints/${written.value.id}`, 303);
      }),
    )
    .get(
      '/complaints/:id{complaint-[0-9]+}',
      atDesk(site, (c, desk) => show(c, desk)),
    )
    .get(
      '/complaints/:id{complaint-[0-9]+}/record/:step',
      atDesk(site, async (c, desk) => {
        const context = await contextOf(desk, pathPart(c, 'id'));
        const form = complaintForm(pathPart(c, 'step'), context);
        if (form === undefined) return c.notFound();
        return answer(c, stepPage(desk, context, pathPart(c, 'step'), form));
      }),
    )
    .post(
      '/complaints/:id{complaint-[0-9]+}/record/:step',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const context = await contextOf(desk, pathPart(c, 'id'));
        const step = pathPart(c, 'step');
        const form = complaintForm(step, context);
        if (form === undefined) return c.notFound();
        const reader = readTyped(typed);
        const input = form.read(reader);
        reader.needed('who', say('record.your-name'));
        const seen = Number(typed.get('seen')?.at(-1) ?? 0);
        const written = await writeSent(form.fields(startFields(typed, [])), reader.problems, () =>
          recordComplaintStep(desk.journal, { id: context.record.id, seen }, input, byFrom(typed)),
        );
        if (!written.ok) {
          const sent = { typed, ...written };
          return answer(c, stepPage(desk, context, step, form, sent), sent);
        }
        rememberName(c, typed);
        return c.redirect(`/complaints/${context.record.id}`, 303);
      }),
    )
    .post(
      '/complaints/:id{complaint-[0-9]+}/photos',
      atDesk(site, async (c, desk) => {
        const { typed, files } = await readSent(c);
        const reader = readTyped(typed);
        const id = pathPart(c, 'id');
        reader.needed('who', say('record.your-name'));
        const photo = files.get('photo');
        if (photo === undefined)
          reader.problems.push({ name: 'photo', message: say('complaint.no-file'), allowed: '' });
        const record = await findComplaint(desk.journal, id);
        const written = await writeSent(photoForm(desk, record).fields, reader.problems, async () =>
          addPhoto(
            desk.journal,
            id,
            {
              bytes: new Uint8Array((await photo?.arrayBuffer()) ?? new ArrayBuffer(0)),
              caption: reader.text('caption'),
            },
            byFrom(typed),
          ),
        );
        if (!written.ok) return show(c, desk, written.problems, typed);
        rememberName(c, typed);
        return c.redirect(`/complaints/${id}#photos-heading`, 303);
      }),
    )
    .get(
      '/photos/:photo{photo-[0-9a-f-]+}',
      atDesk(site, async (c, desk) => {
        const photo = await findPhoto(desk.journal, pathPart(c, 'photo'));
        if (c.req.header('if-none-match') === photo.headers.ETag) return c.body(null, 304);
        return c.body(new Uint8Array(photo.bytes), 200, { ...photo.headers });
      }),
    )
    .get(
      '/photos/:photo{photo-[0-9a-f-]+}/withdraw',
      atDesk(site, (c, desk) => withdrawPage(c, desk)),
    )
    .post(
      '/photos/:photo{photo-[0-9a-f-]+}/withdraw',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const reader = readTyped(typed);
        const why = reader.needed('why', say('record.why'));
        reader.needed('who', say('record.your-name'));
        const written = await writeSent(
          [startFields(typed, []).text('why', say('record.why'))],
          reader.problems,
          () => withdrawPhoto(desk.journal, pathPart(c, 'photo'), why, byFrom(typed)),
        );
        if (!written.ok) return withdrawPage(c, desk, { typed, ...written });
        rememberName(c, typed);
        return c.redirect(`/complaints/${written.value.complaint}`, 303);
      }),
    )
    .get(
      '/complaints/:id{complaint-[0-9]+}/letter',
      atDesk(site, async (c, desk) => {
        const record = await findComplaint(desk.journal, pathPart(c, 'id'));
        const names = await loadNames(desk.journal);
        const missing = [
          ...(record.rootCause === null ? [say('complaint.missing-root')] : []),
          ...(record.corrective === '' ? [say('complaint.missing-corrective')] : []),
          ...(record.verification === null ? [say('complaint.missing-verification')] : []),
        ];
        const onLetter = [
          say('complaint.received'),
          say('complaint.claimed'),
          say('record.yarn'),
          say('record.lot'),
          say('complaint.spun'),
        ];
        const section = (title: string, text: string) =>
          text === ''
            ? []
            : [{ title, lines: text.split('\n').filter((line) => line !== ''), table: undefined }];
        return c.html(
          site.page(
            'journal-sheet',
            { title: say('complaint.letter-on', { number: record.number }), section: 'journal' },
            {
              backHref: `/complaints/${record.id}`,
              backText: say('complaint.back-to'),
              demo: desk.demo,
              heading: say('complaint.yours', { fault: record.fabricFault }),
              top: [
                record.customer,
                sayLongDay(new Date().toISOString()),
                say('complaint.reference', { number: record.number }),
              ],
              facts: complaintFacts(record, names)
                .filter((fact) => onLetter.includes(fact.term))
                .map((fact) => ({ ...fact, href: '' })),
              sections: [
                {
                  title: '',
                  lines: [
                    say('complaint.opening', {
                      day: sayLongDay(record.receivedAt),
                      fault: record.fabricFault,
                    }),
                  ],
                  table: undefined,
                },
                ...section(say('complaint.l-containment'), record.containment),
                ...section(
                  say('complaint.l-cause'),
                  record.rootCause === null
                    ? ''
                    : `${record.rootCause.cause === null ? '' : `${causeName(knowledge, record.rootCause.cause)}.\n`}${record.rootCause.text}`,
                ),
                ...section(say('complaint.l-corrective'), record.corrective),
                ...section(say('complaint.l-preventive'), record.preventive),
                ...section(say('complaint.l-verification'), record.verification?.text ?? ''),
                ...(missing.length === 0
                  ? [
                      {
                        title: '',
                        lines: [say('complaint.regret')],
                        table: undefined,
                      },
                    ]
                  : [
                      {
                        title: say('complaint.not-ready'),
                        lines: [say('complaint.still-missing', { what: missing.join(', ') })],
                        table: undefined,
                      },
                    ]),
              ],
              signatures: [say('complaint.signature')],
            },
          ),
        );
      }),
    );

  function withdrawPage(c: Context, desk: Desk, sent?: Sent): Promise<Response> {
    const make = startFields(sent?.typed ?? new Map(), sent?.problems ?? []);
    const id = pathPart(c, 'photo');
    return Promise.resolve(
      answer(
        c,
        {
          ...bare,
          head: viewHead(desk, '/complaints'),
          backHref: '/complaints',
          backText: say('complaint.all'),
          heading: say('complaint.withdraw-photo'),
          lead: say('complaint.withdraw-lead'),
          form: viewForm(
            `/photos/${id}/withdraw`,
            say('record.withdraw-it'),
            [
              make.text('why', say('record.why')),
              make.hidden('key', newKey()),
              make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
            ],
            sent?.problems ?? [],
          ),
        },
        sent,
      ),
    );
  }
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
