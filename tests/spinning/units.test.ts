import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convertQuantity } from '../../src/spinning/units/conversion.js';
import { type CountUnit, fromTex, toTex } from '../../src/spinning/units/count.js';
import { QUANTITY_KINDS, type QuantityKind, readQuantity } from '../../src/spinning/units/quantity.js';
import { fromTurnsPerMetre, type TwistUnit, toTurnsPerMetre } from '../../src/spinning/units/twist.js';

const COUNT_UNITS: CountUnit[] = ['tex', 'dtex', 'mtex', 'ktex', 'den', 'Ne', 'Nm', 'Nw', 'mic'];
const TWIST_UNITS: TwistUnit[] = ['t/m', 'tpi', 't/cm', 'alpha-e', 'alpha-m', 'alpha-tex'];
const KINDS = Object.keys(QUANTITY_KINDS) as QuantityKind[];
const positive = fc.double({ min: 1e-3, max: 1e5, noNaN: true });

function read(text: string | number, kind: QuantityKind, countTex?: number): number {
  const reading = readQuantity(text, kind, countTex === undefined ? {} : { countTex });
  if (!reading.ok) throw new Error(`${text}: ${reading.reason}`);
  return reading.value;
}

function near(actual: number, expected: number): void {
  expect(Math.abs(actual / expected - 1)).toBeLessThan(1e-8);
}

describe('count and twist systems', () => {
  it('return what they were given after a round trip', () => {
    fc.assert(
      fc.property(positive, fc.constantFrom(...COUNT_UNITS), (value, unit) => {
        near(fromTex(toTex(value, unit), unit), value);
      }),
    );
    fc.assert(
      fc.property(positive, positive, fc.constantFrom(...TWIST_UNITS), (value, tex, unit) => {
        near(fromTurnsPerMetre(toTurnsPerMetre(value, unit, tex), unit, tex), value);
      }),
    );
  });

  it('refuse what cannot be, naming value and unit', () => {
    expect(() => toTex(0, 'Ne')).toThrow(/0 Ne/);
    expect(() => toTex(Number.NaN, 'tex')).toThrow(RangeError);
    expect(() => fromTex(-1, 'Nm')).toThrow(RangeError);
    expect(() => toTurnsPerMetre(-3, 'tpi', 30)).toThrow(/-3 tpi/);
    expect(() => toTurnsPerMetre(4, 'alpha-e', 0)).toThrow(RangeError);
  });
});

describe('readQuantity', () => {
  it.each([
    [20, 'count', 20],
    ['20', 'count', 20],
    ['20 Ne', 'count', 29.5270624],
    ['Ne 20', 'count', 29.5270624],
    ['Ne 20/1', 'count', 29.5270624],
    ['20 NeC', 'count', 29.5270624],
    ['20 Ne c', 'count', 29.5270624],
    ['34 Nm', 'count', 29.4117647],
    ['29,5 tex', 'count', 29.5],
    ['29.5TEX', 'count', 29.5],
    ['4.9 ktex', 'sliver-count', 4.9],
    ['0.12 Ne', 'sliver-count', 4.92117706],
    ['4.2 mic', 'fineness', 165.354331],
    ['1.5 dtex', 'fineness', 150],
    ['1.4 den', 'fineness', 155.555556],
    ['165 mtex', 'fineness', 165],
    ['105000 rpm', 'speed', 105000],
    ['105 000 rpm', 'speed', 105000],
    ['105\u202f000 rpm', 'speed', 105000],
    ['105\u00a0000\u2009rpm', 'speed', 105000],
    ["105'000 rpm", 'speed', 105000],
    ['105,000 rpm', 'speed', 105000],
    ['105.000 rpm', 'speed', 105000],
    ['105k rpm', 'speed', 105000],
    ['105000 1/min', 'speed', 105000],
    ['105 000 1/min', 'speed', 105000],
    ['- 0.5 mm', 'length', -0.5],
    ['Ne: 20', 'count', 29.5270624],
    ['105k', 'speed', 105000],
    ['7.5 krpm', 'speed', 7500],
    ['6,000 h', 'hours', 6000],
    ['90 min', 'hours', 1.5],
    ['28 mm', 'length', 28],
    ['1,10 "', 'length', 27.94],
    ['1 1/8 inch', 'length', 28.575],
    ['−0,5 mm', 'length', -0.5],
    ['1.234,5 mm', 'length', 1234.5],
    ['1,234.5 mm', 'length', 1234.5],
    ['0,165 tex', 'fineness', 165],
    ['40°', 'angle', 40],
    ['40 deg', 'angle', 40],
    ['58 %', 'percent', 58],
    ['25 °C', 'temperature', 25],
    ['25 ℃', 'temperature', 25],
    ['77 F', 'temperature', 25],
    ['30 g/den', 'tenacity', 264.77955],
    ['12.5 cN/tex', 'tenacity', 12.5],
    ['0.98', 'number', 0.98],
  ] as const)('%s as %s', (text, kind, expected) => {
    near(read(text, kind), expected);
  });

  it.each([
    ['4.3 alpha-e'],
    ['4.3 αe'],
    ['αe 4.3'],
    ['4,3 Alpha E'],
    ['4.3 ae'],
    ['130.094785 αm'],
    ['4113.95795 alpha-tex'],
    ['19.2964 tpi'],
    ['759.70 T/m'],
    ['759.70 tpm'],
  ])('%s with 29.3259 tex', (text) => {
    expect(Math.abs(read(text, 'twist', 29.3259) / 759.7 - 1)).toBeLessThan(5e-4);
  });

  it('says what is missing or allowed', () => {
    const multiplier = readQuantity('4.3 alpha-e', 'twist');
    expect(multiplier).toMatchObject({ ok: false, reason: expect.stringContaining('needs the yarn count') });
    const perCentimetre = readQuantity('41.2 alpha-tex', 'twist', { countTex: 30 });
    expect(perCentimetre).toMatchObject({ ok: false, reason: expect.stringContaining('4120') });
    const parsec = readQuantity('20 parsec', 'length');
    expect(parsec).toMatchObject({ ok: false, allowed: ['mm', 'cm', 'm', 'inch'] });
    expect(readQuantity('20 mm', 'count')).toMatchObject({ ok: false });
    expect(readQuantity('', 'count')).toMatchObject({ ok: false, reason: 'nothing was given' });
    expect(readQuantity('0 Ne', 'count')).toMatchObject({ ok: false });
    expect(readQuantity(-1, 'speed')).toMatchObject({ ok: false });
    expect(readQuantity(Number.NaN, 'count')).toMatchObject({ ok: false });
    expect(readQuantity('20 Ne tex', 'count')).toMatchObject({ ok: false });
    expect(readQuantity('Ne 20 tex', 'count')).toMatchObject({ ok: false });
    expect(readQuantity('1e-400 Ne', 'count')).toMatchObject({ ok: false });
    expect(readQuantity('0x10', 'count')).toMatchObject({ ok: false });
    expect(readQuantity('1 00 mm', 'length')).toMatchObject({ ok: false });
    expect(readQuantity('0.98 mm', 'number')).toMatchObject({ ok: false, allowed: ['a plain number'] });
  });

  it('refuses a number that can be read two ways', () => {
    expect(readQuantity('1,234 mm', 'length')).toMatchObject({
      ok: false,
      reason: expect.stringContaining('1.2340 or 1234'),
    });
    expect(readQuantity('6.000 h', 'hours')).toMatchObject({
      ok: false,
      reason: expect.stringContaining('6 or 6000'),
    });
    expect(read('6.5 h', 'hours')).toBe(6.5);
    expect(read('1.234 mm', 'length')).toBe(1.234);
    expect(read('1234 mm', 'length')).toBe(1234);
    expect(read('1,23 mm', 'length')).toBe(1.23);
    expect(read('1,2345 mm', 'length')).toBe(1.2345);
  });

  it('takes a field default for a bare number', () => {
    const reading = readQuantity('20', 'count', { defaultUnit: 'Ne' });
    expect(reading).toMatchObject({ ok: true, unit: 'Ne' });
    expect(readQuantity(20, 'count', { defaultUnit: 'mm' })).toMatchObject({ ok: false });
  });

  it('never throws, and gives a finite value or a reason, whatever the text', () => {
    const unit = fc.constantFrom(...Object.values(QUANTITY_KINDS).flatMap((kind) => kind.units));
    const text = fc.oneof(
      fc.string(),
      fc.string({ unit: 'grapheme' }),
      fc.tuple(fc.double(), unit).map(([value, name]) => `${value} ${name}`),
      fc.tuple(unit, fc.string({ unit: fc.constantFrom(..."0123456789.,+-e' /") })).map((p) => p.join(' ')),
    );
    fc.assert(
      fc.property(text, fc.constantFrom(...KINDS), fc.option(positive), (given, kind, count) => {
        const reading = readQuantity(given, kind, count === null ? {} : { countTex: count });
        if (reading.ok) expect(Number.isFinite(reading.value)).toBe(true);
        else {
          expect(reading.reason).not.toBe('');
          expect(reading.allowed.length).toBeGreaterThan(0);
        }
      }),
      { numRuns: 3000 },
    );
  });

  it('reads back every number it could have written', () => {
    fc.assert(
      fc.property(positive, fc.constantFrom(...KINDS), (value, kind) => {
        const info = QUANTITY_KINDS[kind];
        // Four decimals, so that a point is never followed by exactly three digits.
        const written = value.toFixed(4);
        const unit = kind === 'number' ? '' : ` ${info.baseUnit}`;
        near(read(`${written}${unit}`, kind), Number(written));
        near(read(`${written.replace('.', ',')}${unit}`, kind), Number(written));
      }),
    );
  });
});

describe('convertQuantity', () => {
  it.each([
    ['20 Ne', 'tex', undefined, 29.5270624],
    ['4.3 alpha-e', 't/m', '20 Ne', 757.093882],
    ['757.093882 t/m', 'αe', '20 Ne', 4.3],
    ['4.2 mic', 'dtex', undefined, 1.65354331],
    ['4 ktex', 'Ne', undefined, 0.147635312],
    ['105k rpm', 'rpm', undefined, 105000],
    ['30 C', 'K', undefined, 303.15],
    ['33 mm', 'inch', undefined, 1.2992126],
  ] as const)('%s in %s', (text, unit, count, expected) => {
    const result = convertQuantity(text, unit, count === undefined ? {} : { count });
    expect(result).toMatchObject({ ok: true });
    near(result.ok ? result.value : 0, expected);
  });

  it('says why not', () => {
    expect(convertQuantity('20 Ne', 'furlong')).toMatchObject({ ok: false });
    expect(convertQuantity('20 Ne', 'mm')).toMatchObject({ ok: false });
    expect(convertQuantity('800 t/m', 'alpha-e')).toMatchObject({
      ok: false,
      reason: expect.stringContaining('count'),
    });
    expect(convertQuantity('4 alpha-e', 't/m', { count: 'coarse' })).toMatchObject({
      ok: false,
      reason: expect.stringContaining('count:'),
    });
  });

  it('never throws', () => {
    fc.assert(
      fc.property(fc.string(), fc.string(), fc.option(fc.string()), (text, unit, count) => {
        convertQuantity(text, unit, count === null ? {} : { count });
      }),
    );
  });

  it('returns after going there and back', () => {
    fc.assert(
      fc.property(positive, fc.constantFrom('tex', 'Ne', 'Nm', 'den', 'dtex'), (value, unit) => {
        const there = convertQuantity(`${value.toFixed(4)} ${unit}`, 'tex');
        if (!there.ok) return expect(Number(value.toFixed(4))).toBe(0);
        const back = convertQuantity(`${there.value} tex`, unit);
        near(back.ok ? back.value : 0, Number(value.toFixed(4)));
      }),
    );
  });
});
