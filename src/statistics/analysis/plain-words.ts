import { say } from '../words.js';

/** A chance in words of everyday: "less than once in 1000", "about once in 40"; p in 0–1. */
export function sayOnceIn(p: number): string {
  if (p < 0.001) return 'less than once in 1000';
  if (p > 0.4) return 'about every second time';
  const times = 1 / p;
  const rounded =
    times >= 100 ? Math.round(times / 50) * 50 : times >= 20 ? Math.round(times / 5) * 5 : Math.round(times);
  return `about once in ${rounded}`;
}

/**
 * A ratio in words: "3 times as often as the rest", "about half as often again as the rest", "20 % more often than the rest".
 * @param how the word that is compared: often, many, frequent
 */
export function sayTimes(ratio: number, other: string, how: 'often' | 'many' | 'frequent' = 'often'): string {
  if (!Number.isFinite(ratio)) return `while ${other} had none`;
  if (ratio >= 1.75) return `${say(Number(ratio.toPrecision(2)))} times as ${how} as ${other}`;
  if (ratio >= 1.35) return `about half as ${how} again as ${other}`;
  const more = { often: 'more often', many: 'more', frequent: 'more frequent' }[how];
  const less = { often: 'less often', many: 'fewer', frequent: 'less frequent' }[how];
  const percent = Math.max(1, Math.round(100 * Math.abs(ratio - 1)));
  return `${percent} % ${ratio >= 1 ? more : less} than ${other}`;
}

/** Names in a row: "4, 17 and 230"; after `most` the rest is counted. */
export function sayNames(names: readonly string[], most = 8): string {
  const shown =
    names.length > most ? [...names.slice(0, most - 1), `${names.length - most + 1} more`] : names;
  if (shown.length <= 1) return shown[0] ?? '';
  return `${shown.slice(0, -1).join(', ')} and ${shown.at(-1)}`;
}

/** A rough figure: two digits. */
export function sayAbout(value: number): string {
  return say(Number(value.toPrecision(2)));
}

/** "1 break", "12 breaks". */
export const sayBreaks = (count: number) => `${say(count)} ${count === 1 ? 'break' : 'breaks'}`;
