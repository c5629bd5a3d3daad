import { say } from '../../language/say.js';
import { type NumberReading, type NumberStyle, readNumber } from './number-text.js';
import { needsCount, type TwistUnit, toTurnsPerMetre } from './twist.js';
import { cleanUnit, type Dimension, findUnit, UNITS, type Unit } from './unit-table.js';

/**
 * Kinds of quantity a field may hold. The value is always returned in the kind's base unit, which is also the
 * unit of a bare number: see {@link QUANTITY_KINDS}.
 */
export type QuantityKind =
  | 'count'
  | 'sliver-count'
  | 'fineness'
  | 'twist'
  | 'length'
  | 'speed'
  | 'delivery'
  | 'percent'
  | 'tenacity'
  | 'force'
  | 'hours'
  | 'angle'
  | 'temperature'
  | 'number';

/** What a kind measures and accepts. */
export interface QuantityKindInfo {
  readonly dimension: Dimension;
  /** Unit of the returned value and of a number given without a unit. */
  readonly baseUnit: string;
  /** Units accepted, in the order in which messages list them. */
  readonly units: readonly string[];
  /** What the value must be: above zero, not below zero, or anything. */
  readonly sign: 'positive' | 'non-negative' | 'any';
}

/** All kinds, with their base units and the units each accepts. */
export const QUANTITY_KINDS: Readonly<Record<QuantityKind, QuantityKindInfo>> = {
  count: {
    dimension: 'linear density',
    baseUnit: 'tex',
    units: ['tex', 'Ne', 'Nm', 'dtex', 'den', 'ktex', 'Nw'],
    sign: 'positive',
  },
  'sliver-count': {
    dimension: 'linear density',
    baseUnit: 'ktex',
    units: ['ktex', 'tex', 'Ne', 'Nm', 'gr/yd'],
    sign: 'positive',
  },
  fineness: {
    dimension: 'linear density',
    baseUnit: 'mtex',
    units: ['mtex', 'dtex', 'den', 'mic', 'tex', 'Nm'],
    sign: 'positive',
  },
  twist: {
    dimension: 'twist',
    baseUnit: 't/m',
    units: ['t/m', 'tpi', 't/cm', 'alpha-e', 'alpha-m', 'alpha-tex'],
    sign: 'positive',
  },
  length: { dimension: 'length', baseUnit: 'mm', units: ['mm', 'cm', 'm', 'inch'], sign: 'any' },
  speed: { dimension: 'rotation', baseUnit: 'rpm', units: ['rpm', 'krpm'], sign: 'non-negative' },
  delivery: {
    dimension: 'delivery',
    baseUnit: 'm/min',
    units: ['m/min', 'm/s', 'yd/min'],
    sign: 'non-negative',
  },
  percent: { dimension: 'share', baseUnit: '%', units: ['%'], sign: 'any' },
  tenacity: {
    dimension: 'tenacity',
    baseUnit: 'cN/tex',
    units: ['cN/tex', 'g/tex', 'g/den', 'mN/tex', 'N/tex', 'cN/dtex'],
    sign: 'non-negative',
  },
  force: { dimension: 'force', baseUnit: 'cN', units: ['cN', 'N', 'gf'], sign: 'non-negative' },
  hours: { dimension: 'time', baseUnit: 'h', units: ['h', 'min', 's', 'd'], sign: 'non-negative' },
  angle: { dimension: 'angle', baseUnit: 'deg', units: ['deg', 'rad'], sign: 'any' },
  temperature: { dimension: 'temperature', baseUnit: 'C', units: ['C', 'F', 'K'], sign: 'any' },
  number: { dimension: 'number', baseUnit: '1', units: ['1'], sign: 'any' },
};

/** A quantity read from text, in its kind's base unit, or the reason why it was not. */
export type QuantityReading =
  | {
      readonly ok: true;
      /** Value in the kind's base unit. */
      readonly value: number;
      /** Unit the text used (the base unit when it named none). */
      readonly unit: string;
      /** The text as it was given. */
      readonly given: string;
    }
  | {
      readonly ok: false;
      readonly reason: string;
      readonly allowed: readonly string[];
      /** All that is missing is the yarn count. */
      readonly lacksCount?: true;
    };

/** What reading a quantity may need besides its text. */
export interface ReadOptions {
  /** Yarn count in tex, which the twist multipliers need. */
  readonly countTex?: number;
  /** Unit of a number given without one, where a field's default differs from the base unit. */
  readonly defaultUnit?: string;
}

/** No quantity is written longer; what is would make long messages. */
const MOST_CHARACTERS = 120;

/**
 * Reads a quantity such as `20`, `"20 Ne"`, `"Ne 20"`, `"29,5 tex"`, `"4.3 alpha-e"`, `"105 000 rpm"` or
 * `"105k rpm"`.
 *
 * Upper and lower case, unusual spaces, Greek letters and common spellings are accepted. Numbers follow
 * {@link readNumber}: a comma or point before exactly three digits parts thousands in speeds (a comma also in
 * hours); elsewhere a lone comma before three digits is refused because it can be read two ways, as is a point in
 * hours.
 *
 * @param text the text, or a number in the kind's base unit
 * @param kind which quantity the field holds
 * @returns the value in the kind's base unit, or a reason and the units allowed; never throws
 */
export function readQuantity(
  text: string | number,
  kind: QuantityKind,
  options: ReadOptions = {},
): QuantityReading {
  const info = QUANTITY_KINDS[kind];
  const refuse = (reason: string): QuantityReading => ({ ok: false, reason, allowed: info.units });
  if (typeof text !== 'number' && typeof text !== 'string') return refuse(say('number.give-number'));
  const given = String(text);
  if (given.length > MOST_CHARACTERS)
    return refuse(
      `"${given.slice(0, 40)}…" is too long (${given.length} characters) to be a number with its unit`,
    );
  if (typeof text === 'number') {
    const unit = kindUnit(info, options.defaultUnit ?? info.baseUnit);
    return unit === undefined
      ? refuse(say('number.no-unit-here', { unit: options.defaultUnit ?? '' }))
      : settle(text, unit, kind, given, options);
  }
  const parts = split(cleanText(text), info, kind);
  if (!parts.ok) return refuse(parts.reason);
  const named = parts.unit === '' ? (options.defaultUnit ?? info.baseUnit) : parts.unit;
  const unit = kindUnit(info, named);
  if (unit === undefined) {
    const wrong = parts.unit === '' ? named : parts.unit;
    if (kind === 'number') {
      return { ok: false, reason: say('number.plain-only', { unit: wrong }), allowed: [say('number.plain')] };
    }
    return refuse(say('number.unit-allowed', { unit: wrong, units: info.units.join(', ') }));
  }
  return settle(parts.value, unit, kind, given, options);
}

function settle(
  value: number,
  unit: Unit,
  kind: QuantityKind,
  given: string,
  options: ReadOptions,
): QuantityReading {
  const info = QUANTITY_KINDS[kind];
  const refuse = (reason: string): QuantityReading => ({ ok: false, reason, allowed: info.units });
  if (!Number.isFinite(value)) return refuse(say('number.not-a-number', { text: given }));
  if (info.sign === 'positive' && !(value > 0)) return refuse(say('number.above-0', { text: given }));
  if (info.sign === 'non-negative' && value < 0) return refuse(say('number.not-below-0', { text: given }));
  const base = toKindBase(value, unit, info, options);
  if (typeof base === 'string') {
    const lacksCount = needsCount(unit.id as TwistUnit) && options.countTex === undefined;
    return { ok: false, reason: base, allowed: info.units, ...(lacksCount ? { lacksCount } : {}) };
  }
  if (!Number.isFinite(base) || (info.sign === 'positive' && !(base > 0))) {
    return refuse(say('number.out-of-reach', { text: given }));
  }
  return { ok: true, value: base, unit: unit.id, given };
}

function toKindBase(
  value: number,
  unit: Unit,
  info: QuantityKindInfo,
  options: ReadOptions,
): number | string {
  if (info.dimension === 'twist') {
    const tex = options.countTex ?? Number.NaN;
    if (needsCount(unit.id as TwistUnit) && !(tex > 0 && Number.isFinite(tex))) {
      return say('number.needs-count', { unit: unit.id });
    }
    if (unit.id === 'alpha-tex' && value < ALPHA_TEX_LEAST) {
      return say('number.per-metre', { value, metre: 100 * value });
    }
    return toTurnsPerMetre(value, unit.id as TwistUnit, tex);
  }
  const inBase = unit.toBase(value);
  const kindBase = kindUnit(info, info.baseUnit);
  if (
    kindBase === undefined ||
    (info.dimension === 'linear density' && !(inBase > 0 && Number.isFinite(inBase)))
  ) {
    return Number.NaN;
  }
  return kindBase.id === unit.id ? value : kindBase.fromBase(inBase);
}

/** No yarn has an alpha-tex below this in turns a metre (alpha-e 0.2): one that does is given in turns a centimetre. */
const ALPHA_TEX_LEAST = 200;

/** Unit of a kind by any of its spellings. */
function kindUnit(info: QuantityKindInfo, text: string): Unit | undefined {
  const unit =
    findUnit(text, info.dimension) ??
    UNITS.find((one) => one.dimension === info.dimension && one.id === text);
  return unit !== undefined && info.units.includes(unit.id) ? unit : undefined;
}

/** Unusual spaces to plain ones, typographic minus and quotes to plain ones. */
function cleanText(text: string): string {
  return text
    .normalize('NFKC')
    .replace(/[\s\u00a0\u2000-\u200b\u202f\u205f\u2060\ufeff]+/g, ' ')
    .replace(/[−–]/g, '-')
    .replace(/[’ʼ′]/g, "'")
    .trim();
}

type Parts =
  | { readonly ok: true; readonly value: number; readonly unit: string }
  | { readonly ok: false; readonly reason: string };

function numberStyle(kind: QuantityKind): NumberStyle {
  if (kind === 'speed') return { commaGroups: true, dot: 'groups' };
  return kind === 'hours' ? { commaGroups: true, dot: 'unclear' } : { commaGroups: false, dot: 'decimal' };
}

/** Parts a text into number and unit, the unit behind (`20 Ne`) or in front (`Ne 20`). */
function split(text: string, info: QuantityKindInfo, kind: QuantityKind): Parts {
  if (text === '') return { ok: false, reason: say('number.nothing') };
  const front = /^([^\d+\-.,]+(?:-[a-z]+)?)\s*(?=[\d.,+-])/iu.exec(text);
  const lead = front?.[1]?.replace(/[:=]/g, '').trim() ?? '';
  const unitInFront = lead !== '' && kindUnit(info, lead) !== undefined;
  const body = unitInFront && front !== null ? text.slice(front[0].length) : text;
  const number =
    (info.dimension === 'length' ? readMixedFraction(body) : undefined) ??
    readNumber(body, numberStyle(kind));
  if (!number.ok) return number;
  const rest = info.dimension === 'linear density' ? number.rest.replace(/^\/ ?1(?!\d)\s*/, '') : number.rest;
  if (!unitInFront) return { ok: true, value: number.value, unit: rest };
  if (rest !== '' && cleanUnit(rest) !== cleanUnit(lead)) {
    return { ok: false, reason: say('number.two-units', { text }) };
  }
  return { ok: true, value: number.value, unit: lead };
}

/** A whole number with a fraction, as staple lengths are given in inches: `1 1/8 inch`, `1-3/32"`. */
function readMixedFraction(text: string): NumberReading | undefined {
  const match = /^(\d{1,3})[ -](\d{1,3})\/(\d{1,3})(?!\d)/.exec(text);
  if (match === null || Number(match[3]) === 0) return undefined;
  const value = Number(match[1]) + Number(match[2]) / Number(match[3]);
  return { ok: true, value, rest: text.slice(match[0].length).trim() };
}
