import { type Context, Hono } from 'hono';
import {
  type CaseFilter,
  findRepeatOffenders,
  listCustomers,
  measureCalibration,
  measureDurations,
  measureHits,
  type ParetoMeasure,
  rankRootCauses,
  sumCaseCosts,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { writeCsv } from '../../../statistics/tables/write-csv.js';
import type { QualityPage, TableView } from '../../../templates/journal-models.js';
import { answerComplaints } from '../../journal/complaint-answer.js';
import { atDesk, type Desk, viewHead } from '../../journal/desk.js';
import { loadNames } from '../../journal/names.js';
import { drawPareto } from '../../pictures/pareto-bars.js';
import { drawReliability } from '../../pictures/reliability.js';
import type { Site } from '../../site.js';
import { monthChoices } from '../../views/journal/case-filter.js';
import { startFields, typedFrom, viewForm } from '../../views/journal/form.js';
import { withParams } from '../../views/journal/links.js';
import { sayAnswer, sayHits } from '../../views/journal/quality-answer.js';
import {
  complaintTable,
  durationsTable,
  offenderTable,
  paretoTable,
  reliabilityTable,
  unitOf,
} from '../../views/journal/quality-tables.js';
import { causeName } from '../../views/journal/words.js';
import { sayMinutes, sayRough } from '../../words.js';
import { caseFilterFrom, complaintFilterFrom, monthsFrom } from './filter-params.js';

const MEASURES = ['number', 'rotor-hours', 'minutes', 'waste'] as const satisfies readonly ParetoMeasure[];
/** Units as they stand in files for other programs, which are in English. */
const FILE_UNITS: Readonly<Record<ParetoMeasure, string>> = {
  number: 'cases',
  'rotor-hours': 'rotor-hours',
  minutes: 'minutes',
  waste: 'kg',
};
const BARS = 12;

interface Wanted {
  readonly params: URLSearchParams;
  readonly by: ParetoMeasure;
  readonly cases: CaseFilter;
  readonly from: string | undefined;
}

/** The quality desk: what went wrong, where it comes back, what it cost, and how far the bench can be trusted. */
export function qualityPages(site: Site): Hono {
  const { knowledge } = site;
  const name = (id: string) => causeName(knowledge, id);

  const read = (c: Context): Wanted => {
    const all = new URL(c.req.url).searchParams;
    const params = new URLSearchParams();
    for (const key of ['yarn', 'customer', 'frame', 'lot', 'months', 'from', 'until', 'by'])
      if ((all.get(key) ?? '') !== '') params.set(key, all.get(key) ?? '');
    // Without a word about time the last year is meant; "all" says all time.
    if (!params.has('months') && !params.has('from') && all.get('months') !== '') params.set('months', '12');
    const by = MEASURES.find((measure) => measure === params.get('by')) ?? 'number';
    const cases = caseFilterFrom(params, new Date().toISOString());
    return { params, by, cases, from: cases.openedFrom };
  };

  return new Hono()
    .get(
      '/quality',
      atDesk(site, async (c, desk) => {
        const wanted = read(c);
        return c.html(
          site.page(
            'quality',
            { title: say('quality-desk.title'), section: 'journal' },
            await view(desk, wanted),
          ),
        );
      }),
    )
    .get(
      '/quality.csv',
      atDesk(site, async (c, desk) => {
        const wanted = read(c);
        const pareto = await rankRootCauses(desk.journal, wanted.by, wanted.cases);
        return c.body(
          writeCsv(
            [
              'cause',
              'in words',
              'cases',
              `value, ${FILE_UNITS[wanted.by]}`,
              'low',
              'high',
              'share',
              'running share',
            ],
            pareto.rows.map((row) => [
              row.cause,
              name(row.cause),
              row.cases,
              row.value,
              row.interval?.lower,
              row.interval?.upper,
              row.share,
              row.cumulative,
            ]),
          ),
          200,
          {
            'Content-Type': 'text/csv; charset=utf-8',
            'Content-Disposition': 'attachment; filename="root-causes.csv"',
          },
        );
      }),
    )
    .get(
      '/quality.json',
      atDesk(site, async (c, desk) => {
        const wanted = read(c);
        const { journal } = desk;
        const body = {
          filter: wanted.cases,
          pareto: await rankRootCauses(journal, wanted.by, wanted.cases),
          complaints: await answerComplaints(
            journal,
            complaintFilterFrom(wanted.params, new Date().toISOString()),
            { wholeCases: true },
          ),
          hits: await measureHits(journal, 'first', wanted.cases),
          calibration: await measureCalibration(journal, { filter: wanted.cases }),
          durations: await measureDurations(journal, wanted.cases),
        };
        return c.body(`${JSON.stringify(body, null, 1)}\n`, 200, {
          'Content-Type': 'application/json; charset=utf-8',
          'Content-Disposition': 'attachment; filename="quality.json"',
        });
      }),
    );

  async function view(desk: Desk, wanted: Wanted): Promise<QualityPage> {
    const { journal } = desk;
    const { params, by, cases } = wanted;
    const names = await loadNames(journal);
    const pareto = await rankRootCauses(journal, by, cases);
    const costs = await sumCaseCosts(journal, cases);
    const answer = await answerComplaints(journal, complaintFilterFrom(params, new Date().toISOString()));
    const hits = await measureHits(journal, 'first', cases);
    const calibration = await measureCalibration(journal, { filter: cases });
    const durations = await measureDurations(journal, cases);
    const offenders: TableView[] = [];
    for (const kind of ['frame', 'position', 'lot', 'part-age'] as const)
      offenders.push(
        offenderTable(kind, await findRepeatOffenders(journal, kind, cases), names, params, knowledge),
      );
    const make = startFields(typedFrom(params), []);
    const casesHref = (changes: Readonly<Record<string, string>>) => {
      const kept = new URLSearchParams(params);
      kept.delete('by');
      return withParams('/cases', kept, { outcome: 'confirmed', ...changes });
    };
    const yarn = params.get('yarn') ?? '';
    const unit = unitOf(by);
    return {
      head: viewHead(desk, '/quality'),
      heading: yarn === '' ? say('quality-desk.title') : (names.yarns.get(yarn) ?? yarn),
      answer: sayAnswer(
        answer,
        pareto,
        costs,
        { params, from: wanted.from, months: monthsFrom(params) },
        names,
        knowledge,
      ),
      yarns: [
        {
          href: withParams('/quality', params, { yarn: '' }),
          text: say('quality-desk.all-yarns'),
          current: yarn === '',
        },
        ...[...names.yarns].map(([id, text]) => ({
          href: withParams('/quality', params, {
            yarn: id,
            ...(params.has('months') ? {} : { months: '6' }),
          }),
          text,
          current: id === yarn,
        })),
      ],
      filter: viewForm('/quality', say('quality-desk.look'), [
        make.select('yarn', say('record.yarn'), [['', say('quality-desk.all')], ...names.yarns]),
        make.select('customer', say('complaint.customer'), [
          ['', say('quality-desk.all')],
          ...(await listCustomers(journal)).map((one) => [one, one] as const),
        ]),
        make.select('frame', say('record.frame'), [['', say('quality-desk.all')], ...names.frames]),
        make.select('months', say('quality-desk.over'), [
          ['all', say('overview.all-time')],
          ...monthChoices().slice(1),
        ]),
        make.day('from', say('overview.or-from')),
        make.day('until', say('overview.until')),
      ]),
      measures: MEASURES.map((measure) => ({
        href: `${withParams('/quality', params, { by: measure })}#pareto-heading`,
        text: say(`quality-desk.m-${measure}`),
        current: measure === by,
      })),
      complaints: complaintTable(answer, params, knowledge),
      pareto:
        pareto.rows.length === 0
          ? undefined
          : drawPareto(
              say('quality-desk.causes-by', { unit }),
              unit,
              pareto.rows.slice(0, BARS).map((row) => ({
                label: name(row.cause),
                value: row.value,
                interval: row.interval ?? undefined,
                cumulative: row.cumulative,
                figure:
                  by === 'minutes'
                    ? sayMinutes(row.value)
                    : `${sayRough(row.value)} ${by === 'number' ? '' : by === 'rotor-hours' ? 'h' : unit}`.trim(),
                href: casesHref({ cause: row.cause }),
              })),
            ),
      paretoTable: paretoTable(pareto, by, knowledge, casesHref),
      paretoNote: `${pareto.rows.length > BARS ? `${say('quality-desk.first-of', { n: BARS, all: pareto.rows.length })} ` : ''}${say('quality-desk.pareto-note', { suspected: pareto.suspected, none: pareto.notFound })}`,
      offenders,
      offenderNote: say('quality-desk.offender-note'),
      durations: durationsTable(durations),
      hits: sayHits(hits, calibration),
      reliability:
        calibration === null || calibration.few
          ? undefined
          : drawReliability(
              say('quality-desk.right-picture'),
              calibration.bins.map((bin) => ({
                forecast: bin.meanForecast,
                share: bin.share,
                lower: bin.interval.lower,
                upper: bin.interval.upper,
                forecasts: bin.forecasts,
              })),
            ),
      reliabilityTable: reliabilityTable(calibration),
      reliabilityNote: say('quality-desk.diagonal'),
      downloads: [
        { href: withParams('/quality.csv', params, { by }), text: say('quality-desk.d-causes') },
        { href: withParams('/quality.json', params, { by }), text: say('quality-desk.d-all') },
        { href: withParams('/complaints.csv', params, {}), text: say('quality-desk.d-complaints') },
        { href: withParams('/cases.csv', params, {}), text: say('quality-desk.d-cases') },
      ],
    };
  }
}
