import { columnsOf, wrapText } from './wrap.js';

/** A column of a table. */
export interface Column {
  readonly title: string;
  readonly align?: 'left' | 'right';
  /** Wraps its text when the table is too wide; at most one column of a table should. */
  readonly wraps?: true;
}

const GAP = '  ';
const LEAST_WRAPPED = 16;

/**
 * Sets rows in aligned columns with their titles above.
 * @param width columns of the screen left for the table; if the rest leaves the wrapping column under 16 it is exceeded
 */
export function layTable(
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  width: number,
): string[] {
  const natural = columns.map((column, c) =>
    Math.max(columnsOf(column.title), ...rows.map((row) => columnsOf(row[c] ?? ''))),
  );
  const total = natural.reduce((sum, one) => sum + one, 0) + GAP.length * (columns.length - 1);
  const widths = natural.map((one, c) =>
    columns[c]?.wraps === true && total > width ? Math.max(LEAST_WRAPPED, one - (total - width)) : one,
  );
  const all = [columns.map((column) => column.title), ...rows];
  const titled = columns.some((column) => column.title !== '');
  return (titled ? all : rows).flatMap((row) => layRow(columns, row, widths));
}

function layRow(columns: readonly Column[], row: readonly string[], widths: readonly number[]): string[] {
  const cells = columns.map((column, c) =>
    column.wraps === true ? wrapText(row[c] ?? '', widths[c] ?? 0) : [row[c] ?? ''],
  );
  const height = Math.max(...cells.map((cell) => cell.length));
  return Array.from({ length: height }, (_, line) =>
    columns
      .map((column, c) => {
        const text = cells[c]?.[line] ?? '';
        const blanks = ' '.repeat(Math.max(0, (widths[c] ?? 0) - columnsOf(text)));
        return column.align === 'right' ? blanks + text : text + blanks;
      })
      .join(GAP)
      .trimEnd(),
  );
}
