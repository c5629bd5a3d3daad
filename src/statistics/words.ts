import { localDecimal } from '../language/numbers.js';
import { say } from '../language/say.js';

/** A number for a sentence: three significant digits, no exponent, no trailing zeros; Infinity in words. */
export function sayNumber(value: number): string {
  if (value === Number.POSITIVE_INFINITY) return say('count-words.no-limit');
  if (value === 0) return '0';
  const size = Math.floor(Math.log10(Math.abs(value)));
  const digits = Math.min(6, Math.max(0, 2 - size));
  const text = value.toFixed(digits);
  return localDecimal(text.includes('.') ? text.replace(/\.?0+$/, '') : text);
}

/** A range for a sentence; an open upper end becomes "at least". */
export function sayRange(range: { readonly lower: number; readonly upper: number }): string {
  return range.upper === Number.POSITIVE_INFINITY
    ? `at least ${sayNumber(range.lower)}`
    : `between ${sayNumber(range.lower)} and ${sayNumber(range.upper)}`;
}

/** A p-value for a sentence; tiny ones are not spelled out. */
export function sayP(p: number): string {
  return p < 0.001 ? 'below 0.001' : p.toFixed(3);
}
