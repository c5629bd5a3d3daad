import { readCellTime } from './cell-time.js';
import type { Dialect } from './types.js';

const SEPARATORS = ['\t', ';', ',', '|'] as const;
const LINES = 200;

/**
 * Finds out how a table is written from its first lines: the separator that cuts them most evenly, lines above the header
 * (titles, an Excel `sep=` line), whether there is a header, and the decimal sign.
 */
export function detectDialect(sample: string): Dialect {
  const text = sample.replace(/^\ufeff/, '');
  const lines = text.split(/\r\n|\n|\r/).slice(0, LINES);
  const stated = /^"?sep=(.)"?$/i.exec(lines[0]?.trim() ?? '')?.[1];
  const start = stated === undefined ? 0 : 1;
  const separator = SEPARATORS.find((sign) => sign === stated) ?? bestSeparator(lines.slice(start));
  const cut = lines.map((line) => cutLine(line, separator));
  const width = usualWidth(cut.slice(start));
  const first = cut.findIndex((cells, index) => index >= start && cells.length === width && !isBlank(cells));
  const firstIndex = first < 0 ? start : first;
  const rows = cut.slice(firstIndex).filter((cells) => cells.length === width && !isBlank(cells));
  return {
    separator,
    decimal: detectDecimal(rows.slice(0), separator),
    firstLine: firstIndex + 1,
    hasHeader: looksLikeHeader(rows[0] ?? []),
  };
}

/** Cuts a line at the separators outside quotes; for samples only, the reading itself is done by csv-parse. */
export function cutLine(line: string, separator: string): string[] {
  const cells: string[] = [];
  let cell = '';
  let quoted = false;
  for (const sign of line) {
    if (sign === '"') quoted = !quoted;
    else if (sign === separator && !quoted) {
      cells.push(cell);
      cell = '';
    } else cell += sign;
  }
  return [...cells, cell].map((one) => one.trim());
}

function bestSeparator(lines: readonly string[]): (typeof SEPARATORS)[number] {
  let best: { separator: (typeof SEPARATORS)[number]; score: number } = { separator: ',', score: 0 };
  for (const separator of SEPARATORS) {
    const cut = lines.filter((line) => line.trim() !== '').map((line) => cutLine(line, separator));
    const width = usualWidth(cut);
    if (width < 2) continue;
    const even = cut.filter((cells) => cells.length === width).length / cut.length;
    // Evenness counts first; of two even cuts the finer one.
    const score = even + 0.001 * Math.min(width, 50);
    if (score > best.score) best = { separator, score };
  }
  return best.separator;
}

/** The most frequent number of cells; the larger of two equally frequent ones. */
function usualWidth(rows: readonly (readonly string[])[]): number {
  const widths = new Map<number, number>();
  for (const cells of rows)
    if (!isBlank(cells)) widths.set(cells.length, (widths.get(cells.length) ?? 0) + 1);
  return [...widths].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0]?.[0] ?? 1;
}

const isBlank = (cells: readonly string[]) => cells.every((cell) => cell === '');

/** A header has words and neither a bare number nor a time. */
function looksLikeHeader(cells: readonly string[]): boolean {
  return (
    cells.some((cell) => /\p{L}/u.test(cell)) &&
    cells.every((cell) => !/^[+-]?[\d.,:\s]+$/.test(cell) && !readCellTime(cell, 'dmy').ok)
  );
}

function detectDecimal(rows: readonly (readonly string[])[], separator: string): '.' | ',' {
  let comma = 0;
  let point = 0;
  for (const cells of rows)
    for (const cell of cells) {
      // Three digits behind the sign may be thousands; they say nothing.
      if (/^[+-]?\d[\d.]*,(\d{1,2}|\d{4,})$/.test(cell)) comma++;
      else if (/^[+-]?\d[\d,]*\.(\d{1,2}|\d{4,})$/.test(cell)) point++;
    }
  if (comma !== point) return comma > point ? ',' : '.';
  return separator === ';' ? ',' : '.';
}
