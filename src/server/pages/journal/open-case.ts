import { type Context, Hono } from 'hono';
import {
  findCase,
  findPartHours,
  type Journal,
  openCase,
  recordDiagnosis,
  setupAt,
} from '../../../journal/index.js';
import { SOURCE_LANGUAGE } from '../../../language/languages.js';
import { say } from '../../../language/say.js';
import { inLanguage } from '../../../language/scope.js';
import { caseObject } from '../../../rules/case/write-case.js';
import { SCOPE_WORDS } from '../../../rules/words.js';
import type { FormField, RecordPage } from '../../../templates/journal-models.js';
import { type BenchState, readState, writeQuery } from '../../bench-state.js';
import { type CaseForm, readCaseForm } from '../../case-form.js';
import {
  atDesk,
  byFrom,
  type Desk,
  newKey,
  readSent,
  rememberName,
  viewHead,
  viewStale,
  writeSent,
} from '../../journal/desk.js';
import { loadNames, type Names } from '../../journal/names.js';
import type { Site } from '../../site.js';
import { asksSomething } from '../../views/answer.js';
import { placeFields, readPlace } from '../../views/journal/case-place-fields.js';
import { sayEntry } from '../../views/journal/case-steps.js';
import { type FormProblem, readTyped, startFields, type Typed, viewForm } from '../../views/journal/form.js';
import { describeSetup } from '../../views/setup-line.js';

/** What is kept is kept in English, in whatever language it was asked for. */
const forRecord = <Result>(work: () => Result): Result => inLanguage(SOURCE_LANGUAGE, work);

/** From the bench to the journal: open a case with the diagnosis in hand, or keep the diagnosis with a case that is open. */
export function openCasePages(site: Site): Hono {
  const read = (query: string): { state: BenchState; form: CaseForm } => {
    const state = readState(new URLSearchParams(query), site.mill);
    return { state, form: readCaseForm(state, site.vocabulary) };
  };
  const show = async (
    c: Context,
    desk: Desk,
    query: string,
    sent?: { readonly typed: Typed; readonly problems: readonly FormProblem[] },
  ) => {
    const { state, form } = read(query);
    const names = await loadNames(desk.journal);
    const defaults = await placeDefaults(desk.journal, state, names);
    const fields = openFields(site, desk, state, form, names, defaults, query, sent);
    const diagnosed = asksSomething(form);
    const page: RecordPage = {
      head: viewHead(desk, '/cases'),
      backHref: `/bench${writeQuery(state)}`,
      backText: say('record.back-bench'),
      heading: say('record.open-case'),
      lead: diagnosed ? say('record.whole-kept') : say('record.no-diagnosis'),
      stale: undefined,
      cautions: [],
      how: [],
      facts: [
        {
          term: say('record.setup'),
          text: describeSetup(form.case.given) || say('record.none-given'),
          href: '',
        },
      ],
      form: viewForm('/cases/new', say('record.open-the-case'), fields, sent?.problems ?? []),
      second: undefined,
      secondHeading: '',
    };
    const wrong = (sent?.problems.length ?? 0) > 0;
    return c.html(
      site.page(
        'journal-record',
        {
          title: wrong
            ? say('page.error-title', { title: say('record.open-case') })
            : say('record.open-case'),
          section: 'journal',
        },
        page,
      ),
      wrong ? 422 : 200,
    );
  };
  return new Hono()
    .get(
      '/cases/new',
      atDesk(site, async (c, desk) => {
        const { state } = read(new URL(c.req.url).search);
        return show(c, desk, writeQuery(state));
      }),
    )
    .post(
      '/cases/new',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const query = typed.get('query')?.at(-1) ?? '';
        const { state, form } = read(query);
        const names = await loadNames(desk.journal);
        const reader = readTyped(typed);
        const title = reader.needed('title', say('record.what-wrong'));
        reader.needed('who', say('record.your-name'));
        const place = readPlace(reader);
        const assignee = reader.text('assignee');
        const note = reader.text('note');
        const fields = openFields(site, desk, state, form, names, {}, query, { typed, problems: [] });
        const written = await writeSent(fields, reader.problems, async () => {
          const diagnosis = asksSomething(form)
            ? await forRecord(() => site.diagnostician.diagnose(form.case))
            : undefined;
          return openCase(
            desk.journal,
            {
              title,
              note,
              assignee,
              ...place,
              partHours: await hoursAt(desk.journal, place),
              ...(diagnosis === undefined ? {} : { diagnosis: { input: caseObject(form.case), diagnosis } }),
            },
            byFrom(typed),
          );
        });
        if (!written.ok) return show(c, desk, query, { typed, problems: written.problems });
        rememberName(c, typed);
        return c.redirect(`/cases/${written.value.id}`, 303);
      }),
    )
    .get(
      '/cases/:id{case-[0-9]+}/keep',
      atDesk(site, async (c, desk) => {
        const { state } = read(new URL(c.req.url).search);
        return keepPage(c, desk, writeQuery(state));
      }),
    )
    .post(
      '/cases/:id{case-[0-9]+}/keep',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const id = c.req.param('id') ?? '';
        const query = typed.get('query')?.at(-1) ?? '';
        const { form } = read(query);
        const reader = readTyped(typed);
        reader.needed('who', say('record.your-name'));
        const seen = Number(typed.get('seen')?.at(-1) ?? 0);
        const written = await writeSent(keepFields(desk, query, seen, typed), reader.problems, async () =>
          recordDiagnosis(
            desk.journal,
            { id, seen },
            {
              input: caseObject(form.case),
              diagnosis: await forRecord(() => site.diagnostician.diagnose(form.case)),
            },
            byFrom(typed),
          ),
        );
        if (!written.ok) return keepPage(c, desk, query, { typed, ...written });
        rememberName(c, typed);
        return c.redirect(`/cases/${id}`, 303);
      }),
    );

  async function keepPage(
    c: Context,
    desk: Desk,
    query: string,
    sent?: {
      readonly typed: Typed;
      readonly problems: readonly FormProblem[];
      readonly stale?: import('../../../journal/index.js').StaleError;
    },
  ): Promise<Response> {
    const record = await findCase(desk.journal, c.req.param('id') ?? '');
    const { state, form } = read(query);
    const problems = sent?.problems ?? [];
    const page: RecordPage = {
      head: viewHead(desk, '/cases'),
      backHref: `/bench${writeQuery(state)}`,
      backText: say('record.back-bench'),
      heading: say('record.keep-with', { number: record.number }),
      lead: record.title,
      stale:
        sent?.stale === undefined
          ? undefined
          : viewStale(
              sent.stale,
              sent.stale.since.map((one) => sayEntry(one, site.knowledge)),
            ),
      cautions: [],
      how: [],
      facts: [
        {
          term: say('record.setup'),
          text: describeSetup(form.case.given) || say('record.none-given'),
          href: '',
        },
      ],
      form: viewForm(
        `/cases/${record.id}/keep`,
        say('record.keep-it'),
        keepFields(desk, query, record.version, sent?.typed, problems),
        problems,
      ),
      second: undefined,
      secondHeading: '',
    };
    return c.html(
      site.page('journal-record', { title: page.heading, section: 'journal' }, page),
      sent === undefined ? 200 : sent.stale === undefined ? 422 : 409,
    );
  }
}

const keepFields = (
  desk: Desk,
  query: string,
  seen: number,
  typed: Typed = new Map(),
  problems: readonly FormProblem[] = [],
): FormField[] => {
  const make = startFields(typed, problems);
  return [
    make.hidden('query', query),
    make.hidden('seen', String(seen)),
    make.hidden('key', newKey()),
    make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
  ];
};

function openFields(
  site: Site,
  desk: Desk,
  state: BenchState,
  form: CaseForm,
  names: Names,
  defaults: Record<string, unknown>,
  query: string,
  sent?: { readonly typed: Typed; readonly problems: readonly FormProblem[] },
): FormField[] {
  const make = startFields(sent?.typed ?? new Map(), sent?.problems ?? []);
  return [
    make.hidden('query', query),
    make.hidden('key', newKey()),
    make.line('title', say('record.what-wrong'), { value: proposeTitle(site, state, form) }),
    ...placeFields(make, choices(names), defaults),
    make.text('assignee', say('record.in-charge'), { hint: say('record.charge-hint-open') }),
    make.area('note', say('record.note'), { value: form.case.note ?? '' }),
    make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
  ];
}

/** Frames, yarns and lots to choose from. */
export const choices = (names: Names) => ({
  frames: [...names.frames],
  yarns: [...names.yarns],
  lots: [...names.lots],
});

/** A title from the first sign and the place, for the hand to better. */
function proposeTitle(site: Site, state: BenchState, form: CaseForm): string {
  if (form.case.title !== undefined) return form.case.title;
  const [sign] = Object.entries(form.case.observations).filter(([, level]) => level !== 'absent');
  const what = sign === undefined ? undefined : site.knowledge.book.symptoms.get(sign[0])?.label;
  const [scope] = form.case.scope;
  const where = scope !== undefined && scope !== 'frame' ? SCOPE_WORDS[scope] : (state.frame?.name ?? '');
  return [what ?? '', where].filter((part) => part !== '').join(', ');
}

async function placeDefaults(
  journal: Journal,
  state: BenchState,
  names: Names,
): Promise<Record<string, unknown>> {
  const frame = state.frame?.id;
  if (frame === undefined || !names.frames.has(frame)) return {};
  const setup = await setupAt(journal, frame, new Date().toISOString());
  return { frame, yarn: setup?.yarn ?? null, lot: setup?.lot ?? null };
}

/** Hours the parts had run there: at the position, or at the middle one of the frame. */
async function hoursAt(
  journal: Journal,
  place: { readonly frame: string | null; readonly position: number | null },
): Promise<{ nozzle: number | null; tube: number | null; rotor: number | null }> {
  const hours: { nozzle: number | null; tube: number | null; rotor: number | null } = {
    nozzle: null,
    tube: null,
    rotor: null,
  };
  if (place.frame === null) return hours;
  const parts = await findPartHours(journal, place.frame);
  for (const part of ['nozzle', 'tube', 'rotor'] as const) {
    const all = parts
      .filter((one) => one.part === part && (place.position === null || one.position === place.position))
      .map((one) => one.hours)
      .sort((a, b) => a - b);
    const middle = all[Math.floor(all.length / 2)];
    if (middle !== undefined) hours[part] = Math.round(middle);
  }
  return hours;
}
