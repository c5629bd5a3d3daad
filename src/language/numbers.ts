import { LANGUAGES, type Language } from './languages.js';
import { language, languageInfo } from './scope.js';

/** Parts thousands: narrow and unbreakable, read alike in every language, and never to be taken for a decimal sign. */
const GROUP = '\u202f';
const MINUS = '\u2212';

const formats = new Map<string, Intl.NumberFormat>();

/** @param name of the options, which are the same whenever it is the same */
function formatOf(name: string, options: () => Intl.NumberFormatOptions): Intl.NumberFormat {
  const { tag } = LANGUAGES[language()];
  const key = `${tag} ${name}`;
  let format = formats.get(key);
  if (format === undefined) {
    format = new Intl.NumberFormat(tag === 'en-XB' ? 'en-GB' : tag, options());
    formats.set(key, format);
  }
  return format;
}

function write(value: number, format: Intl.NumberFormat): string {
  // Has neither thousands, even when rounded up, nor a minus; taking a number apart takes several times as long.
  if (value > 0 && value < 900) return format.format(value);
  return format
    .formatToParts(value)
    .map(({ type, value: text }) => (type === 'group' ? GROUP : type === 'minusSign' ? MINUS : text))
    .join('');
}

/** A number to so many significant digits at most, thousands parted: `105 000`, `4.237`; in German `4,237`. */
export const sayDigits = (value: number, digits = 4): string =>
  write(
    value,
    formatOf(`digits ${digits}`, () => ({ maximumSignificantDigits: digits, useGrouping: true })),
  );

/** A number with exactly so many decimals, thousands not parted: `7.20`. */
export const sayFixed = (value: number, decimals: number): string =>
  write(
    value,
    formatOf(`fixed ${decimals}`, () => ({
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      useGrouping: false,
    })),
  );

/** A whole percentage with its sign: `62 %`. @param share 0 to 1 */
export const sayShare = (share: number): string => `${Math.round(share * 100)}\u00a0%`;

/** The decimal sign of the language of the moment. */
export const decimalSign = (of: Language = language()): '.' | ',' => (of === 'de' ? ',' : '.');

/** A number written with a point, as in case files and in the program, with the decimal sign of the language. */
export const localDecimal = (text: string): string =>
  decimalSign() === '.' ? text : text.replace(/(\d)\.(?=\d)/g, `$1${decimalSign()}`);

const dates = new Map<string, Intl.DateTimeFormat>();

/** A moment for reading; in the time zone of the server unless the options name one. */
export function sayTime(moment: Date, options: Intl.DateTimeFormatOptions): string {
  const { tag } = languageInfo();
  const key = `${tag} ${JSON.stringify(options)}`;
  let format = dates.get(key);
  if (format === undefined) {
    format = new Intl.DateTimeFormat(tag === 'en-XB' ? 'en-GB' : tag, options);
    dates.set(key, format);
  }
  return format.format(moment);
}
