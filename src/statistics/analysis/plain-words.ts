import { type KeysOf, say } from '../../language/say.js';
import { joinWords } from '../../language/words.js';
import { sayNumber } from '../words.js';

/** A chance in words of everyday: "less than once in 1000", "about once in 40"; p in 0–1. */
export function sayOnceIn(p: number): string {
  if (p < 0.001) return say('count-words.once-1000');
  if (p > 0.4) return say('count-words.every-second');
  const times = 1 / p;
  const rounded =
    times >= 100 ? Math.round(times / 50) * 50 : times >= 20 ? Math.round(times / 5) * 5 : Math.round(times);
  return say('count-words.once-in', { n: String(rounded) });
}

/** What a rate is held against. */
export type Compared = Extract<
  KeysOf<'count-words'>,
  | 'allowed'
  | 'rest-of-frame'
  | 'other-frames'
  | 'otherwise'
  | 'around'
  | 'norm-allows'
  | 'the-others'
  | 'before'
>;

/** What a rate is held against, for {@link sayTimes}. */
export const sayCompared = (what: Compared): string => say(`count-words.${what}`);

/**
 * A ratio in words: "3 times as often as the rest", "about half as often again as the rest", "20 % more often than the rest".
 * @param how the word that is compared: often, many, frequent
 */
export function sayTimes(ratio: number, other: string, how: 'often' | 'many' | 'frequent' = 'often'): string {
  if (!Number.isFinite(ratio)) return say('count-words.had-none', { other });
  if (ratio >= 1.75)
    return say('count-words.times', { n: sayNumber(Number(ratio.toPrecision(2))), how, other });
  if (ratio >= 1.35) return say('count-words.half-again', { how, other });
  const percent = String(Math.max(1, Math.round(100 * Math.abs(ratio - 1))));
  return ratio >= 1
    ? say('count-words.more-than', { percent, how, other })
    : say('count-words.less-than', { percent, how, other });
}

/** Names in a row: "4, 17 and 230"; after `most` the rest is counted. */
export function sayNames(names: readonly string[], most = 8): string {
  return joinWords(
    names.length > most
      ? [...names.slice(0, most - 1), say('count-words.n-more', { n: names.length - most + 1 })]
      : names,
  );
}

/** A rough figure: two digits. */
export function sayAbout(value: number): string {
  return sayNumber(Number(value.toPrecision(2)));
}

/** "1 break", "12 breaks". */
export const sayBreaks = (count: number): string =>
  say('count-words.breaks', { one: yes(count === 1), n: sayNumber(count) });

/** For a message that says something or leaves it out. */
export const yes = (holds: boolean): 'yes' | 'no' => (holds ? 'yes' : 'no');

/** A length of periods in words: "day", "8 hours". @param unit `day` and so on, or `8 hours` */
export function sayUnit(unit: string): string {
  const hours = /^(\d+) hours$/.exec(unit)?.[1];
  return hours === undefined
    ? say(`count-words.unit-${unit as PeriodName}`)
    : say('count-words.unit-hours', { n: hours });
}

/** Several periods of that length: "days", "periods of 8 hours". */
export function sayUnits(unit: string): string {
  const hours = /^(\d+) hours$/.exec(unit)?.[1];
  return hours === undefined
    ? say(`count-words.units-${unit as PeriodName}`)
    : say('count-words.units-hours', { n: hours });
}

type PeriodName = 'week' | 'day' | 'hour' | 'shift' | 'period';
