import { type Context, Hono } from 'hono';
import { findCase, findDiagnosis, recordDiagnosis, type StaleError } from '../../../journal/index.js';
import { SOURCE_LANGUAGE } from '../../../language/languages.js';
import { say } from '../../../language/say.js';
import { inLanguage } from '../../../language/scope.js';
import { sourceText } from '../../../language/source-text.js';
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
import {
  asDiagnosis,
  asRanking,
  benchQuery,
  inputWithFindings,
  readKept,
  unweighedFindings,
} from '../../journal/kept-case.js';
import { sayKeptLanguage } from '../../journal/kept-language.js';
import type { Site } from '../../site.js';
import { viewKeptCauses } from '../../views/journal/case.js';
import { sayEntry } from '../../views/journal/case-steps.js';
import { type FormProblem, readTyped, startFields, type Typed, viewForm } from '../../views/journal/form.js';
import { sayMoment } from '../../views/journal/moments.js';
import { viewTable } from '../../views/journal/table.js';
import { causeName } from '../../views/journal/words.js';
import { sayUndecided } from '../../views/tried.js';
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
    const found = unweighedFindings(kept, record);
    const undecided = sayUndecided(input, knowledge.book);
    const root = record.closure?.cause;
    const problems = sent?.problems ?? [];
    const make = startFields(sent?.typed ?? new Map(), problems);
    const page: AgainPage = {
      head: viewHead(desk, '/cases'),
      backHref: `/cases/${record.id}`,
      heading: say(same && found > 0 ? 'case-again.heading-found' : 'case-again.heading'),
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
          ? say('case-again.same-knowledge')
          : say('case-again.changed-knowledge', {
              before: kept.knowledgeVersion.slice(0, 12),
              today: now.knowledgeVersion.slice(0, 12),
            }),
        ...(found > 0 ? [say('case-again.more-findings', { n: found })] : []),
        ...(undecided === undefined ? [] : [undecided]),
        ...(leftOut.length === 0 ? [] : [say('case-again.left-out', { parts: leftOut.join(', ') })]),
        ...(root == null
          ? []
          : [
              say('case-again.root-cause', {
                cause: causeName(knowledge, root),
                before: placeThen.get(root) ?? '–',
                today: now.causes.findIndex((cause) => cause.id === root) + 1 || '–',
              }),
            ]),
      ],
      table: viewTable(
        'compared',
        say('case-again.compared'),
        [
          say('case-again.cause'),
          `#${say('case-again.chance-then')}`,
          `#${say('case-again.chance-now')}`,
          `#${say('case-again.place-then')}`,
          `#${say('case-again.place-now')}`,
        ],
        rows.slice(0, 20).map((cause) => [
          {
            text: cause.label,
            href: `/cause/${cause.id}${benchQuery(input, site.mill, record)}`,
            note: cause.id === root ? say('case-again.the-root-cause') : '',
          },
          then.has(cause.id) ? sayPercent(then.get(cause.id) ?? 0) : '–',
          sayPercent(cause.probability),
          String(placeThen.get(cause.id) ?? '–'),
          String(now.causes.indexOf(cause) + 1),
        ]),
        say('case-again.none'),
      ),
      form: viewForm(
        `/cases/${record.id}/again`,
        say('case-again.keep'),
        record.state === 'closed'
          ? []
          : [
              make.hidden('seen', String(record.version)),
              make.hidden('key', newKey()),
              make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
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
            {
              title: say('case-again.diagnosis-of', { number: kept.number, case: record.number }),
              section: 'journal',
            },
            {
              head: viewHead(desk, '/cases'),
              backHref: `/cases/${record.id}`,
              backText: say('record.case-title', { number: record.number, title: record.title }),
              heading: say('case-again.diagnosis', { number: kept.number }),
              when: say('case-again.as-said', {
                when: sayMoment(kept.at),
                who: kept.who,
                version: kept.knowledgeVersion.slice(0, 12),
              }),
              madeIn: sayKeptLanguage(kept.diagnosis),
              summary: sourceText(asRanking(kept.diagnosis)?.summary ?? ''),
              causes: causes.slice(0, CAUSES_SHOWN),
              table: viewTable(
                'ranked',
                say('kept.all-chances'),
                [say('case-again.cause'), `#${say('case-again.chance')}`],
                kept.ranked
                  .filter(([, probability]) => probability >= 0.001)
                  .map(([id, probability]) => [causeName(knowledge, id), sayPercent(probability)]),
                say('case-again.no-ranking'),
              ),
              checks: full?.checks.slice(0, 6).map((check) => sourceText(check.ask)) ?? [],
              actions: full?.actions.slice(0, 6).map((action) => sourceText(action.label)) ?? [],
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
        reader.needed('who', say('record.your-name'));
        const seen = Number(typed.get('seen')?.at(-1) ?? 0);
        const written = await writeSent(
          [startFields(typed, []).text('who', say('record.your-name'))],
          reader.problems,
          async () =>
            recordDiagnosis(
              desk.journal,
              { id: record.id, seen },
              {
                input: caseObject(input),
                // What is kept is kept in English, in whatever language it was asked for.
                diagnosis: await inLanguage(SOURCE_LANGUAGE, () => site.diagnostician.diagnose(input)),
              },
              byFrom(typed),
            ),
        );
        if (!written.ok) return again(c, desk, { typed, ...written });
        rememberName(c, typed);
        return c.redirect(`/cases/${record.id}`, 303);
      }),
    );
}
