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
import { joinWords } from '../../../rules/words.js';
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
import { MONTH_CHOICES } from '../../views/journal/case-filter.js';
import { startFields, typedFrom, viewForm } from '../../views/journal/form.js';
import { sayDay } from '../../views/journal/moments.js';
import { type Cell, viewTable } from '../../views/journal/table.js';
import { causeName, sayBound, sayCost, sayShare, saySpan } from '../../views/journal/words.js';
import { sayPercent, sayRough } from '../../words.js';
import { caseFilterFrom, complaintFilterFrom, monthsFrom, withParams } from './filter-params.js';

const MEASURES: readonly (readonly [ParetoMeasure, string, string])[] = [
  ['number', 'Number of cases', 'cases'],
  ['rotor-hours', 'Lost rotor-hours', 'rotor-hours'],
  ['minutes', 'Working time', 'minutes'],
  ['waste', 'Waste', 'kg'],
];
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
    const by = MEASURES.find(([measure]) => measure === params.get('by'))?.[0] ?? 'number';
    const cases = caseFilterFrom(params, new Date().toISOString());
    return { params, by, cases, from: cases.openedFrom };
  };

  return new Hono()
    .get(
      '/quality',
      atDesk(site, async (c, desk) => {
        const wanted = read(c);
        return c.html(
          site.page('quality', { title: 'Quality desk', section: 'journal' }, await view(desk, wanted)),
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
              `value, ${unitOf(wanted.by)}`,
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
      heading: yarn === '' ? 'Quality desk' : (names.yarns.get(yarn) ?? yarn),
      answer: sayAnswer(answer, pareto, costs, wanted, names),
      yarns: [
        { href: withParams('/quality', params, { yarn: '' }), text: 'All yarns', current: yarn === '' },
        ...[...names.yarns].map(([id, text]) => ({
          href: withParams('/quality', params, {
            yarn: id,
            ...(params.has('months') ? {} : { months: '6' }),
          }),
          text,
          current: id === yarn,
        })),
      ],
      filter: viewForm('/quality', 'Look', [
        make.select('yarn', 'Yarn', [['', 'all'], ...names.yarns]),
        make.select('customer', 'Customer', [
          ['', 'all'],
          ...(await customers(desk)).map((one) => [one, one] as const),
        ]),
        make.select('frame', 'Frame', [['', 'all'], ...names.frames]),
        make.select('months', 'Over', [['all', 'all time'], ...MONTH_CHOICES.slice(1)]),
        make.day('from', 'Or from'),
        make.day('until', 'Until'),
      ]),
      measures: MEASURES.map(([measure, text]) => ({
        href: `${withParams('/quality', params, { by: measure })}#pareto-heading`,
        text,
        current: measure === by,
      })),
      complaints: complaintTable(answer, params),
      pareto:
        pareto.rows.length === 0
          ? undefined
          : drawPareto(
              `Root causes by ${unit}`,
              unit,
              pareto.rows.slice(0, BARS).map((row) => ({
                label: name(row.cause),
                value: row.value,
                interval: row.interval ?? undefined,
                cumulative: row.cumulative,
                figure:
                  by === 'minutes'
                    ? saySpan(row.value)
                    : `${sayRough(row.value)} ${by === 'number' ? '' : unit === 'rotor-hours' ? 'h' : unit}`.trim(),
                href: casesHref({ cause: row.cause }),
              })),
            ),
      paretoTable: viewTable(
        'pareto',
        'Confirmed root causes',
        [
          'Cause',
          '#Cases',
          ...(by === 'number' ? [] : [`#${unit.charAt(0).toUpperCase()}${unit.slice(1)}`]),
          '#95 % interval',
          '#Share',
          '#Running share',
        ],
        pareto.rows.map((row): Cell[] => [
          { text: name(row.cause), href: casesHref({ cause: row.cause }) },
          String(row.cases),
          ...(by === 'number' ? [] : [sayRough(row.value)]),
          row.interval === null ? '–' : `${sayBound(row.interval.lower)} to ${sayBound(row.interval.upper)}`,
          row.shareInterval === null
            ? sayShare(row.share)
            : {
                text: sayShare(row.share),
                note: `${Math.round(row.shareInterval.lower * 100)} to ${Math.round(row.shareInterval.upper * 100)}\u00a0%`,
              },
          sayShare(row.cumulative),
        ]),
        'No case with a confirmed cause.',
      ),
      paretoNote: `${pareto.rows.length > BARS ? `The first ${BARS} of ${pareto.rows.length}. ` : ''}The line on each bar holds what another period like this would bring, 19 times in 20. ${pareto.suspected} more cases have a suspected cause and ${pareto.notFound} none; they are in no bar. A bar leads to its cases.`,
      offenders,
      offenderNote:
        'Expected is what an even share would bring, by the hours run where they are known. “More than chance” is corrected for how many places were looked at.',
      durations: viewTable(
        'durations',
        'Times to find and to fix',
        ['', '#Half within', '#A quarter within', '#Three quarters within', '#Cases'],
        [
          ...(durations.find === null
            ? []
            : [
                [
                  'To know the cause',
                  saySpan(durations.find.median),
                  saySpan(durations.find.lowerQuartile),
                  saySpan(durations.find.upperQuartile),
                  String(durations.find.cases),
                ],
              ]),
          ...(durations.fix === null
            ? []
            : [
                [
                  'To run well again',
                  saySpan(durations.fix.median),
                  saySpan(durations.fix.lowerQuartile),
                  saySpan(durations.fix.upperQuartile),
                  String(durations.fix.cases),
                ],
              ]),
        ],
        'No closed case with a cause.',
      ),
      hits: sayHits(hits, calibration),
      reliability:
        calibration === null || calibration.few
          ? undefined
          : drawReliability(
              'How often the first-ranked cause was right, by the chance it was given',
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
        'Said and come true',
        ['Chance given to the first cause', '#On average', '#Came true', '#Of'],
        (calibration?.bins ?? []).map((bin) => [
          `${sayPercent(bin.from)} to ${sayPercent(bin.until)}`,
          sayPercent(bin.meanForecast),
          {
            text: sayShare(bin.share),
            note: `${Math.round(bin.interval.lower * 100)} to ${Math.round(bin.interval.upper * 100)}\u00a0%`,
          },
          String(bin.forecasts),
        ]),
        'No confirmed case has kept a ranking yet.',
      ),
      reliabilityNote: 'On the diagonal: what was said came true as often as it was said.',
      downloads: [
        { href: withParams('/quality.csv', params, { by }), text: 'Root causes, CSV' },
        { href: withParams('/quality.json', params, { by }), text: 'All of it, JSON' },
        { href: withParams('/complaints.csv', params, {}), text: 'Complaints, CSV' },
        { href: withParams('/cases.csv', params, {}), text: 'Cases, CSV' },
      ],
    };
  }

  function complaintTable(answer: ComplaintAnswer, params: URLSearchParams): TableView {
    const kept = new URLSearchParams(params);
    kept.delete('by');
    return viewTable(
      'complaint-causes',
      'Complaints by root cause',
      ['Root cause', '#Complaints', '#Claimed, kg', 'Cost of the cases', 'Fixed', 'Evidence'],
      answer.causes.map((group): Cell[] => [
        {
          text:
            group.cause === null
              ? 'Not traced yet'
              : group.cause === 'none'
                ? 'None of the known ones'
                : name(group.cause),
          href:
            group.cause === null || group.cause === 'none'
              ? withParams('/complaints', kept, {})
              : withParams('/complaints', kept, { cause: group.cause }),
        },
        String(group.complaints.length),
        group.claimedKg === 0 ? '–' : sayRough(group.claimedKg),
        sayCost(group.cost) || '–',
        sayFixed(group),
        group.cases.length === 0
          ? '–'
          : {
              text:
                group.cases.length === 1
                  ? `Case ${group.cases[0]?.number ?? ''}`
                  : `${group.cases.length} cases`,
              href:
                group.cases.length === 1
                  ? `/cases/${group.cases[0]?.id ?? ''}`
                  : withParams('/cases', kept, { cause: group.cause ?? '' }),
            },
      ]),
      'No complaint in this time.',
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
        ? 'Since the journal began'
        : months === undefined
          ? `Since ${sayDay(wanted.from)}`
          : months === 1
            ? 'In the last month'
            : months === 12
              ? 'In the last year'
              : `In the last ${months} months`;
    const yarn = wanted.params.get('yarn');
    const customer = wanted.params.get('customer');
    const on = `${yarn === null ? '' : ` on ${names.yarns.get(yarn) ?? yarn}`}${customer === null ? '' : ` from ${customer}`}`;
    const lines: string[] = [];
    const traced = answer.causes.filter((group) => group.cause !== null);
    if (answer.complaints === 0) lines.push(`${when} there was no complaint${on}.`);
    else {
      const causes = traced.map(
        (group) =>
          `${group.cause === 'none' ? 'something the knowledge base does not have' : `“${name(group.cause ?? '')}”`}${group.complaints.length > 1 ? ` (${group.complaints.length})` : ''}`,
      );
      lines.push(
        `${when} there ${answer.complaints === 1 ? 'was 1 complaint' : `were ${answer.complaints} complaints`}${on}, ${sayRough(answer.claimedKg)}\u00a0kg claimed. ${
          causes.length === 0
            ? 'None has been traced to its cause yet.'
            : `Traced to ${joinWords(causes.slice(0, 5))}${causes.length > 5 ? ` and ${causes.length - 5} more` : ''}.`
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
        `${cost === '' ? 'What it cost has not been stated' : `The cases behind them cost ${cost}`}. Fixed: ${joinWords(
          [
            ...(all.yes > 0 ? [`${all.yes} yes`] : []),
            ...(all.partly > 0 ? [`${all.partly} partly`] : []),
            ...(all.no > 0 ? [`${all.no} no`] : []),
            ...(all.open > 0 ? [`${all.open} not verified yet`] : []),
          ],
        )}.`,
      );
    }
    const closed = pareto.cases + pareto.suspected + pareto.notFound;
    const total = sayCost(costs);
    lines.push(
      closed === 0
        ? 'No case was closed in this time.'
        : `${closed} ${closed === 1 ? 'case was' : 'cases were'} closed in all, ${pareto.cases} with a confirmed cause${total === '' ? '' : `; together they cost ${total}`}.`,
    );
    if (answer.cut) lines.push('There are more complaints than are looked at here; narrow the time.');
    return lines;
  }

  function offenderTable(
    kind: OffenderKind,
    offenders: readonly Offender[],
    names: Names,
    wanted: Wanted,
  ): TableView {
    const titles = {
      frame: 'Frames',
      position: 'Positions',
      lot: 'Lots',
      'part-age': 'By age of the nozzle',
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
          text: `${names.frames.get(one.frame ?? '') ?? one.frame ?? ''}, position ${one.position ?? ''}`,
          href: withParams('/cases', kept, { frame: one.frame ?? '', position: String(one.position ?? '') }),
        };
      return one.what;
    };
    return viewTable(
      `offenders-${kind}`,
      titles[kind],
      ['Where', '#Cases', ...(kind === 'part-age' ? [] : ['#Expected', 'More than chance?']), 'Most often'],
      offenders.slice(0, OFFENDERS_SHOWN).map((one): Cell[] => [
        where(one),
        {
          text: String(one.cases),
          note: `${sayBound(one.interval.lower)} to ${sayBound(one.interval.upper)}`,
        },
        ...(kind === 'part-age'
          ? []
          : [
              one.expected === null ? '–' : sayBound(one.expected),
              one.adjustedP === null
                ? '–'
                : one.adjustedP < 0.05
                  ? 'yes'
                  : one.adjustedP < 0.2
                    ? 'perhaps'
                    : 'no',
            ]),
        one.topCause === null
          ? '–'
          : { text: name(one.topCause.cause), note: `${one.topCause.cases} of ${one.cases}` },
      ]),
      'Nothing came back.',
      offenders
        .slice(0, OFFENDERS_SHOWN)
        .map((one) => (one.adjustedP !== null && one.adjustedP < 0.05 ? 'high' : '')),
    );
  }
}

const unitOf = (by: ParetoMeasure): string => MEASURES.find(([measure]) => measure === by)?.[2] ?? '';

const sumCosts = (groups: readonly ComplaintCause[]) =>
  groups.reduce(
    (sum, { cost }) => ({
      minutes: sum.minutes + cost.minutes,
      rotorHours: sum.rotorHours + cost.rotorHours,
      wasteKg: sum.wasteKg + cost.wasteKg,
    }),
    { minutes: 0, rotorHours: 0, wasteKg: 0 },
  );

const sayFixed = ({ fixed }: ComplaintCause): string =>
  joinWords([
    ...(fixed.yes > 0 ? [`${fixed.yes} yes`] : []),
    ...(fixed.partly > 0 ? [`${fixed.partly} partly`] : []),
    ...(fixed.no > 0 ? [`${fixed.no} no`] : []),
    ...(fixed.open > 0 ? [`${fixed.open} not yet`] : []),
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
  if (first === null || firstThree === null)
    return ['No confirmed case has kept a ranking yet, so there is nothing to hold the bench against.'];
  const range = (interval: { readonly lower: number; readonly upper: number }) =>
    `${Math.round(interval.lower * 100)} to ${Math.round(interval.upper * 100)}\u00a0%`;
  const lines = [
    `In ${first.cases} of ${hits.cases} confirmed cases the cause that stood first at opening was the root cause: ${sayShare(first.share)} (${range(first.interval)}). Among the first three it was in ${sayShare(firstThree.share)} (${range(firstThree.interval)}).`,
  ];
  if (calibration !== null)
    lines.push(
      `Brier score of the first-ranked chance: ${calibration.score.toFixed(3)} (0 is perfect; always saying one half gives 0.250). Of it ${calibration.binned.reliability.toFixed(3)} is for chances that were off, ${calibration.binned.uncertainty.toFixed(3)} for what cannot be known beforehand, less ${calibration.binned.resolution.toFixed(3)} for telling cases apart.${calibration.few ? ` ${calibration.cases} cases are too few for a curve.` : ''}`,
    );
  return lines;
}
