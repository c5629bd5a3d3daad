import { type CsvCell, writeCsv } from '../tables/write-csv.js';
import type { CountAnalysis, Figure, Period } from './types.js';

/** The tables of an analysis that can be taken away as CSV. */
export const EXPORTS = ['positions', 'sections', 'frames', 'periods', 'day', 'reasons', 'figures'] as const;
export type ExportName = (typeof EXPORTS)[number];

/** One table of an analysis as CSV, with headers that this program reads back; only the header when there is nothing in it. */
export function exportTable(analysis: CountAnalysis, name: ExportName): string {
  switch (name) {
    case 'positions':
      return writeCsv(
        [
          'frame',
          'position',
          'breaks',
          'rotor-hours',
          'per 1000',
          'from',
          'to',
          'against the others',
          'chance',
          'chance corrected',
          'stands out',
        ],
        analysis.places.flatMap((place) =>
          place.positions.map((one): CsvCell[] => [
            place.frame,
            one.id,
            one.count,
            ...rateCells(analysis.hoursKnown, one.rate),
            one.ratioToRest,
            one.pExact,
            one.adjustedP,
            place.flagged.includes(one.id)
              ? 'position'
              : place.sections.some((section) => section.ids.includes(one.id))
                ? 'section'
                : '',
          ]),
        ),
      );
    case 'sections':
      return writeCsv(
        ['frame', 'first', 'last', 'breaks', 'expected', 'against the rest', 'chance'],
        analysis.places.flatMap((place) =>
          place.sections.map((one) => [
            place.frame,
            one.first,
            one.last,
            one.count,
            one.expected,
            one.ratioToRest,
            one.p,
          ]),
        ),
      );
    case 'frames':
      return writeCsv(
        [
          'frame',
          'breaks',
          'rotor-hours',
          'per 1000',
          'from',
          'to',
          'against the others',
          'chance corrected',
        ],
        analysis.frames.map((one) => [
          one.id,
          one.rate.count,
          ...rateCells(analysis.hoursKnown, one.rate),
          one.ratioToRest,
          one.adjustedP,
        ]),
      );
    case 'periods':
      return writeCsv(
        ['of', 'period', 'start', 'breaks', 'rotor-hours', 'per 1000'],
        [
          ...(analysis.time?.periods ?? []).map((one) => periodCells('all', one, analysis.hoursKnown)),
          ...(analysis.timeOfFlagged?.periods ?? []).map((one) =>
            periodCells('positions named', one, analysis.hoursKnown),
          ),
        ],
      );
    case 'day':
      return writeCsv(
        [
          analysis.day?.by ?? 'slot',
          'breaks',
          'rotor-hours',
          'per 1000',
          'from',
          'to',
          'against the others',
          'chance corrected',
        ],
        (analysis.day?.slots ?? []).map((one) => [
          one.id,
          one.rate.count,
          ...rateCells(analysis.hoursKnown, one.rate),
          one.ratioToRest,
          one.adjustedP,
        ]),
      );
    case 'reasons':
      return writeCsv(
        ['reason', 'breaks'],
        analysis.reasons.map((one) => [one.reason, one.count]),
      );
    case 'figures':
      return exportFigures(analysis.figures);
  }
}

/** Figures as CSV. */
export function exportFigures(figures: readonly Figure[]): string {
  return writeCsv(
    ['figure', 'value', 'unit', 'from', 'to', 'confidence', 'method', 'rests on'],
    figures.map((one) => [
      one.name,
      one.value,
      one.unit,
      one.interval?.lower,
      one.interval?.upper,
      one.interval?.confidence,
      one.method,
      one.standing,
    ]),
  );
}

function rateCells(known: boolean, rate: CountAnalysis['places'][number]['rate']): CsvCell[] {
  return known
    ? [rate.rotorHours, rate.per1000, rate.interval.lower, rate.interval.upper]
    : [undefined, undefined, undefined, undefined];
}

function periodCells(of: string, period: Period, known: boolean): CsvCell[] {
  return [
    of,
    period.label,
    period.start === undefined
      ? undefined
      : new Date(period.start).toISOString().slice(0, 16).replace('T', ' '),
    period.count,
    known ? period.rotorHours : undefined,
    known ? (1000 * period.count) / period.rotorHours : undefined,
  ];
}
