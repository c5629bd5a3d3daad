import { type Context, Hono } from 'hono';
import {
  type CaseFilter,
  findRepeatOffenders,
  measureCalibration,
  measureDurations,
  measureHits,
  type Offender,
  type OffenderKind,
  type Pareto,
  type ParetoMeasure,
  rankRootCauses,
} from '../../../journal/index.js';
import { sayFixed } from '../../../language/numbers.js';
import { say } from '../../../language/say.js';
import { joinWords, sentenceCase } from '../../../rules/words.js';
import { writeCsv } from '../../../statistics/tables/write-csv.js';
import type { QualityPage, TableView } from '../../../templates/journal-models.js';
import {
  answerComplaints,
  type ComplaintAnswer,
  type ComplaintCause,
} from '../../journal/complaint-answer.js';
import { atDesk, type Desk, viewHead } from '../../journal/desk.js';
import { loadNames, type Names } from '../../journal/names.js';
import { drawPareto } from '../../pictures/pareto-bars.js';
import { drawReliability } from '../../pictures/reliability.js';
import type { Site } from '../../site.js';
import { monthChoices } from '../../views/journal/case-filter.js';
import { startFields, typedFrom, viewForm } from '../../views/journal/form.js';
import { sayDay } from '../../views/journal/moments.js';
import { type Cell, viewTable } from '../../views/journal/table.js';
import { causeName, sayBound, sayCost, sayShare, saySpan } from '../../views/journal/words.js';
import { sayMinutes, sayNumber, sayPercent, sayRough } from '../../words.js';
import { caseFilterFrom, complaintFilterFrom, monthsFrom, withParams } from './filter-params.js';

const MEASURES = ['number', 'rotor-hours', 'minutes', 'waste'] as const satisfies readonly ParetoMeasure[];
/** Units as they stand in files for other programs, which are in English. */
const FILE_UNITS: Readonly<Record<ParetoMeasure, string>> = {
  number: 'cases',
  'rotor-hours': 'rotor-hours',
  minutes: 'minutes',
  waste: 'kg',
};
const BARS = 12;
const OFFENDERS_SHOWN = 6;

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
    const costs = await costOf(desk, cases);
    const answer = await answerComplaints(journal, complaintFilterFrom(params, new Date().toISOString()));
    const hits = await measureHits(journal, 'first', cases);
    const calibration = await measureCalibration(journal, { filter: cases });
    const durations = await measureDurations(journal, cases);
    const offenders: TableView[] = [];
    for (const kind of ['frame', 'position', 'lot', 'part-age'] as const)
      offenders.push(offenderTable(kind, await findRepeatOffenders(journal, kind, cases), names, wanted));
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
      answer: sayAnswer(answer, pareto, costs, wanted, names),
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
          ...(await customers(desk)).map((one) => [one, one] as const),
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
      complaints: complaintTable(answer, params),
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
      paretoTable: viewTable(
        'pareto',
        say('quality-desk.confirmed-causes'),
        [
          say('complaint.cause'),
          `#${say('complaint.cases')}`,
          ...(by === 'number' ? [] : [`#${sentenceCase(unit)}`]),
          `#${say('quality-desk.interval')}`,
          `#${say('quality-desk.share')}`,
          `#${say('quality-desk.running')}`,
        ],
        pareto.rows.map((row): Cell[] => [
          { text: name(row.cause), href: casesHref({ cause: row.cause }) },
          String(row.cases),
          ...(by === 'number' ? [] : [sayRough(row.value)]),
          row.interval === null
            ? '–'
            : say('quality-desk.bounds', {
                low: sayBound(row.interval.lower),
                high: sayBound(row.interval.upper),
              }),
          row.shareInterval === null
            ? sayShare(row.share)
            : {
                text: sayShare(row.share),
                note: sayRange(row.shareInterval),
              },
          sayShare(row.cumulative),
        ]),
        say('quality-desk.no-confirmed'),
      ),
      paretoNote: `${pareto.rows.length > BARS ? `${say('quality-desk.first-of', { n: BARS, all: pareto.rows.length })} ` : ''}${say('quality-desk.pareto-note', { suspected: pareto.suspected, none: pareto.notFound })}`,
      offenders,
      offenderNote: say('quality-desk.offender-note'),
      durations: viewTable(
        'durations',
        say('quality-desk.times'),
        [
          '',
          `#${say('quality-desk.quarter')}`,
          `#${say('quality-desk.half')}`,
          `#${say('quality-desk.three-quarters')}`,
          `#${say('complaint.cases')}`,
        ],
        [
          ...(durations.find === null
            ? []
            : [
                [
                  say('quality-desk.know'),
                  saySpan(durations.find.lowerQuartile),
                  saySpan(durations.find.median),
                  saySpan(durations.find.upperQuartile),
                  String(durations.find.cases),
                ],
              ]),
          ...(durations.fix === null
            ? []
            : [
                [
                  say('quality-desk.well'),
                  saySpan(durations.fix.lowerQuartile),
                  saySpan(durations.fix.median),
                  saySpan(durations.fix.upperQuartile),
                  String(durations.fix.cases),
                ],
              ]),
        ],
        say('quality-desk.no-closed'),
      ),
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
      reliabilityTable: viewTable(
        'reliability',
        say('quality-desk.said-true'),
        [
          say('quality-desk.chance-given'),
          `#${say('quality-desk.average')}`,
          `#${say('quality-desk.came-true')}`,
          `#${say('quality-desk.of')}`,
        ],
        (calibration?.bins ?? []).map((bin) => [
          say('quality-desk.bounds', { low: sayPercent(bin.from), high: sayPercent(bin.until) }),
          sayPercent(bin.meanForecast),
          {
            text: sayShare(bin.share),
            note: sayRange(bin.interval),
          },
          String(bin.forecasts),
        ]),
        say('quality-desk.no-ranking'),
      ),
      reliabilityNote: say('quality-desk.diagonal'),
      downloads: [
        { href: withParams('/quality.csv', params, { by }), text: say('quality-desk.d-causes') },
        { href: withParams('/quality.json', params, { by }), text: say('quality-desk.d-all') },
        { href: withParams('/complaints.csv', params, {}), text: say('quality-desk.d-complaints') },
        { href: withParams('/cases.csv', params, {}), text: say('quality-desk.d-cases') },
      ],
    };
  }

  function complaintTable(answer: ComplaintAnswer, params: URLSearchParams): TableView {
    const kept = new URLSearchParams(params);
    kept.delete('by');
    return viewTable(
      'complaint-causes',
      say('quality-desk.by-cause'),
      [
        say('record.root-cause'),
        `#${say('record.complaints')}`,
        `#${say('overview.claimed-kg')}`,
        say('quality-desk.cost-of'),
        say('overview.fixed'),
        say('quality-desk.evidence'),
      ],
      answer.causes.map((group): Cell[] => [
        {
          text:
            group.cause === null
              ? say('quality-desk.not-traced')
              : group.cause === 'none'
                ? say('quality-desk.none-known')
                : name(group.cause),
          href:
            group.cause === null || group.cause === 'none'
              ? withParams('/complaints', kept, {})
              : withParams('/complaints', kept, { cause: group.cause }),
        },
        String(group.complaints.length),
        group.claimedKg === 0 ? '–' : sayRough(group.claimedKg),
        sayCost(group.cost) || '–',
        sayFixedCounts(group),
        group.cases.length === 0
          ? '–'
          : {
              text:
                group.cases.length === 1
                  ? say('overview.case-n', { number: group.cases[0]?.number ?? '' })
                  : say('quality-desk.n-cases', { n: group.cases.length }),
              href:
                group.cases.length === 1
                  ? `/cases/${group.cases[0]?.id ?? ''}`
                  : withParams('/cases', kept, { cause: group.cause ?? '' }),
            },
      ]),
      say('quality-desk.no-complaint'),
    );
  }

  function sayAnswer(
    answer: ComplaintAnswer,
    pareto: Pareto,
    costs: { readonly minutes: number; readonly rotorHours: number; readonly wasteKg: number },
    wanted: Wanted,
    names: Names,
  ): string[] {
    const months = monthsFrom(wanted.params);
    const when =
      wanted.from === undefined
        ? say('quality-desk.since-begun')
        : months === undefined
          ? say('quality-desk.since', { day: sayDay(wanted.from) })
          : months === 1
            ? say('quality-desk.last-month')
            : months === 12
              ? say('quality-desk.last-year')
              : say('quality-desk.last-months', { n: months });
    const yarn = wanted.params.get('yarn');
    const customer = wanted.params.get('customer');
    const on = `${yarn === null ? '' : ` ${say('quality-desk.on-yarn', { yarn: names.yarns.get(yarn) ?? yarn })}`}${customer === null ? '' : ` ${say('quality-desk.from-customer', { customer })}`}`;
    const lines: string[] = [];
    const traced = answer.causes.filter((group) => group.cause !== null);
    if (answer.complaints === 0) lines.push(say('quality-desk.none-when', { when, on }));
    else {
      const causes = traced.map(
        (group) =>
          `${group.cause === 'none' ? say('quality-desk.something-else') : say('quality-desk.quoted', { cause: name(group.cause ?? '') })}${group.complaints.length > 1 ? ` (${group.complaints.length})` : ''}`,
      );
      lines.push(
        `${say('quality-desk.there-were', { when, n: answer.complaints, count: answer.complaints, on, kg: `${sayRough(answer.claimedKg)}\u00a0kg` })} ${
          causes.length === 0
            ? say('quality-desk.none-traced')
            : causes.length > 5
              ? say('quality-desk.traced-more', {
                  causes: joinWords(causes.slice(0, 5)),
                  more: causes.length - 5,
                })
              : say('quality-desk.traced', { causes: joinWords(causes) })
        }`,
      );
      const cost = sayCost(sumCosts(traced));
      const all = answer.causes.reduce(
        (sum, group) => ({
          yes: sum.yes + group.fixed.yes,
          partly: sum.partly + group.fixed.partly,
          no: sum.no + group.fixed.no,
          open: sum.open + group.fixed.open,
        }),
        { yes: 0, partly: 0, no: 0, open: 0 },
      );
      lines.push(
        `${cost === '' ? say('quality-desk.cost-unstated') : say('quality-desk.cost-behind', { cost })} ${say(
          'quality-desk.fixed',
          {
            fixed: joinWords([
              ...(all.yes > 0 ? [say('quality-desk.n-yes', { n: all.yes })] : []),
              ...(all.partly > 0 ? [say('quality-desk.n-partly', { n: all.partly })] : []),
              ...(all.no > 0 ? [say('quality-desk.n-no', { n: all.no })] : []),
              ...(all.open > 0 ? [say('quality-desk.n-open', { n: all.open })] : []),
            ]),
          },
        )}`,
      );
    }
    const closed = pareto.cases + pareto.suspected + pareto.notFound;
    const total = sayCost(costs);
    lines.push(
      closed === 0
        ? say('quality-desk.none-closed')
        : total === ''
          ? say('quality-desk.closed', { n: closed, count: closed, confirmed: pareto.cases })
          : say('quality-desk.closed-cost', {
              n: closed,
              count: closed,
              confirmed: pareto.cases,
              cost: total,
            }),
    );
    if (answer.cut) lines.push(say('quality-desk.cut'));
    return lines;
  }

  function offenderTable(
    kind: OffenderKind,
    offenders: readonly Offender[],
    names: Names,
    wanted: Wanted,
  ): TableView {
    const titles = {
      frame: say('quality-desk.o-frame'),
      position: say('quality-desk.o-position'),
      lot: say('quality-desk.o-lot'),
      'part-age': say('quality-desk.o-part-age'),
    } as const;
    const kept = new URLSearchParams(wanted.params);
    kept.delete('by');
    const where = (one: Offender): Cell => {
      if (kind === 'frame')
        return {
          text: names.frames.get(one.what) ?? one.what,
          href: withParams('/cases', kept, { frame: one.what }),
        };
      if (kind === 'lot')
        return {
          text: names.lots.get(one.what) ?? one.what,
          href: withParams('/cases', kept, { lot: one.what }),
        };
      if (kind === 'position')
        return {
          text: say('quality-desk.frame-position', {
            frame: names.frames.get(one.frame ?? '') ?? one.frame ?? '',
            position: one.position ?? '',
          }),
          href: withParams('/cases', kept, { frame: one.frame ?? '', position: String(one.position ?? '') }),
        };
      return one.what.replace(/\d+/g, (hours) => sayNumber(Number(hours)));
    };
    return viewTable(
      `offenders-${kind}`,
      titles[kind],
      [
        say('record.where'),
        `#${say('complaint.cases')}`,
        ...(kind === 'part-age' ? [] : [`#${say('quality-desk.expected')}`, say('quality-desk.more-chance')]),
        say('quality-desk.most-often'),
      ],
      offenders.slice(0, OFFENDERS_SHOWN).map((one): Cell[] => [
        where(one),
        {
          text: String(one.cases),
          note: say('quality-desk.bounds', {
            low: sayBound(one.interval.lower),
            high: sayBound(one.interval.upper),
          }),
        },
        ...(kind === 'part-age'
          ? []
          : [
              one.expected === null ? '–' : sayBound(one.expected),
              one.adjustedP === null
                ? '–'
                : one.adjustedP < 0.05
                  ? say('quality-desk.a-yes')
                  : one.adjustedP < 0.2
                    ? say('quality-desk.a-perhaps')
                    : say('quality-desk.a-no'),
            ]),
        one.topCause === null
          ? '–'
          : {
              text: name(one.topCause.cause),
              note: say('quality-desk.n-of', { n: one.topCause.cases, all: one.cases }),
            },
      ]),
      say('quality-desk.nothing'),
      offenders
        .slice(0, OFFENDERS_SHOWN)
        .map((one) => (one.adjustedP !== null && one.adjustedP < 0.05 ? 'high' : '')),
    );
  }
}

const unitOf = (by: ParetoMeasure): string => say(`quality-desk.u-${by}`);

const sayRange = (interval: { readonly lower: number; readonly upper: number }): string =>
  say('quality-desk.range', {
    low: Math.round(interval.lower * 100),
    high: `${Math.round(interval.upper * 100)}\u00a0%`,
  });

const sumCosts = (groups: readonly ComplaintCause[]) =>
  groups.reduce(
    (sum, { cost }) => ({
      minutes: sum.minutes + cost.minutes,
      rotorHours: sum.rotorHours + cost.rotorHours,
      wasteKg: sum.wasteKg + cost.wasteKg,
    }),
    { minutes: 0, rotorHours: 0, wasteKg: 0 },
  );

const sayFixedCounts = ({ fixed }: ComplaintCause): string =>
  joinWords([
    ...(fixed.yes > 0 ? [say('quality-desk.n-yes', { n: fixed.yes })] : []),
    ...(fixed.partly > 0 ? [say('quality-desk.n-partly', { n: fixed.partly })] : []),
    ...(fixed.no > 0 ? [say('quality-desk.n-no', { n: fixed.no })] : []),
    ...(fixed.open > 0 ? [say('quality-desk.n-not-yet', { n: fixed.open })] : []),
  ]);

/** What all confirmed cases of the filter cost together. */
async function costOf(
  { journal }: Desk,
  filter: CaseFilter,
): Promise<{ minutes: number; rotorHours: number; wasteKg: number }> {
  const total = async (by: ParetoMeasure) => (await rankRootCauses(journal, by, filter)).total;
  return {
    minutes: await total('minutes'),
    rotorHours: await total('rotor-hours'),
    wasteKg: await total('waste'),
  };
}

async function customers({ journal }: Desk): Promise<readonly string[]> {
  return (await answerComplaints(journal, {})).customers;
}

function sayHits(
  hits: Awaited<ReturnType<typeof measureHits>>,
  calibration: Awaited<ReturnType<typeof measureCalibration>>,
): string[] {
  const { first, firstThree } = hits;
  if (first === null || firstThree === null) return [say('quality-desk.no-hits')];
  const lines = [
    say('quality-desk.hits', {
      first: first.cases,
      all: hits.cases,
      share: sayShare(first.share),
      range: sayRange(first.interval),
      shareThree: sayShare(firstThree.share),
      rangeThree: sayRange(firstThree.interval),
    }),
  ];
  if (calibration !== null)
    lines.push(
      `${say('quality-desk.brier', {
        score: sayFixed(calibration.score, 3),
        half: sayFixed(0.25, 3),
        reliability: sayFixed(calibration.binned.reliability, 3),
        uncertainty: sayFixed(calibration.binned.uncertainty, 3),
        resolution: sayFixed(calibration.binned.resolution, 3),
      })}${calibration.few ? ` ${say('quality-desk.too-few', { n: calibration.cases })}` : ''}`,
    );
  return lines;
}
