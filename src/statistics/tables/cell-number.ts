/**
 * A number of a table cell, or undefined when it is none. With the decimal sign given, the other sign, blanks and
 * apostrophes may group thousands, but only in threes: "1,5" is no number where the decimal sign is a point.
 */
export function readCellNumber(text: string, decimal: '.' | ','): number | undefined {
  const plain = text.trim();
  if (/^[+-]?\d{1,15}$/.test(plain)) return Number(plain);
  const bare = plain.replace(/[\u00a0\u202f\u2009]/g, ' ').replace('−', '-');
  const pattern =
    decimal === '.'
      ? /^[+-]?(?:\d+|\d{1,3}(?:[, '’]\d{3})+)(?:\.\d*)?$|^[+-]?\.\d+$/
      : /^[+-]?(?:\d+|\d{1,3}(?:[. '’]\d{3})+)(?:,\d*)?$|^[+-]?,\d+$/;
  if (!pattern.test(bare) || bare.length > 40) return undefined;
  const [whole = '', part = ''] = bare.split(decimal);
  const value = Number(`${whole.replace(/[., '’]/g, '') || '0'}.${part || '0'}`);
  return Number.isFinite(value) ? value : undefined;
}

/** Hours of a cell: a number in the column's unit, or a span such as 7:30; undefined when it is neither. */
export function readCellHours(text: string, decimal: '.' | ',', unit: 'h' | 'min' | 's'): number | undefined {
  const span = /^(\d{1,5}):([0-5]\d)(?::([0-5]\d))?$/.exec(text.trim());
  if (span !== null) return Number(span[1]) + Number(span[2]) / 60 + Number(span[3] ?? 0) / 3600;
  const worded = /^(.*\d)\s*(h|hrs?|hours?|std|min|s)\.?$/i.exec(text.trim());
  const value = readCellNumber(worded?.[1] ?? text, decimal);
  if (value === undefined) return undefined;
  const word = worded?.[2]?.toLowerCase();
  const own = word === undefined ? unit : word === 'min' ? 'min' : word === 's' ? 's' : 'h';
  return value / { h: 1, min: 60, s: 3600 }[own];
}
