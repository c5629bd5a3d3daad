import { fromTurnsPerMetre, needsCount, type TwistUnit, toTurnsPerMetre } from '../spinning/units/twist.js';
import { UNITS, type Unit } from '../spinning/units/unit-table.js';

/** How one unit follows from another, with the exact factor. */
export interface ConversionRule {
  /** `factor`: to = from × factor; `product`: from × to = factor; `formula`: neither. */
  readonly kind: 'factor' | 'product' | 'formula';
  readonly factor?: number;
  readonly words: string;
  /** The definitions that the factor follows from. */
  readonly definitions: readonly string[];
}

/** Digits shown of a factor: more than any count is known to. */
const DIGITS = 10;

const DEFINITIONS: Readonly<Record<string, string>> = {
  tex: 'tex: grams a kilometre',
  Ne: 'Ne: hanks of 840 yards in a pound; 1 yard = 0.9144 m, 1 pound = 453.59237 g, both exact',
  Nw: 'Nw: hanks of 560 yards in a pound; 1 yard = 0.9144 m, 1 pound = 453.59237 g, both exact',
  Nm: 'Nm: kilometres a kilogram',
  den: 'den: grams in 9 kilometres',
  mic: 'mic: micronaire taken as micrograms an inch, which is true at reference maturity only; 1 inch = 25.4 mm exact',
  'gr/yd': 'gr/yd: grains a yard; 7000 grains = 1 pound = 453.59237 g, 1 yard = 0.9144 m, exact',
  't/m': 't/m: turns a metre',
  tpi: 'tpi: turns an inch; 1 inch = 25.4 mm exact',
  't/cm': 't/cm: turns a centimetre',
  'alpha-e': 'alpha-e: turns an inch over √Ne',
  'alpha-m': 'alpha-m: turns a metre over √Nm',
  'alpha-tex': 'alpha-tex: turns a metre times √tex',
  inch: 'inch: 25.4 mm exact',
  'yd/min': 'yd: 0.9144 m exact',
  'g/tex': 'g: gram-force, 0.980665 cN exact',
  'g/den': 'g: gram-force, 0.980665 cN exact; den: grams in 9 kilometres',
  gf: 'gf: gram-force, 0.980665 cN exact',
};

/**
 * The rule between two units of one dimension.
 * @param from id of the unit given, of {@link UNITS}
 * @param to id of the unit wanted
 * @param countTex yarn count in tex, needed when a twist multiplier is involved
 */
export function conversionRule(from: string, to: string, countTex?: number): ConversionRule {
  const definitions = [...new Set([from, to])].flatMap((id) => DEFINITIONS[id] ?? []);
  if (from === to) return { kind: 'factor', factor: 1, words: 'the unit stays the same', definitions };
  const source = unitOf(from);
  const target = unitOf(to);
  const convert = (value: number) => convertValue(value, source, target, countTex);
  const once = convert(1);
  const twice = convert(2);
  const figure = (value: number) => String(Number(value.toPrecision(DIGITS)));
  const at = needsEither(from, to) ? ' at this count' : '';
  if (near(twice, 2 * once))
    return { kind: 'factor', factor: once, words: `1 ${from} = ${figure(once)} ${to}${at}`, definitions };
  if (near(twice, once / 2))
    return { kind: 'product', factor: once, words: `${from} × ${to} = ${figure(once)}`, definitions };
  const offset = convert(0);
  const slope = once - offset;
  const sign = offset < 0 ? '−' : '+';
  return {
    kind: 'formula',
    words: `${to} = ${from}${near(slope, 1) ? '' : ` × ${figure(slope)}`} ${sign} ${figure(Math.abs(offset))}`,
    definitions,
  };
}

function convertValue(value: number, from: Unit, to: Unit, countTex: number | undefined): number {
  if (from.dimension !== 'twist') return to.fromBase(from.toBase(value));
  const tex = countTex ?? Number.NaN;
  return fromTurnsPerMetre(toTurnsPerMetre(value, from.id as TwistUnit, tex), to.id as TwistUnit, tex);
}

const needsEither = (from: string, to: string) => [from, to].some((unit) => needsCount(unit as TwistUnit));

function unitOf(id: string): Unit {
  const unit = UNITS.find((one) => one.id === id);
  if (unit === undefined) throw new RangeError(`"${id}" is not a unit`);
  return unit;
}

const near = (a: number, b: number) => Math.abs(a - b) <= 1e-12 * Math.max(Math.abs(a), Math.abs(b));
