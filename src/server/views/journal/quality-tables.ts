import type {
  measureCalibration,
  measureDurations,
  Offender,
  OffenderKind,
  Pareto,
  ParetoMeasure,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import { sentenceCase } from '../../../rules/words.js';
import type { TableView } from '../../../templates/journal-models.js';
import type { ComplaintAnswer } from '../../journal/complaint-answer.js';
import type { Names } from '../../journal/names.js';
import { sayNumber, sayPercent, sayRough } from '../../words.js';
import { withParams } from './links.js';
import { sayFixedCounts, sayRange } from './quality-answer.js';
import { type Cell, viewTable } from './table.js';
import { causeName, sayBound, sayCost, sayShare, saySpan } from './words.js';

const OFFENDERS_SHOWN = 6;

/** Complaints by the cause they were traced to. */
export function complaintTable(
  answer: ComplaintAnswer,
  params: URLSearchParams,
  knowledge: Knowledge,
): TableView {
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
              : causeName(knowledge, group.cause),
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

/** Where cases come back, of one kind of place. */
export function offenderTable(
  kind: OffenderKind,
  offenders: readonly Offender[],
  names: Names,
  params: URLSearchParams,
  knowledge: Knowledge,
): TableView {
  const titles = {
    frame: say('quality-desk.o-frame'),
    position: say('quality-desk.o-position'),
    lot: say('quality-desk.o-lot'),
    'part-age': say('quality-desk.o-part-age'),
  } as const;
  const kept = new URLSearchParams(params);
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
            text: causeName(knowledge, one.topCause.cause),
            note: say('quality-desk.n-of', { n: one.topCause.cases, all: one.cases }),
          },
    ]),
    say('quality-desk.nothing'),
    offenders
      .slice(0, OFFENDERS_SHOWN)
      .map((one) => (one.adjustedP !== null && one.adjustedP < 0.05 ? 'high' : '')),
  );
}

/** Root causes with their intervals and shares. */
export const paretoTable = (
  pareto: Pareto,
  by: ParetoMeasure,
  knowledge: Knowledge,
  casesHref: (changes: Readonly<Record<string, string>>) => string,
): TableView =>
  viewTable(
    'pareto',
    say('quality-desk.confirmed-causes'),
    [
      say('complaint.cause'),
      `#${say('complaint.cases')}`,
      ...(by === 'number' ? [] : [`#${sentenceCase(unitOf(by))}`]),
      `#${say('quality-desk.interval')}`,
      `#${say('quality-desk.share')}`,
      `#${say('quality-desk.running')}`,
    ],
    pareto.rows.map((row): Cell[] => [
      { text: causeName(knowledge, row.cause), href: casesHref({ cause: row.cause }) },
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
  );

/** How long it takes to find a cause, and to run well again. */
export const durationsTable = (durations: Awaited<ReturnType<typeof measureDurations>>): TableView =>
  viewTable(
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
  );

/** Chances said and how often they came true. */
export const reliabilityTable = (calibration: Awaited<ReturnType<typeof measureCalibration>>): TableView =>
  viewTable(
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
  );

/** The unit of a measure, in words. */
export const unitOf = (by: ParetoMeasure): string => say(`quality-desk.u-${by}`);
