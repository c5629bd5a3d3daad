import { GRAMS_PER_POUND, METRES_PER_INCH, METRES_PER_YARD, STANDARD_GRAVITY } from './constants.js';
import { type CountUnit, fromTex, toTex } from './count.js';

/** What is measured; units convert into one another only within a dimension. */
export type Dimension =
  | 'linear density'
  | 'twist'
  | 'length'
  | 'rotation'
  | 'delivery'
  | 'share'
  | 'tenacity'
  | 'force'
  | 'time'
  | 'angle'
  | 'temperature'
  | 'number';

/** A unit: how it is shown, how it may be written, and its way to and from the dimension's base unit. */
export interface Unit {
  readonly id: string;
  readonly dimension: Dimension;
  /** Spellings as {@link cleanUnit} leaves them: lower case, no spaces. */
  readonly spellings: readonly string[];
  toBase(value: number): number;
  fromBase(value: number): number;
}

function scaled(id: string, dimension: Dimension, factor: number, spellings: readonly string[]): Unit {
  return {
    id,
    dimension,
    spellings,
    toBase: (value) => value * factor,
    fromBase: (value) => value / factor,
  };
}

function count(id: CountUnit, spellings: readonly string[]): Unit {
  return {
    id,
    dimension: 'linear density',
    spellings,
    toBase: (value) => toTex(value, id),
    fromBase: (value) => fromTex(value, id),
  };
}

/** Grains a yard (7000 grains to the pound), the American sliver weight, in tex. */
const TEX_PER_GRAIN_YARD = (GRAMS_PER_POUND / 7000 / METRES_PER_YARD) * 1000;

/** Grams-force per denier in cN/tex: 8.825985. */
const CN_TEX_PER_GRAM_DENIER = (9 * STANDARD_GRAVITY) / 10;

/** All units; base units: tex, t/m, mm, rpm, m/min, %, cN/tex, cN, h, deg, C. Twist multipliers are told apart by id. */
export const UNITS: readonly Unit[] = [
  count('tex', ['tex', 'g/km']),
  count('dtex', ['dtex', 'decitex']),
  count('mtex', ['mtex', 'millitex']),
  count('ktex', ['ktex', 'kilotex', 'g/m']),
  count('den', ['den', 'denier', 'dpf']),
  count('Ne', ['ne', 'nec', 'neb', 'ne(c)', 'cottoncount', 'englishcount', 'hank']),
  count('Nm', ['nm', 'nm(metric)', 'metriccount']),
  {
    id: 'gr/yd',
    dimension: 'linear density',
    spellings: ['gr/yd', 'grain/yd', 'grains/yd', 'grains/yard', 'grain/yard'],
    toBase: (value) => value * TEX_PER_GRAIN_YARD,
    fromBase: (value) => value / TEX_PER_GRAIN_YARD,
  },
  count('Nw', ['nw', 'nek', 'worsted', 'worstedcount']),
  count('mic', ['mic', 'micronaire', 'ug/in', 'ug/inch']),
  scaled('t/m', 'twist', 1, [
    't/m',
    'tpm',
    'turns/m',
    'turns/metre',
    'turns/meter',
    't.p.m',
    'turnspermetre',
    'turnspermeter',
    'tours/m',
  ]),
  scaled('tpi', 'twist', 1 / METRES_PER_INCH, [
    'tpi',
    't/in',
    't/inch',
    'turns/inch',
    'turns/in',
    't.p.i',
    'turnsperinch',
  ]),
  scaled('t/cm', 'twist', 100, ['t/cm', 'turns/cm', 'tpcm', 'turnspercm']),
  scaled('alpha-e', 'twist', Number.NaN, [
    'alpha-e',
    'alphae',
    'alpha_e',
    'alpha(e)',
    'ae',
    'a-e',
    'alpha-ne',
  ]),
  scaled('alpha-m', 'twist', Number.NaN, [
    'alpha-m',
    'alpham',
    'alpha_m',
    'alpha(m)',
    'am',
    'a-m',
    'alpha-nm',
  ]),
  scaled('alpha-tex', 'twist', Number.NaN, [
    'alpha-tex',
    'alphatex',
    'alpha_tex',
    'alpha(tex)',
    'atex',
    'a-tex',
    'alpha-t',
  ]),
  scaled('mm', 'length', 1, ['mm', 'millimetre', 'millimetres', 'millimeter', 'millimeters']),
  scaled('cm', 'length', 10, ['cm', 'centimetre', 'centimetres', 'centimeter', 'centimeters']),
  scaled('m', 'length', 1000, ['m', 'metre', 'metres', 'meter', 'meters']),
  scaled('inch', 'length', 1000 * METRES_PER_INCH, ['inch', 'inches', 'in', '"', "''", 'in.']),
  scaled('rpm', 'rotation', 1, ['rpm', '1/min', 'min-1', '/min', 'rev/min', 'r/min', 'r.p.m', 'u/min']),
  scaled('krpm', 'rotation', 1000, ['krpm', 'k', 'krev/min', 'k1/min']),
  scaled('m/min', 'delivery', 1, ['m/min', 'mpm', 'metres/min', 'meters/min']),
  scaled('m/s', 'delivery', 60, ['m/s']),
  scaled('yd/min', 'delivery', METRES_PER_YARD, ['yd/min', 'yds/min']),
  scaled('%', 'share', 1, ['%', 'percent', 'pct', 'percent.', 'p.c', '%rh', 'rh', '%r.h']),
  scaled('cN/tex', 'tenacity', 1, ['cn/tex']),
  scaled('g/tex', 'tenacity', STANDARD_GRAVITY / 10, ['g/tex', 'gf/tex', 'rkm']),
  scaled('g/den', 'tenacity', CN_TEX_PER_GRAM_DENIER, ['g/den', 'gf/den', 'gpd', 'g/d']),
  scaled('mN/tex', 'tenacity', 0.1, ['mn/tex']),
  scaled('N/tex', 'tenacity', 100, ['n/tex']),
  scaled('cN/dtex', 'tenacity', 10, ['cn/dtex']),
  scaled('cN', 'force', 1, ['cn', 'centinewton']),
  scaled('N', 'force', 100, ['n', 'newton']),
  scaled('gf', 'force', STANDARD_GRAVITY / 10, ['gf', 'g', 'grams']),
  scaled('h', 'time', 1, ['h', 'hr', 'hrs', 'hour', 'hours']),
  scaled('min', 'time', 1 / 60, ['min', 'mins', 'minute', 'minutes']),
  scaled('s', 'time', 1 / 3600, ['s', 'sec', 'second', 'seconds']),
  scaled('d', 'time', 24, ['d', 'day', 'days']),
  scaled('deg', 'angle', 1, ['deg', '°', 'degree', 'degrees', 'degs']),
  scaled('rad', 'angle', 180 / Math.PI, ['rad', 'radian', 'radians']),
  scaled('C', 'temperature', 1, ['c', '°c', 'degc', 'celsius', '°']),
  {
    id: 'F',
    dimension: 'temperature',
    spellings: ['f', '°f', 'degf', 'fahrenheit'],
    toBase: (value) => (value - 32) / 1.8,
    fromBase: (value) => value * 1.8 + 32,
  },
  {
    id: 'K',
    dimension: 'temperature',
    spellings: ['k', 'kelvin'],
    toBase: (value) => value - 273.15,
    fromBase: (value) => value + 273.15,
  },
  scaled('1', 'number', 1, ['1', 'x', 'times']),
];

/** Brings a typed unit to the spelling the table uses: lower case, no spaces, Greek letters spelt out. */
export function cleanUnit(text: string): string {
  return text
    .toLowerCase()
    .replace(/[αɑ]/g, 'alpha')
    .replace(/[μµ]/g, 'u')
    .replace(/\s+/g, '')
    .replace(/[·*]/g, '')
    .replace(/^(.+)\.$/, '$1');
}

/** The unit of one dimension that a text names, or undefined. */
export function findUnit(text: string, dimension: Dimension): Unit | undefined {
  const spelling = cleanUnit(text);
  return UNITS.find((unit) => unit.dimension === dimension && unit.spellings.includes(spelling));
}

/** Every unit a text may name, in any dimension (`k` is kelvin or thousand revolutions a minute). */
export function findUnits(text: string): readonly Unit[] {
  const spelling = cleanUnit(text);
  return UNITS.filter((unit) => unit.spellings.includes(spelling));
}
