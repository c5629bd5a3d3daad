import { isLanguage, type Language } from './languages.js';
import { decimalSign } from './numbers.js';
import { language } from './scope.js';

/**
 * Form field that says in which language's notation the numbers of a form are typed. It is in the forms of languages
 * with a decimal comma only; addresses and case files have the decimal point.
 */
export const NOTATION_FIELD = 'notation';

/** Value of that field for the language of the moment; undefined where numbers are typed with a point. */
export const typedNotation = (): Language | undefined => (decimalSign() === ',' ? language() : undefined);

/** The notation a form names; undefined for none, or for one there is not. */
export function notationOf(params: URLSearchParams): Language | undefined {
  const named = params.get(NOTATION_FIELD) ?? '';
  return isLanguage(named) && decimalSign(named) === ',' ? named : undefined;
}

/** Sign; digits in threes or in a row; decimal part behind a comma; whatever follows, as long as it is no digit. */
const COMMA_NUMBER = /^([-+−]?)\s*((?:[1-9]\d{0,2}(?:[.\s'’]\d{3})+|\d+)(?:,(\d+))?|,(\d+))(?![\d.,])(.*)$/s;

/**
 * A text that starts with a number in the notation of a language with a decimal comma (`4,2`, `1.234,5`, `29,5 tex`),
 * with the decimal point instead and without marks between thousands: `4.2`, `1234.5`, `29.5 tex`. A text that is no
 * such number stays as it is, so that `4.2` is read as well, and what cannot be read is reported as typed.
 *
 * Three decimals get a fourth, since `1.234` could be taken for a thousand and more.
 */
export function pointNumber(text: string, notation: Language | undefined = language()): string {
  if (notation === undefined || decimalSign(notation) === '.') return text;
  const match = COMMA_NUMBER.exec(text.trim());
  if (match === null) return text;
  const [, sign = '', body = '', decimals, bare, rest = ''] = match;
  const whole = bare === undefined ? (body.split(',')[0] ?? '').replace(/[.\s'’]/g, '') : '0';
  const part = decimals ?? bare ?? '';
  const fraction = part === '' ? '' : `.${part}${part.length === 3 ? '0' : ''}`;
  return `${sign === '−' ? '-' : sign}${whole}${fraction}${rest}`;
}

/** Numbers parted by semicolons, line ends or spaces, each as by {@link pointNumber}. */
export const pointNumbers = (text: string, notation: Language | undefined = language()): string =>
  notation === undefined
    ? text
    : text
        .split(/([;\n]\s*|\s+)/)
        .map((piece, n) => (n % 2 === 1 ? piece : pointNumber(piece, notation)))
        .join('');

/**
 * A number as it is kept, for a field in the language of the moment: `4.2` becomes `4,2`.
 * @param groups whether exactly three digits behind a point are thousands there (speeds and hours): they stay
 */
export function typedNumber(text: string, groups = false): string {
  if (decimalSign() === '.') return text;
  return text.replace(/^([-+]?\d+)\.(\d+)(?![\d.,])/, (all, whole: string, part: string) =>
    part.length === 3 ? (groups ? all : `${whole},${part}0`) : `${whole},${part}`,
  );
}

/** Numbers parted by semicolons, line ends or spaces, each as by {@link typedNumber}. */
export const typedNumbers = (text: string): string =>
  text
    .split(/([;\n]\s*|\s+)/)
    .map((piece, n) => (n % 2 === 1 ? piece : typedNumber(piece)))
    .join('');
