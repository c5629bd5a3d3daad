/**
 * Conversion constants. Those of ISO 1144 and ASTM D2260 are from memory (the standards were not opened); the exact
 * figures follow from the definitions of pound, yard and inch.
 */
import { describe, expect, it } from 'vitest';
import { fromTex, toTex } from '../../src/spinning/units/count.js';
import { readQuantity } from '../../src/spinning/units/quantity.js';
import { toTurnsPerMetre } from '../../src/spinning/units/twist.js';

describe('conversion factors', () => {
  it.each([
    ['tex · Ne, ISO 1144 and ASTM D2260 from memory', toTex(1, 'Ne'), 590.5, 1e-4],
    ['tex · worsted count, ASTM D2260 from memory', toTex(1, 'Nw'), 885.8, 1e-4],
    ['tex · Nm, definition', toTex(1, 'Nm'), 1000, 1e-12],
    ['tex in a denier, ISO 1144 from memory', toTex(1, 'den'), 0.1111, 2e-4],
    ['den · Ne, ASTM D2260 from memory', fromTex(toTex(1, 'Ne'), 'den'), 5315, 1e-4],
    ['Nm in one Ne, conversion table on flexuma.de, read', fromTex(toTex(1, 'Ne'), 'Nm'), 1.693, 5e-4],
    ['turns/m in one tpi, definition', toTurnsPerMetre(1, 'tpi', 30), 39.37008, 1e-7],
    ['turns/cm·√tex in one alpha-e, from memory', toTurnsPerMetre(1, 'alpha-e', 1) / 100, 9.567, 1e-4],
  ])('%s', (_name, actual, expected, relative) => {
    expect(Math.abs(actual / expected - 1)).toBeLessThan(relative);
  });

  it('reads grains a yard: 60 gr/yd is 4.25 ktex (from memory)', () => {
    expect(readQuantity('60 gr/yd', 'sliver-count')).toMatchObject({ ok: true });
    const reading = readQuantity('60 gr/yd', 'sliver-count');
    expect(reading.ok ? reading.value : 0).toBeCloseTo(4.25, 2);
  });
});
