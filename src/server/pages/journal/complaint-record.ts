import { type Context, Hono } from 'hono';
import {
  type CaseRecord,
  type ComplaintDetail,
  findCase,
  findComplaint,
  findLikelyLinks,
  logComplaint,
  recordComplaintStep,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import type { RecordPage } from '../../../templates/journal-models.js';
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
import { sayComplaintEntry } from '../../views/journal/complaint.js';
import {
  type ComplaintContext,
  type ComplaintForm,
  complaintFields,
  complaintForm,
  readComplaint,
} from '../../views/journal/complaint-step-forms.js';
import { readTyped, startFields, viewForm } from '../../views/journal/form.js';
import { answerForm, bare, type Sent, showComplaint } from './complaint-page.js';

/** Complaints one by one: logging one, its page, its steps. */
export function complaintRecordPages(site: Site): Hono {
  const { knowledge } = site;

  const linkable = async (desk: Desk, record: ComplaintDetail): Promise<CaseRecord[]> => {
    const likely = await findLikelyLinks(desk.journal, record);
    const ids = [...new Set([...record.cases, ...likely.cases])];
    const cases: CaseRecord[] = [];
    for (const id of ids.slice(0, 60)) cases.push(await findCase(desk.journal, id));
    return cases.sort((a, b) => (a.openedAt < b.openedAt ? 1 : -1));
  };

  const logPage = async (c: Context, desk: Desk, sent?: Sent) => {
    const make = startFields(sent?.typed ?? new Map(), sent?.problems ?? []);
    return answerForm(
      site,
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
      atDesk(site, (c, desk) => showComplaint(site, c, desk)),
    )
    .get(
      '/complaints/:id{complaint-[0-9]+}/record/:step',
      atDesk(site, async (c, desk) => {
        const context = await contextOf(desk, pathPart(c, 'id'));
        const form = complaintForm(pathPart(c, 'step'), context);
        if (form === undefined) return c.notFound();
        return answerForm(site, c, stepPage(desk, context, pathPart(c, 'step'), form));
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
          return answerForm(site, c, stepPage(desk, context, step, form, sent), sent);
        }
        rememberName(c, typed);
        return c.redirect(`/complaints/${context.record.id}`, 303);
      }),
    );
}
