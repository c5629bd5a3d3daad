import { type Context, Hono } from 'hono';
import {
  type CaseDetail,
  type CaseStep,
  correctStep,
  findCase,
  recordStep,
  type StaleError,
  type StepInput,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { compareTexts } from '../../../language/words.js';
import type { FactView, RecordPage } from '../../../templates/journal-models.js';
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
import { causeChoices } from '../../views/journal/case-filter.js';
import type { StepContext, StepForm } from '../../views/journal/case-step-form.js';
import { stepForm } from '../../views/journal/case-step-forms.js';
import { sayEntry } from '../../views/journal/case-steps.js';
import { type FormProblem, readTyped, startFields, type Typed, viewForm } from '../../views/journal/form.js';
import { sayPercent } from '../../words.js';
import { choices } from './open-case.js';

interface Sent {
  readonly typed: Typed;
  readonly problems: readonly FormProblem[];
  readonly stale?: StaleError;
}

/** Steps of a case: recorded one by one, and corrected with the old one kept. */
export function caseRecordPages(site: Site): Hono {
  const { knowledge } = site;

  const contextOf = async (
    desk: Desk,
    record: CaseDetail,
    subject: string,
    old?: CaseStep,
  ): Promise<StepContext> => {
    const ranked = record.diagnoses.at(-1)?.ranked ?? [];
    const likely = ranked
      .filter(([id, probability]) => probability >= 0.02 && knowledge.book.causes.has(id))
      .slice(0, 8)
      .map(
        ([id, probability]) =>
          [id, `${knowledge.book.causes.get(id)?.label ?? id} (${sayPercent(probability)})`] as const,
      );
    const first = new Set(likely.map(([id]) => id));
    return {
      record,
      knowledge,
      subject,
      ...choices(await loadNames(desk.journal)),
      causes: [...likely, ...causeChoices(knowledge).filter(([id]) => !first.has(id))],
      ...(old === undefined || old.step === 'diagnosed' ? {} : { old: old as StepInput }),
    };
  };

  const answer = (c: Context, page: RecordPage, sent?: Sent) => {
    const wrong = (sent?.problems.length ?? 0) > 0;
    return c.html(
      site.page(
        'journal-record',
        {
          title: wrong ? say('page.error-title', { title: page.heading }) : page.heading,
          section: 'journal',
        },
        page,
      ),
      sent?.stale !== undefined ? 409 : wrong ? 422 : 200,
    );
  };

  const stepPage = (
    desk: Desk,
    record: CaseDetail,
    form: StepForm,
    action: string,
    more: { readonly correcting?: number; readonly sent?: Sent | undefined },
  ): RecordPage => {
    const { sent, correcting } = more;
    const make = startFields(sent?.typed ?? new Map(), sent?.problems ?? []);
    const own = form.fields(make);
    const common = [
      make.hidden('seen', String(record.version)),
      make.hidden('key', newKey()),
      ...(correcting === undefined
        ? []
        : [make.text('why', say('record.why-corrected'), { hint: say('record.both-stay') })]),
      make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
    ];
    return {
      head: viewHead(desk, '/cases'),
      backHref: `/cases/${record.id}`,
      backText: say('record.case-title', { number: record.number, title: record.title }),
      heading:
        correcting === undefined ? form.heading : say('record.correct-heading', { heading: form.heading }),
      lead: form.lead,
      stale:
        sent?.stale === undefined
          ? undefined
          : viewStale(
              sent.stale,
              sent.stale.since.map((one) => sayEntry(one, knowledge)),
            ),
      cautions: form.cautions,
      how: form.how,
      facts: form.facts,
      form: viewForm(
        action,
        correcting === undefined ? form.submit : say('record.keep-correction'),
        // A correction keeps its time; only what was wrong is typed anew.
        [...own.filter((field) => correcting === undefined || field.name !== 'at'), ...common],
        sent?.problems ?? [],
      ),
      second:
        correcting === undefined || correcting === 1
          ? undefined
          : viewForm(`${action}/withdraw`, say('record.withdraw-it'), [
              make.hidden('seen', String(record.version)),
              make.hidden('key', newKey()),
              { ...make.text('why', say('record.why-withdrawn')), id: 'f-why-withdrawn', error: '' },
              {
                ...make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
                id: 'f-who-withdraws',
                error: '',
              },
            ]),
      secondHeading: say('record.withdraw-heading'),
    };
  };

  return new Hono()
    .get(
      '/cases/:id{case-[0-9]+}/record/:step',
      atDesk(site, async (c, desk) => {
        const record = await findCase(desk.journal, pathPart(c, 'id'));
        const step = pathPart(c, 'step');
        const subject = c.req.query(step === 'check-made' ? 'check' : 'action') ?? '';
        if (step === 'check-made' && !knowledge.book.checks.has(subject))
          return answer(c, choosePage(desk, record, 'check', checkChoices(record)));
        if (step === 'action-taken' && !knowledge.book.actions.has(subject))
          return answer(c, choosePage(desk, record, 'action', actionChoices()));
        const form = stepForm(step, await contextOf(desk, record, subject));
        if (form === undefined || step === 'opened') return c.notFound();
        return answer(c, stepPage(desk, record, form, `/cases/${record.id}/record/${step}`, {}));
      }),
    )
    .post(
      '/cases/:id{case-[0-9]+}/record/:step',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const record = await findCase(desk.journal, pathPart(c, 'id'));
        const step = pathPart(c, 'step');
        const reader = readTyped(typed);
        const subject = reader.text(step === 'check-made' ? 'check' : 'action');
        const form = stepForm(step, await contextOf(desk, record, subject));
        if (form === undefined || step === 'opened') return c.notFound();
        const input = form.read(reader) as StepInput;
        const at = reader.moment('at', say('record.when'));
        reader.needed('who', say('record.your-name'));
        const written = await writeSent(form.fields(startFields(typed, [])), reader.problems, () =>
          recordStep(desk.journal, { id: record.id, seen: seenIn(typed) }, input, byFrom(typed, at)),
        );
        if (!written.ok)
          return answer(
            c,
            stepPage(desk, record, form, `/cases/${record.id}/record/${step}`, {
              sent: { typed, ...written },
            }),
            { typed, ...written },
          );
        rememberName(c, typed);
        return c.redirect(`/cases/${record.id}#step-${written.value.version}`, 303);
      }),
    )
    .get(
      '/cases/:id{case-[0-9]+}/correct/:version{[0-9]+}',
      atDesk(site, async (c, desk) => {
        const record = await findCase(desk.journal, pathPart(c, 'id'));
        const old = record.steps.find((step) => step.version === Number(pathPart(c, 'version')));
        const form =
          old === undefined
            ? undefined
            : stepForm(old.data.step, await contextOf(desk, record, '', old.data));
        if (old === undefined || form === undefined) return c.notFound();
        return answer(
          c,
          stepPage(desk, record, form, `/cases/${record.id}/correct/${old.version}`, {
            correcting: old.version,
          }),
        );
      }),
    )
    .post(
      '/cases/:id{case-[0-9]+}/correct/:version{[0-9]+}',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const record = await findCase(desk.journal, pathPart(c, 'id'));
        const old = record.steps.find((step) => step.version === Number(pathPart(c, 'version')));
        const form =
          old === undefined
            ? undefined
            : stepForm(old.data.step, await contextOf(desk, record, '', old.data));
        if (old === undefined || form === undefined) return c.notFound();
        const reader = readTyped(typed);
        const input = form.read(reader) as StepInput;
        const why = reader.needed('why', say('record.why-corrected'));
        reader.needed('who', say('record.your-name'));
        const latest = old.corrections.at(-1) ?? old.version;
        const written = await writeSent(form.fields(startFields(typed, [])), reader.problems, () =>
          correctStep(
            desk.journal,
            { id: record.id, seen: seenIn(typed) },
            latest,
            input,
            why,
            byFrom(typed),
          ),
        );
        if (!written.ok)
          return answer(
            c,
            stepPage(desk, record, form, `/cases/${record.id}/correct/${old.version}`, {
              correcting: old.version,
              sent: { typed, ...written },
            }),
            { typed, ...written },
          );
        rememberName(c, typed);
        return c.redirect(`/cases/${record.id}#step-${old.version}`, 303);
      }),
    )
    .post(
      '/cases/:id{case-[0-9]+}/correct/:version{[0-9]+}/withdraw',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const record = await findCase(desk.journal, pathPart(c, 'id'));
        const old = record.steps.find((step) => step.version === Number(pathPart(c, 'version')));
        const form =
          old === undefined
            ? undefined
            : stepForm(old.data.step, await contextOf(desk, record, '', old.data));
        if (old === undefined || form === undefined) return c.notFound();
        const reader = readTyped(typed);
        const why = reader.needed('why', say('record.why-withdrawn'));
        reader.needed('who', say('record.your-name'));
        const latest = old.corrections.at(-1) ?? old.version;
        const written = await writeSent([], reader.problems, () =>
          correctStep(desk.journal, { id: record.id, seen: seenIn(typed) }, latest, null, why, byFrom(typed)),
        );
        if (!written.ok)
          return answer(
            c,
            stepPage(desk, record, form, `/cases/${record.id}/correct/${old.version}`, {
              correcting: old.version,
              sent: {
                typed: new Map([...typed].filter(([name]) => ['why', 'who'].includes(name))),
                ...written,
              },
            }),
            { typed, ...written },
          );
        rememberName(c, typed);
        return c.redirect(`/cases/${record.id}`, 303);
      }),
    );

  /** A page that asks which check or action is to be recorded. */
  function choosePage(
    desk: Desk,
    record: CaseDetail,
    kind: 'check' | 'action',
    facts: readonly FactView[],
  ): RecordPage {
    return {
      head: viewHead(desk, '/cases'),
      backHref: `/cases/${record.id}`,
      backText: say('record.case-title', { number: record.number, title: record.title }),
      heading: kind === 'check' ? say('record.which-check') : say('record.which-action'),
      lead: '',
      stale: undefined,
      cautions: [],
      how: [],
      facts,
      form: viewForm('', '', []),
      second: undefined,
      secondHeading: '',
    };
  }

  function checkChoices(record: CaseDetail): FactView[] {
    return [...knowledge.book.checks.values()]
      .sort((a, b) => compareTexts(a.label, b.label))
      .map((check) => ({
        term: record.checks.includes(check.id) ? say('record.made-already') : `${check.minutes}\u00a0min`,
        text: check.label,
        href: `/cases/${record.id}/record/check-made?check=${check.id}`,
      }));
  }

  function actionChoices(): FactView[] {
    return [...knowledge.book.actions.values()]
      .sort((a, b) => compareTexts(a.label, b.label))
      .map((action) => ({
        term: say(`record.k-${action.kind}`),
        text: action.label,
        href: `?action=${action.id}`,
      }));
  }
}

/** The version that whoever sent the form had before them. */
const seenIn = (typed: Typed): number => {
  const seen = Number(typed.get('seen')?.at(-1) ?? 0);
  return Number.isSafeInteger(seen) && seen > 0 ? seen : 0;
};
