/** A cell to be written. */
export type CsvCell = string | number | undefined;

/**
 * A table as CSV: comma, decimal point, CRLF line ends, a byte-order mark so that spreadsheets read it as UTF-8.
 *
 * A text that a spreadsheet would run as a formula (it starts with = + - @, a tab or a carriage return) gets an apostrophe
 * in front; numbers are written as they are, negative ones too. Undefined and numbers that are not finite become empty cells.
 */
export function writeCsv(headers: readonly string[], rows: Iterable<readonly CsvCell[]>): string {
  const lines = [headers.map(writeCell).join(',')];
  for (const row of rows) lines.push(row.map(writeCell).join(','));
  return `\ufeff${lines.join('\r\n')}\r\n`;
}

function writeCell(cell: CsvCell): string {
  if (cell === undefined) return '';
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : '';
  const safe = /^[\s]*[=+\-@\t\r＝＋－＠]/.test(cell) ? `'${cell}` : cell;
  return /[",;\r\n\t']/.test(safe) || safe !== safe.trim() ? `"${safe.replace(/"/g, '""')}"` : safe;
}
