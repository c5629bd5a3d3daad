import { sayDigits, sayFixed } from '../language/numbers.js';
import { type MessageKey, say, wordTable } from '../language/say.js';
import type { Ground } from '../rules/index.js';
import { STANDINGS, type Standing } from '../rules/knowledge/vocabulary.js';

/** Keeps a number and its unit on one line. */
const HARD_SPACE = '\u00a0';

/** A probability as a figure: "62 %", "under 1 %", "over 99 %". */
export function sayPercent(p: number): string {
  if (p < 0.01) return say('chance.under-1').replaceAll(' ', HARD_SPACE);
  if (p > 0.99) return say('chance.over-99').replaceAll(' ', HARD_SPACE);
  return `${Math.round(p * 100)}${HARD_SPACE}%`;
}

/** Working time: "5 min", "1 h 30 min", "390 h"; never in days, which may be of 8 or of 24 hours. */
export function sayMinutes(minutes: number): string {
  const whole = Math.max(1, Math.round(minutes));
  if (whole < 60) return `${whole}${HARD_SPACE}min`;
  const hours = Math.floor(whole / 60);
  const rest = whole % 60;
  if (hours >= 48) return `${sayNumber(Math.round(whole / 60))}${HARD_SPACE}h`;
  return rest === 0 ? `${hours}${HARD_SPACE}h` : `${hours}${HARD_SPACE}h ${rest}${HARD_SPACE}min`;
}

/** Weight with its sign: "+7.2". */
export const sayDecibans = (value: number) => `${value >= 0 ? '+' : '−'}${sayFixed(Math.abs(value), 1)}`;

export const STANDING_WORDS: Readonly<Record<Standing, string>> = wordTable('standing', STANDINGS);

/** What a statement rests on, for the small print beside it. */
export interface GroundView {
  readonly words: string;
  readonly cite: string;
  /** Empty unless the source has a web address. */
  readonly address: string;
}

export function viewGround(ground: Ground | undefined): GroundView {
  if (ground === undefined) return { words: '', cite: '', address: '' };
  const address = /^https?:\/\//.test(ground.address ?? '') ? (ground.address ?? '') : '';
  return { words: STANDING_WORDS[ground.standing], cite: ground.cite ?? '', address };
}

/** A number for reading, four significant digits, thousands parted by a thin space. */
export const sayNumber = (value: number): string => sayDigits(value, 4);

/** Three significant digits: for computed values, whose doubt is larger than that. */
export const sayRough = (value: number): string => sayDigits(value, 3);

export const WHO_WORDS: Readonly<Record<string, string>> = wordTable('who', [
  'operator',
  'fitter',
  'technologist',
  'laboratory',
]);

/** Units that are words. */
const UNIT_MESSAGES = {
  '% of set twist': 'unit.of-set-twist',
  points: 'unit.points',
  '% RH': 'unit.rh',
  fibres: 'unit.fibres',
  layers: 'unit.layers',
} as const satisfies Readonly<Record<string, MessageKey>>;

/** Units as they are written in the trade. */
export function sayUnit(unit: string): string {
  const words: Record<string, string> = {
    'alpha-e': 'αe',
    'alpha-m': 'αm',
    'alpha-tex': 'αtex',
    deg: '°',
    C: '°C',
    F: '°F',
    '1': '',
    mic: 'mic (µg/in)',
  };
  if (Object.hasOwn(UNIT_MESSAGES, unit)) return say(UNIT_MESSAGES[unit as keyof typeof UNIT_MESSAGES]);
  return words[unit] ?? unit;
}
