import type { CellView, TableView } from '../../../templates/journal-models.js';

/** What a cell can be given as: a text, or a text with a link or a second line. */
export type Cell = string | { readonly text: string; readonly href?: string; readonly note?: string };

const toCell = (cell: Cell): CellView =>
  typeof cell === 'string'
    ? { text: cell, href: '', note: '' }
    : { text: cell.text, href: cell.href ?? '', note: cell.note ?? '' };

/**
 * A table for the pages. The first column heads its rows.
 * @param columns titles; one that begins with `#` is a column of numbers, with `@` one of days
 */
export function viewTable(
  id: string,
  caption: string,
  columns: readonly string[],
  rows: readonly (readonly Cell[])[],
  empty: string,
  kinds: readonly string[] = [],
): TableView {
  return {
    id,
    caption,
    columns: columns.map((title) => ({
      title: title.replace(/^[#@]/, ''),
      number: title.startsWith('#'),
      day: title.startsWith('@'),
    })),
    rows: rows.map((cells, n) => ({ kind: kinds[n] ?? '', cells: cells.map(toCell) })),
    empty,
  };
}
