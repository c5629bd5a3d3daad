import { localDecimal } from '../../language/numbers.js';
import { say } from '../../language/say.js';

/** A number found at the start of a text, and what follows it; or why it cannot be read. */
export type NumberReading =
  | { readonly ok: true; readonly value: number; readonly rest: string }
  | { readonly ok: false; readonly reason: string };

/** How separators with exactly three digits behind them are understood. */
export interface NumberStyle {
  /** `1,234` and `1'234` are one thousand two hundred and thirty-four (speeds, hours). */
  readonly commaGroups: boolean;
  /**
   * What `1.234` is: `groups` a thousand and more (speeds: nobody sets a thousandth of a revolution), `decimal` a
   * little over one, `unclear` refused (hours).
   */
  readonly dot: 'groups' | 'decimal' | 'unclear';
}

const NUMBER = /^([+-]?) ?(\d+(?:[ ']\d{3}(?!\d))*(?:[.,]\d+)*|[.,]\d+)(e[+-]?\d+)?/i;

/**
 * Reads the number a text starts with.
 *
 * Both decimal point and decimal comma are read; a space or an apostrophe may part groups of three digits. With
 * two different separators the last is the decimal one. A single comma before exactly three digits (`1,234`) may
 * mean 1.234 or 1234: it is refused with a request to write it clearly, unless it starts with a zero (`0,165`) or
 * the style says that groups are meant. A single point before three digits is a decimal point unless the style
 * says otherwise.
 *
 * @param text a text already cleaned of unusual spaces and minus signs
 */
export function readNumber(text: string, style: NumberStyle): NumberReading {
  const match = NUMBER.exec(text);
  if (match === null) return refuse(text);
  const [whole, sign = '', body = '', exponent = ''] = match;
  const digits = plainDigits(body, style);
  if (!digits.ok) return digits;
  const value = Number(`${sign}${digits.text}${exponent}`);
  if (!Number.isFinite(value)) return refuse(text);
  return { ok: true, value, rest: text.slice(whole.length).trim() };
}

function plainDigits(
  body: string,
  style: NumberStyle,
): { readonly ok: true; readonly text: string } | { readonly ok: false; readonly reason: string } {
  const parted = /[ ']/.test(body);
  if (parted && !/^\d{1,3}(?:[ ']\d{3})+(?:[.,]\d+)?$/.test(body)) return refuse(body);
  const joined = body.replace(/[ ']/g, '');
  const commas = joined.split(',').length - 1;
  const dots = joined.split('.').length - 1;
  if (commas + dots === 0) return { ok: true, text: joined };
  if (commas > 0 && dots > 0) return mixedSeparators(joined, body);
  const mark = commas > 0 ? ',' : '.';
  const count = commas + dots;
  if (count > 1) {
    return isGrouped(joined, mark) && !parted
      ? { ok: true, text: joined.replaceAll(mark, '') }
      : refuse(body);
  }
  const looksGrouped = isGrouped(joined, mark) && !joined.startsWith('0') && !parted;
  const groups = mark === ',' ? style.commaGroups : style.dot === 'groups';
  if (looksGrouped && groups) return { ok: true, text: joined.replace(mark, '') };
  if (looksGrouped && (mark === ',' || style.dot === 'unclear')) {
    const [whole = '', fraction = ''] = joined.split(mark);
    // Spelt so that neither suggestion is open to doubt again.
    const decimal = /^0+$/.test(fraction) ? whole : `${whole}.${fraction}0`;
    return {
      ok: false,
      reason: say('number.two-ways', {
        text: body,
        one: localDecimal(decimal),
        other: `${whole}${fraction}`,
      }),
    };
  }
  return { ok: true, text: joined.replace(mark, '.') };
}

function mixedSeparators(
  joined: string,
  body: string,
): { readonly ok: true; readonly text: string } | { readonly ok: false; readonly reason: string } {
  const decimal = joined.lastIndexOf(',') > joined.lastIndexOf('.') ? ',' : '.';
  const group = decimal === ',' ? '.' : ',';
  const [whole = '', fraction = '', ...more] = joined.split(decimal);
  if (more.length > 0 || !isGrouped(whole, group)) return refuse(body);
  return { ok: true, text: `${whole.replaceAll(group, '')}.${fraction}` };
}

function isGrouped(text: string, mark: string): boolean {
  const [first = '', ...groups] = text.split(mark);
  return /^\d{1,3}$/.test(first) && groups.length > 0 && groups.every((group) => /^\d{3}$/.test(group));
}

function refuse(text: string): { readonly ok: false; readonly reason: string } {
  return { ok: false, reason: say('number.not-a-number', { text }) };
}
