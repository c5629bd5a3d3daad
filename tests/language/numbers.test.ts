import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pointNumber, pointNumbers, typedNumber } from '../../src/language/number-input.js';
import { sayDigits, sayFixed } from '../../src/language/numbers.js';
import { inLanguage } from '../../src/language/scope.js';
import { readQuantity } from '../../src/spinning/units/quantity.js';

const number = fc
  .tuple(fc.integer({ min: -999_999_999, max: 999_999_999 }), fc.integer({ min: 0, max: 6 }))
  .map(([digits, decimals]) => digits / 10 ** decimals);

describe('a number for reading', () => {
  it.each([
    [899.99, 1, '900'],
    [900, 1, '900'],
    [949, 1, '900'],
    [950, 1, '1\u202f000'],
    [994.9, 2, '990'],
    [999.6, 3, '1\u202f000'],
    [105_000, 4, '105\u202f000'],
    [-4.2371, 3, '\u22124.24'],
    [0, 3, '0'],
    [-0, 3, '\u22120'],
    [1e-9, 3, '0.000000001'],
  ])('%d to %d digits is %s', (value, digits, text) => {
    expect(sayDigits(value, digits)).toBe(text);
    expect(inLanguage('de', () => sayDigits(value, digits))).toBe(text.replace('.', ','));
  });

  it('keeps digits and decimals apart', () => {
    expect([sayDigits(12.345, 2), sayFixed(12.345, 2), sayFixed(1234.5, 2), sayFixed(-0.5, 1)]).toEqual([
      '12',
      '12.35',
      '1234.50',
      '\u22120.5',
    ]);
  });
});

describe('a number typed with a decimal comma', () => {
  it.each([
    ['4,2', '4.2'],
    ['1.234,5', '1234.5'],
    ['1.234', '1234'],
    ['105 000', '105000'],
    ['29,5 tex', '29.5 tex'],
    ['1,234', '1.2340'],
    ['−0,5', '-0.5'],
    [',5', '0.5'],
    // Not a number in this notation: read as it always was.
    ['4.2', '4.2'],
    ['0.125', '0.125'],
    ['1,234.5', '1,234.5'],
    ['1.23.456', '1.23.456'],
    ['20 Ne', '20 Ne'],
    ['abc', 'abc'],
  ])('%s is %s', (text, point) => {
    expect(pointNumber(text, 'de')).toBe(point);
    expect(pointNumber(text, 'en')).toBe(text);
  });

  it('is what Intl writes in German, for every number', () => {
    const format = new Intl.NumberFormat('de-DE', { maximumFractionDigits: 6 });
    fc.assert(
      fc.property(number, (value) => {
        const written = format.format(value);
        expect(Number(pointNumber(written, 'de')), written).toBe(value);
      }),
    );
  });

  it('is what the pages write in either language, for every number', () => {
    fc.assert(
      fc.property(number, fc.constantFrom('en' as const, 'de' as const), (value, language) => {
        inLanguage(language, () => {
          const written = sayFixed(value, 6);
          const read = readQuantity(pointNumber(written), 'number');
          expect(read.ok && read.value, written).toBeCloseTo(value, 6);
          expect(
            Number(pointNumber(sayDigits(value, 12).replace('\u2212', '-').replaceAll('\u202f', ''))),
          ).toBe(Number(value.toPrecision(12)));
        });
      }),
    );
  });

  it('comes back to its field as it was, and a field sent unchanged changes nothing', () => {
    fc.assert(
      fc.property(number, (value) => {
        inLanguage('de', () => {
          const kept = pointNumber(
            new Intl.NumberFormat('de-DE', { maximumFractionDigits: 6 }).format(value),
          );
          expect(pointNumber(typedNumber(kept))).toBe(kept);
          expect(typedNumber(kept)).not.toContain('.');
        });
      }),
    );
    expect(inLanguage('de', () => typedNumber('29.5 tex'))).toBe('29,5 tex');
    expect(typedNumber('29.5 tex')).toBe('29.5 tex');
  });

  it('may stand in a list', () => {
    expect(pointNumbers('12,1; 13,2;11', 'de')).toBe('12.1; 13.2;11');
    expect(pointNumbers('12,1 13,2', 'de')).toBe('12.1 13.2');
  });
});
