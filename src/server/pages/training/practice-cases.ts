import { type Context, Hono } from 'hono';
import {
  addPracticeCase,
  changePracticeCase,
  findPracticeCase,
  listPracticeCases,
  type PracticeCaseInput,
  type PracticeCaseRecord,
  type StaleError,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import {
  type KeyVerdict,
  readTrainerCase,
  type TrainerCase,
  TrainingError,
} from '../../../rules/training/index.js';
import type { PracticeCaseEditPage } from '../../../templates/course-models.js';
import {
  atDesk,
  byFrom,
  type Desk,
  newKey,
  pathPart,
  readSent,
  rememberName,
  viewStale,
  writeSent,
} from '../../journal/desk.js';
import type { Site } from '../../site.js';
import type { TrainingHall } from '../../training/hall.js';
import { namesOfCase, namesWithin } from '../../training/no-names.js';
import { type FormProblem, readTyped, startFields, viewForm } from '../../views/journal/form.js';
import { sayMoment } from '../../views/journal/moments.js';
import { viewTable } from '../../views/journal/table.js';
import { viewProblems, viewVerdict } from '../../views/training/own-case.js';

/** What a page of a case shows besides the record itself. */
interface Shown {
  readonly name: string;
  readonly text: string;
  readonly who: string;
  readonly origin: 'written' | 'journal';
  readonly fromCase: string | null;
  readonly notes?: readonly string[];
  readonly problems?: PracticeCaseEditPage['problems'];
  readonly fieldProblems?: readonly FormProblem[];
  readonly verdict?: KeyVerdict;
  readonly stale?: StaleError;
}

/** A trainer's own practice cases: written, held against the product, kept with every version. */
export function practiceCasePages(site: Site, hall: () => TrainingHall): Hono {
  /** Reads what was typed, holds it against the product and, if that is wanted and nothing stands against it, keeps it. */
  const take = async (c: Context, desk: Desk, old: PracticeCaseRecord | undefined): Promise<Response> => {
    const { typed } = await readSent(c);
    const reader = readTyped(typed);
    const text = (typed.get('text')?.at(-1) ?? '').replace(/\r\n/g, '\n');
    const fromCase =
      old === undefined ? (/^case-[0-9]{1,9}$/.exec(reader.text('fromCase'))?.[0] ?? null) : old.fromCase;
    const origin = old?.origin ?? (fromCase === null ? 'written' : 'journal');
    const shown: Shown = { name: reader.text('title'), text, who: reader.text('who'), origin, fromCase };
    const show = (more: Partial<Shown>, status: 200 | 409 | 422) =>
      c.html(renderCase(site, old, { ...shown, ...more }), status);
    let own: TrainerCase;
    try {
      own = readTrainerCase(text, hall().room);
    } catch (error) {
      if (!(error instanceof TrainingError)) throw error;
      return show({ problems: viewProblems(error.problems) }, 422);
    }
    const verdict = await hall().work.checkKey(own);
    if (reader.text('do') !== 'keep') return show({ verdict }, 200);
    reader.needed('title', say('own-case.called'));
    reader.needed('who', say('record.your-name'));
    if (fromCase !== null) {
      const named = namesWithin(`${shown.name}\n${text}`, await namesOfCase(desk.journal, fromCase));
      if (named.length > 0)
        reader.problems.push({
          name: 'title',
          message: say('own-case.says-whose', { names: named.map((one) => `“${one}”`).join(', ') }),
          allowed: '',
        });
    }
    if (reader.problems.length > 0) return show({ verdict, fieldProblems: reader.problems }, 422);
    if (!verdict.agrees && reader.text('sure') !== 'yes')
      return show(
        {
          verdict,
          notes: [say('own-case.not-kept')],
        },
        422,
      );
    const record: PracticeCaseInput = {
      title: shown.name,
      text,
      origin,
      fromCase,
      agrees: verdict.agrees,
      knowledge: site.knowledge.version,
      retired: old?.retired ?? false,
    };
    const controls = [startFields(typed, []).text('title', say('own-case.called'))];
    const written = await writeSent<string>(controls, [], async () => {
      if (old === undefined) return (await addPracticeCase(desk.journal, record, byFrom(typed))).id;
      await changePracticeCase(desk.journal, old.id, Number(reader.text('seen')), record, byFrom(typed));
      return old.id;
    });
    if (!written.ok)
      return written.stale === undefined
        ? show({ verdict, fieldProblems: written.problems }, 422)
        : show({ verdict, stale: written.stale }, 409);
    rememberName(c, typed);
    return c.redirect(`/training/cases/${written.value}`, 303);
  };

  return new Hono()
    .get(
      '/training/cases',
      atDesk(site, async (c, desk) => {
        const cases = await listPracticeCases(desk.journal);
        return c.html(
          site.page(
            'practice-cases',
            { title: say('training.own-cases'), section: 'training' },
            {
              demo: desk.demo,
              links: [
                { href: '/training/cases/new', text: say('own-case.write') },
                { href: '/training/cases/from-journal', text: say('own-case.make-one') },
                { href: '/training/courses', text: say('training.courses') },
              ],
              table: viewTable(
                'cases',
                say('own-case.cases'),
                [
                  say('own-case.case'),
                  say('own-case.made-from'),
                  say('own-case.key'),
                  `#${say('own-case.version')}`,
                  say('own-case.changed'),
                ],
                cases.map((one) => [
                  {
                    text: one.title,
                    href: `/training/cases/${one.id}`,
                    ...(one.retired ? { note: say('own-case.retired') } : {}),
                  },
                  one.origin === 'journal' ? say('own-case.a-closed') : say('own-case.written-word'),
                  one.agrees ? say('own-case.agrees') : say('own-case.agrees-not'),
                  String(one.version),
                  sayMoment(one.changedAt),
                ]),
                say('own-case.none'),
              ),
            },
          ),
        );
      }),
    )
    .get(
      '/training/cases/new',
      atDesk(site, async (c, desk) =>
        c.html(
          renderCase(site, undefined, {
            name: '',
            text: EXAMPLE,
            who: desk.who,
            origin: 'written',
            fromCase: null,
          }),
        ),
      ),
    )
    .post(
      '/training/cases/new',
      atDesk(site, (c, desk) => take(c, desk, undefined)),
    )
    .get(
      '/training/cases/:case{own-[0-9]+}',
      atDesk(site, async (c, desk) => {
        const old = await findPracticeCase(desk.journal, pathPart(c, 'case'));
        const { title: name, text, origin, fromCase } = old;
        return c.html(renderCase(site, old, { name, text, who: desk.who, origin, fromCase }));
      }),
    )
    .post(
      '/training/cases/:case{own-[0-9]+}',
      atDesk(site, async (c, desk) =>
        take(c, desk, await findPracticeCase(desk.journal, pathPart(c, 'case'))),
      ),
    )
    .post(
      '/training/cases/:case{own-[0-9]+}/use',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const old = await findPracticeCase(desk.journal, pathPart(c, 'case'));
        const { id, number: _, version, changedAt: __, ...fields } = old;
        const who = byFrom(typed).who;
        await changePracticeCase(
          desk.journal,
          id,
          version,
          { ...fields, retired: typed.get('use')?.at(-1) === 'no' },
          { who: who === '' ? 'Trainer' : who },
        );
        return c.redirect(`/training/cases/${id}`, 303);
      }),
    );
}

/** The page on which a practice case is written or changed. */
export function renderCase(site: Site, old: PracticeCaseRecord | undefined, shown: Shown): string {
  const { verdict, stale } = shown;
  const problemAt = (name: string) =>
    (shown.fieldProblems ?? [])
      .filter((problem) => problem.name === name)
      .map((problem) => problem.message)
      .join(' ');
  const doubtful = verdict?.agrees === false;
  const make = startFields(new Map(), []);
  const heading = old === undefined ? say('own-case.write-practice') : old.title;
  const wrong = (shown.problems ?? []).length > 0 || (shown.fieldProblems ?? []).length > 0;
  const page: PracticeCaseEditPage = {
    heading,
    title: heading,
    backHref: '/training/cases',
    stale:
      stale === undefined
        ? undefined
        : viewStale(
            stale,
            stale.since.map((one) =>
              say('own-case.since', { who: one.who, when: sayMoment(one.at), n: one.version }),
            ),
          ),
    problems: [
      ...(shown.problems ?? []),
      ...(shown.fieldProblems ?? []).map((one) => ({
        place: '',
        message: one.message,
        value: '',
        allowed: one.allowed,
      })),
    ],
    notes: [
      ...(shown.notes ?? []),
      ...(old === undefined
        ? []
        : [
            say(old.agrees ? 'own-case.version-agreed' : 'own-case.version-not', {
              n: old.version,
              version: old.knowledge.slice(0, 12),
            }),
          ]),
    ],
    verdict: verdict === undefined ? undefined : viewVerdict(verdict),
    action: old === undefined ? '/training/cases/new' : `/training/cases/${old.id}`,
    hidden: [
      { name: 'key', value: newKey() },
      ...(old === undefined
        ? [{ name: 'fromCase', value: shown.fromCase ?? '' }]
        : [{ name: 'seen', value: String(old.version) }]),
      ...(doubtful ? [{ name: 'sure', value: 'yes' }] : []),
    ],
    name: shown.name,
    nameError: problemAt('title'),
    text: shown.text,
    who: shown.who,
    whoError: problemAt('who'),
    submit: doubtful ? say('own-case.keep-all-same') : say('own-case.keep'),
    practiseHref: old === undefined ? '' : `/training/practice?case=${old.id}.${old.version}`,
    retire:
      old === undefined
        ? undefined
        : viewForm(
            `/training/cases/${old.id}/use`,
            old.retired ? say('own-case.use-again') : say('own-case.out-of-use'),
            [make.hidden('use', old.retired ? 'yes' : 'no'), make.hidden('who', shown.who)],
          ),
  };
  return site.page(
    'practice-case',
    { title: wrong ? say('page.error-title', { title: heading }) : heading, section: 'training' },
    page,
  );
}

/** What a new case starts from. */
const EXAMPLE = `setup: {fibre: cotton, count: 20 Ne, end-use: knitting, tube: {insert: 2-groove}}
observations: {end-breaks: marked, breaks-after-piecing: slight}
scope: position
onset: since-change
changed: [cleaning-round]
answer-key:
  causes: [insert-missing-or-worn]
  answers: {insert-look: missing}
  notes: What to say when it is talked over.
`;
