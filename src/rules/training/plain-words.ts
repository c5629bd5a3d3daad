import { localDecimal } from '../../language/numbers.js';
import { say } from '../../language/say.js';

/** Minutes in a sentence: "12 min"; below 0 counts as 0. */
export const sayWhole = (minutes: number): string =>
  say('judged.minutes', { n: String(Math.max(0, Math.round(minutes))) });

/** A chance in a sentence: "12 %", "under 1 %". @param p 0 to 1 */
export const sayPercent = (p: number): string =>
  p < 0.01 ? say('judged.under-1') : `${Math.round(100 * p)} %`;

/** In quotation marks. */
export const quote = (text: string): string => say('judged.quoted', { text });

/** One decimal. */
export const sayTenth = (value: number): string => localDecimal(value.toFixed(1));

/** Names in quotation marks with "and" between them. */
export const joinAll = (names: readonly string[]): string => names.map(quote).join(` ${say('words.and')} `);
