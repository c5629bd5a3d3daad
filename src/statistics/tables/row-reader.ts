import { say } from '../../language/say.js';
import { readCellHours, readCellNumber } from './cell-number.js';
import { readCellClock, readCellTime, type TimeReading } from './cell-time.js';
import { kindOf } from './propose-mapping.js';
import type { TableMapping } from './types.js';

/** A row, read. One object is filled again and again, as there may be millions of rows. */
export interface RowFacts {
  frame: string;
  position: string;
  shift: string;
  reason: string;
  /** Wall clock, NaN when the row has no time. */
  wall: number;
  hasClock: boolean;
  count: number;
  /** Hours this row stands for as rotor-hours, NaN when not given. */
  rotorHours: number;
  runHours: number;
}

/** What became of a row: used, passed over on purpose, or bad (then why, to be asked for: there may be millions). */
export type RowVerdict = 'used' | 'blank' | 'total' | 'header' | { readonly bad: () => string };

const TOTAL = /^(?:total|totals|sum|subtotal|grand total|summe|gesamt|suma|toplam)\b/i;
const LONGEST_NAME = 60;
const MOST_BREAKS = 1e7;
const MOST_HOURS = 1e8;

/** Makes the function that reads the rows of a table with this mapping into `facts`. */
export function createRowReader(
  mapping: TableMapping,
  facts: RowFacts,
): (row: readonly string[]) => RowVerdict {
  const { columns, dialect, headers, dateOrder } = mapping;
  const unit = mapping.hoursUnit ?? 'h';
  const width = headers.length;
  const isEvents = kindOf(columns) === 'events';
  const readTime = rememberLast((text) => readCellTime(text, dateOrder));
  const nameOf = (index: number | undefined) => headers[index ?? 0] ?? '';
  const bad = (index: number | undefined, cell: string, why: () => string): RowVerdict => ({
    bad: () =>
      say('table-reading.cell', {
        column: nameOf(index),
        cell: cell.length > 40 ? `${cell.slice(0, 37)}...` : cell,
        why: why(),
      }),
  });
  const cellAt = (row: readonly string[], index: number | undefined) =>
    index === undefined ? '' : (row[index] ?? '').trim();

  return (row) => {
    if (row.every((cell) => cell.trim() === '')) return 'blank';
    if (dialect.hasHeader && row.length === width && row.every((cell, i) => cell.trim() === headers[i]))
      return 'header';
    const surplus = row.length > width && row.slice(width).some((cell) => cell.trim() !== '');
    if (row.length < width || surplus)
      return { bad: () => say('table-reading.cells-columns', { cells: row.length, columns: width }) };

    const frame = cellAt(row, columns.frame);
    const position = cellAt(row, columns.position);
    const label = position === '' ? frame || cellAt(row, columns.date ?? columns.time) : position;
    if (TOTAL.test(label) || TOTAL.test(frame)) return 'total';

    for (const [index, cell] of [
      [columns.frame, frame],
      [columns.position, position],
    ] as const) {
      if (index === undefined) continue;
      if (cell === '') return bad(index, cell, () => say('table-reading.empty'));
      if (cell.length > LONGEST_NAME)
        return bad(index, cell, () => say('table-reading.too-long', { n: LONGEST_NAME }));
      if (cell.includes('\ufffd')) return bad(index, cell, () => say('table-reading.not-utf-8'));
    }
    facts.frame = plainName(frame);
    const side = cellAt(row, columns.side).slice(0, 20);
    facts.position = side === '' ? plainName(position) : `${side} ${plainName(position)}`;
    facts.shift = cellAt(row, columns.shift).slice(0, LONGEST_NAME);
    facts.reason = cellAt(row, columns.reason).slice(0, LONGEST_NAME);

    facts.wall = Number.NaN;
    facts.hasClock = false;
    const timeIndex = columns.time ?? columns.date;
    if (timeIndex !== undefined) {
      const text = cellAt(row, timeIndex);
      const time = readTime(text);
      if (!time.ok) return bad(timeIndex, text, text === '' ? () => say('table-reading.empty') : time.why);
      facts.wall = time.wall;
      facts.hasClock = time.hasClock;
      if (columns.time === undefined && columns.clock !== undefined) {
        const clockText = cellAt(row, columns.clock);
        const clock = readCellClock(clockText);
        if (clock === undefined) return bad(columns.clock, clockText, () => say('table-reading.no-clock'));
        facts.wall += clock;
        facts.hasClock = true;
      }
    }

    facts.count = 1;
    if (!isEvents) {
      const text = cellAt(row, columns.count);
      const count = readCellNumber(text, dialect.decimal);
      if (count === undefined || !Number.isInteger(count) || count < 0 || count > MOST_BREAKS)
        return bad(
          columns.count,
          text,
          text === ''
            ? () => say('table-reading.empty-count')
            : () => say('table-reading.no-count', { most: String(MOST_BREAKS) }),
        );
      facts.count = count;
    }
    facts.rotorHours = Number.NaN;
    facts.runHours = Number.NaN;
    if (isEvents) return 'used';
    for (const key of ['rotor-hours', 'run-hours'] as const) {
      const index = columns[key];
      if (index === undefined) continue;
      const text = cellAt(row, index);
      const hours = readCellHours(text, dialect.decimal, unit);
      if (hours === undefined || hours < 0 || hours > MOST_HOURS)
        return bad(index, text, () =>
          text === '' ? say('table-reading.empty') : say('table-reading.no-hours'),
        );
      if (hours === 0 && facts.count > 0) {
        const { count } = facts;
        return bad(index, text, () => say('table-reading.no-run', { n: String(count) }));
      }
      if (key === 'rotor-hours') facts.rotorHours = hours;
      else facts.runHours = hours;
    }
    return 'used';
  };
}

/** Numbers lose leading zeros and an empty decimal part, so that 017, 17 and 17.0 are one position. */
function plainName(name: string): string {
  return /^\d+(?:[.,]0+)?$/.test(name) ? name.replace(/[.,]0+$/, '').replace(/^0+(?=\d)/, '') : name;
}

/** Times come in runs of equal ones; the last answer is kept. */
function rememberLast(read: (text: string) => TimeReading): (text: string) => TimeReading {
  let last: { text: string; answer: TimeReading } | undefined;
  return (text) => {
    if (last?.text !== text) last = { text, answer: read(text) };
    return last.answer;
  };
}
