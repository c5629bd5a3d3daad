import { type Context, Hono } from 'hono';
import { findCase, findDiagnosis, recordDiagnosis, type StaleError } from '../../../journal/index.js';
import { caseObject, writeCase } from '../../../rules/case/write-case.js';
import type { AgainPage } from '../../../templates/journal-models.js';
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
import { asDiagnosis, asRanking, benchQuery, inputWithFindings, readKept } from '../../journal/kept-case.js';
import type { Site } from '../../site.js';
import { viewKeptCauses } from '../../views/journal/case.js';
import { sayEntry } from '../../views/journal/case-steps.js';
import { type FormProblem, readTyped, startFields, type Typed, viewForm } from '../../views/journal/form.js';
import { sayMoment } from '../../views/journal/moments.js';
import { viewTable } from '../../views/journal/table.js';
import { causeName } from '../../views/journal/words.js';
import { sayPercent } from '../../words.js';

const CAUSES_SHOWN = 6;
/** Causes below this in both rankings are not compared. */
const WORTH_COMPARING = 0.02;

/** Kept diagnoses as they were, and the same case on today's rules beside them. */
export function caseDiagnosisPages(site: Site): Hono {
  const { knowledge } = site;

  const again = async (
    c: Context,
    desk: Desk,
    sent?: { readonly typed: Typed; readonly problems: readonly FormProblem[]; readonly stale?: StaleError },
  ) => {
    const record = await findCase(desk.journal, pathPart(c, 'id'));
    const kept = await findDiagnosis(desk.journal, record.id);
    const { case: input, leftOut } = readKept(inputWithFindings(kept, record), site.vocabulary);
    if (input === undefined) return c.notFound();
    const now = await site.diagnostician.rank(input);
    const then = new Map(kept.ranked);
    const placeThen = new Map(kept.ranked.map(([id], n) => [id, n + 1]));
    const rows = now.causes.filter(
      (cause) => cause.probability >= WORTH_COMPARING || (then.get(cause.id) ?? 0) >= WORTH_COMPARING,
    );
    const same = now.knowledgeVersion === kept.knowledgeVersion;
    const found = Object.keys((inputWithFindings(kept, record).findings ?? {}) as object).length;
    const foundThen = Object.keys((kept.input.findings ?? {}) as object).length;
    const root = record.closure?.cause;
    const problems = sent?.problems ?? [];
    const make = startFields(sent?.typed ?? new Map(), problems);
    const page: AgainPage = {
      head: viewHead(desk, '/cases'),
      backHref: `/cases/${record.id}`,
      heading: 'The same case on today’s rules',
      lead: now.summary,
      stale:
        sent?.stale === undefined
          ? undefined
          : viewStale(
              sent.stale,
              sent.stale.since.map((one) => sayEntry(one, knowledge)),
            ),
      notes: [
        same
          ? 'The knowledge is the same as then.'
          : `The knowledge has changed: then ${kept.knowledgeVersion.slice(0, 12)}, now ${now.knowledgeVersion.slice(0, 12)}.`,
        ...(found > foundThen
          ? [
              `${found - foundThen} ${found - foundThen === 1 ? 'finding' : 'findings'} recorded since then ${found - foundThen === 1 ? 'is' : 'are'} weighed as well.`,
            ]
          : []),
        ...(leftOut.length === 0
          ? []
          : [
              `Today’s rules no longer know these parts of the case, which are left out: ${leftOut.join(', ')}.`,
            ]),
        ...(root == null
          ? []
          : [
              `The root cause, ${causeName(knowledge, root)}, stood in place ${placeThen.get(root) ?? '–'} then and stands in place ${now.causes.findIndex((cause) => cause.id === root) + 1 || '–'} now.`,
            ]),
      ],
      table: viewTable(
        'compared',
        'Chances then and now',
        ['Cause', '#Then', '#Now', '#Place then', '#Place now'],
        rows.slice(0, 20).map((cause) => [
          {
            text: cause.label,
            href: `/cause/${cause.id}${benchQuery(input, site.mill, record)}`,
            note: cause.id === root ? 'the root cause' : '',
          },
          then.has(cause.id) ? sayPercent(then.get(cause.id) ?? 0) : '–',
          sayPercent(cause.probability),
          String(placeThen.get(cause.id) ?? '–'),
          String(now.causes.indexOf(cause) + 1),
        ]),
        'No cause comes above 2 %.',
      ),
      form: viewForm(
        `/cases/${record.id}/again`,
        'Keep this diagnosis with the case',
        record.state === 'closed'
          ? []
          : [
              make.hidden('seen', String(record.version)),
              make.hidden('key', newKey()),
              make.text('who', 'Your name', { value: desk.who, autocomplete: 'name' }),
            ],
        problems,
      ),
      benchHref: `/bench${benchQuery(input, site.mill, record)}`,
    };
    return c.html(
      site.page('journal-again', { title: page.heading, section: 'journal' }, page),
      sent === undefined ? 200 : sent.stale === undefined ? 422 : 409,
    );
  };

  return new Hono()
    .get(
      '/cases/:id{case-[0-9]+}/diagnoses/:number{[0-9]+}',
      atDesk(site, async (c, desk) => {
        const record = await findCase(desk.journal, pathPart(c, 'id'));
        const kept = await findDiagnosis(desk.journal, record.id, Number(pathPart(c, 'number')));
        const { case: input } = readKept(kept.input, site.vocabulary);
        const bench = input === undefined ? '/bench' : `/bench${benchQuery(input, site.mill, record)}`;
        const causes = viewKeptCauses(kept, knowledge, bench);
        const full = asDiagnosis(kept.diagnosis);
        return c.html(
          site.page(
            'journal-diagnosis',
            { title: `Diagnosis ${kept.number} of case ${record.number}`, section: 'journal' },
            {
              head: viewHead(desk, '/cases'),
              backHref: `/cases/${record.id}`,
              backText: `Case ${record.number}: ${record.title}`,
              heading: `Diagnosis ${kept.number}`,
              when: `As it was said on ${sayMoment(kept.at)}, kept by ${kept.who}; knowledge ${kept.knowledgeVersion.slice(0, 12)}.`,
              summary: asRanking(kept.diagnosis)?.summary ?? '',
              causes: causes.slice(0, CAUSES_SHOWN),
              table: viewTable(
                'ranked',
                'All causes with their chances',
                ['Cause', '#Chance'],
                kept.ranked
                  .filter(([, probability]) => probability >= 0.001)
                  .map(([id, probability]) => [causeName(knowledge, id), sayPercent(probability)]),
                'None.',
              ),
              checks: full?.checks.slice(0, 6).map((check) => check.ask) ?? [],
              actions: full?.actions.slice(0, 6).map((action) => action.label) ?? [],
              input: input === undefined ? JSON.stringify(kept.input, null, 2) : writeCase(input),
              benchHref: bench,
              replayHref: `/training/replay?kept=${record.id}.${kept.number}`,
            },
          ),
        );
      }),
    )
    .get(
      '/cases/:id{case-[0-9]+}/again',
      atDesk(site, (c, desk) => again(c, desk)),
    )
    .post(
      '/cases/:id{case-[0-9]+}/again',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const record = await findCase(desk.journal, pathPart(c, 'id'));
        const kept = await findDiagnosis(desk.journal, record.id);
        const { case: input } = readKept(inputWithFindings(kept, record), site.vocabulary);
        if (input === undefined) return c.notFound();
        const reader = readTyped(typed);
        reader.needed('who', 'Your name');
        const seen = Number(typed.get('seen')?.at(-1) ?? 0);
        const written = await writeSent(
          [startFields(typed, []).text('who', 'Your name')],
          reader.problems,
          async () =>
            recordDiagnosis(
              desk.journal,
              { id: record.id, seen },
              { input: caseObject(input), diagnosis: await site.diagnostician.diagnose(input) },
              byFrom(typed),
            ),
        );
        if (!written.ok) return again(c, desk, { typed, ...written });
        rememberName(c, typed);
        return c.redirect(`/cases/${record.id}`, 303);
      }),
    );
}
