/**
 * The whole model against what is published or remembered of its behaviour: directions of effects, orders of
 * magnitude of six setups, the U shape of the least twist. Each check names its source, or says "from memory" or
 * "common practice, no source". Directions whose source is "physics" follow from geometry or mechanics alone.
 */
import { describe, expect, it } from 'vitest';
import { findLeastTwist } from '../../src/spinning/least-twist.js';
import { computeState } from '../../src/spinning/model.js';
import { centralParameters } from '../../src/spinning/parameters.js';
import type { SpinningSetup } from '../../src/spinning/setup.js';
import type { QuantityField } from '../../src/spinning/state.js';
import { toTurnsPerMetre } from '../../src/spinning/units/twist.js';
import { readTable, WEFT } from '../spinning/knowledge.js';

const P = centralParameters(readTable());

const setup = (alphaE: number, change: Partial<SpinningSetup> = {}): SpinningSetup => {
  const whole = { ...WEFT, ...change };
  return { ...whole, twistPerMetre: toTurnsPerMetre(alphaE, 'alpha-e', whole.countTex) };
};
const NOTCHES_8 = { nozzleSurface: 'notched', notches: 8 } as const;
const POLYESTER = {
  fibres: [{ fibre: 'polyester', share: 1 }],
  stapleMm: 38,
  finenessMtex: 150,
  countTex: 20,
  nozzleSurface: 'smooth',
} as const;

const NOZZLE_REVIEW = 'review of rotor and nozzle by Balasubramanian, abstract, read';
const TWIST_MODEL = 'abstract on a twist-blockage model, variables read, signs as physics has them';
const FORMATION_NOTE = 'lecture note on the formation of the yarn, read';
const JUDGEMENT = 'judgement of the trade, no source';

/** The change, the quantity, its direction, the source. All on the 30 tex weft yarn at alpha-e 4.3. */
const SIGNS: readonly (readonly [string, Partial<SpinningSetup>, QuantityField, 1 | -1, string])[] = [
  ['nozzle standing out farther', { nozzleProtrusionMm: 3 }, 'nozzleWrapDeg', 1, 'physics'],
  ['nozzle standing out farther', { nozzleProtrusionMm: 3 }, 'falseTwistPct', 1, TWIST_MODEL],
  ['nozzle standing out farther', { nozzleProtrusionMm: 3 }, 'bindingLengthMm', 1, 'physics'],
  ['nozzle standing out farther', { nozzleProtrusionMm: 3 }, 'twistMargin', 1, 'from memory'],
  ['nozzle standing out farther', { nozzleProtrusionMm: 3 }, 'tensionMargin', -1, 'physics'],
  ['nozzle standing out farther', { nozzleProtrusionMm: 3 }, 'softnessIndex', -1, JUDGEMENT],
  ['nozzle standing out farther', { nozzleProtrusionMm: 3 }, 'wrapperSharePct', 1, FORMATION_NOTE],
  ['eight notches', NOTCHES_8, 'falseTwistPct', 1, TWIST_MODEL],
  ['eight notches', NOTCHES_8, 'hairinessIndex', 1, NOZZLE_REVIEW],
  ['eight notches', NOTCHES_8, 'flyIndex', 1, 'common practice, no source'],
  ['smaller nozzle radius', { nozzleRadiusMm: 2.5 }, 'falseTwistPct', -1, 'from memory'],
  [
    'smaller nozzle radius',
    { nozzleRadiusMm: 2.5 },
    'nozzleFrictionPowerW',
    -1,
    'patent on a small-radius nozzle, read',
  ],
  ['smaller nozzle radius', { nozzleRadiusMm: 2.5 }, 'twistMargin', -1, 'from memory'],
  ['sharper tube bend', { tubeBendDeg: 60 }, 'falseTwistPct', 1, 'from memory'],
  ['grooved insert', { insert: '3-groove' }, 'falseTwistPct', 1, 'patent on a twist-retaining element, read'],
  ['grooved insert', { insert: '3-groove' }, 'takeUpTensionCnPerTex', 1, 'common practice, no source'],
  ['more twist', { twistPerMetre: 830 }, 'softnessIndex', -1, 'from memory'],
  ['more twist', { twistPerMetre: 830 }, 'outputGPerRotorH', -1, 'physics'],
  ['higher rotor speed', { rotorSpeedRpm: 120000, twistPerMetre: 757 }, 'outputGPerRotorH', 1, 'physics'],
  ['higher rotor speed', { rotorSpeedRpm: 120000 }, 'tensionMargin', -1, 'lecture note on forces, read'],
  ['smaller rotor', { rotorDiameterMm: 28 }, 'wrapperSharePct', 1, 'study of belts by Barella, note read'],
  ['sharper tube bend', { tubeBendDeg: 60 }, 'tensionMargin', -1, 'physics'],
];

describe('directions of effects', () => {
  it.each(SIGNS)('%s', (_name, change, field, direction, _source) => {
    const before = computeState(setup(4.3), P)[field];
    const after = computeState({ ...setup(4.3), ...change }, P)[field];
    expect(Math.sign(after - before)).toBe(direction);
  });
});

/** Six setups from denim warp to waste yarn, on which orders of magnitude are checked. */
const SIX: Readonly<Record<string, SpinningSetup>> = {
  'denim warp': setup(4.8, {
    countTex: 84,
    nozzleSurface: 'notched',
    notches: 4,
    rotorDiameterMm: 40,
    rotorSpeedRpm: 80000,
  }),
  'knitting cotton': setup(3.6, {
    countTex: 20,
    ...NOTCHES_8,
    insert: '3-groove',
    tubeBendDeg: 45,
    rotorSpeedRpm: 105000,
  }),
  'weft cotton': setup(4.3),
  polyester: setup(3.3, { ...POLYESTER, rotorSpeedRpm: 95000 }),
  'polyester, small radius': setup(3.3, { ...POLYESTER, rotorSpeedRpm: 109000, nozzleRadiusMm: 2.5 }),
  'waste yarn': setup(5.4, {
    countTex: 98,
    nozzleSurface: 'notched',
    notches: 6,
    nozzleProtrusionMm: 2,
    rotorDiameterMm: 46,
    rotorSpeedRpm: 65000,
    tubeBendDeg: 45,
    stapleMm: 24,
  }),
};

/** Orders of magnitude: quantity, least, most, source. */
const MAGNITUDES: readonly (readonly [QuantityField, number, number, string])[] = [
  ['rimSpeedMPerS', 130, 220, 'top speeds of rotors, from memory'],
  ['takeUpTensionCnPerTex', 1, 3, 'from memory'],
  ['falseTwistPct', 20, 62, 'common practice, no source: up to about 60 %'],
  ['bindingLengthMm', 5, 20, 'from memory'],
  ['wrapperSharePct', 10, 30, 'from memory'],
  ['backDoublings', 60, 120, 'from memory'],
  ['tensionStrengthRatio', 0.05, 0.25, 'from memory'],
  ['yarnTenacityCnPerTex', 10, 24, 'from memory'],
  ['nozzleFrictionPowerW', 3, 20, 'physics, friction from memory'],
  ['yarnHeatingK', 15, 80, 'physics, friction from memory'],
  ['contractionPct', 2, 8, 'from memory (3–6 % in rotor yarn, more in the ideal helix)'],
];

/** Where the model and the remembered magnitude differ, and why; a new difference fails. */
const OUTSIDE: Readonly<Record<string, string>> = {
  'polyester bindingLengthMm':
    'Comes out just below 5 mm: low torsional stiffness and no measured length to set the cohesion by.',
  'polyester, small radius bindingLengthMm': 'As above.',
  'waste yarn contractionPct': 'The ideal helix at alpha-e 5.4; a rotor yarn of that twist shortens less.',
};

describe('orders of magnitude of six setups', () => {
  const cases = Object.entries(SIX).flatMap(([name, one]) =>
    MAGNITUDES.map((magnitude) => [name, magnitude[0], one, magnitude] as const),
  );
  it.each(cases)('%s: %s', (name, field, one, [, low, high]) => {
    const value = computeState(one, P)[field];
    const inside = value >= low && value <= high;
    const listed = `${name} ${field}` in OUTSIDE;
    expect({ value, inside }).toEqual({ value, inside: !listed });
  });
});

describe('least twist against rotor speed', () => {
  // Source of the shape: review of rotor and nozzle by Balasubramanian (abstract, read) and lecture slides by Khare
  // (read). The model's groove parameters were set to give it, so this is no independent check of its level.
  const speeds = Array.from({ length: 15 }, (_unused, i) => 20000 + 10000 * i);
  const curve = (rotorDiameterMm: number): number[] =>
    speeds.map(
      (rotorSpeedRpm) =>
        findLeastTwist(setup(4.3, { rotorDiameterMm, rotorSpeedRpm }), P) ?? Number.POSITIVE_INFINITY,
    );
  const bestAt = (values: readonly number[]): number => values.indexOf(Math.min(...values));

  it.each([28, 33, 40, 46, 56])('falls and then rises on a %i mm rotor', (rotorDiameterMm) => {
    const values = curve(rotorDiameterMm);
    const best = bestAt(values);
    expect(best).toBeGreaterThan(0);
    expect(best).toBeLessThan(values.length - 1);
    for (let i = 1; i <= best; i++) expect(values[i]).toBeLessThanOrEqual(values[i - 1] ?? 0);
    for (let i = best + 1; i < values.length; i++) {
      expect(values[i]).toBeGreaterThanOrEqual(values[i - 1] ?? 0);
    }
  });

  it('has its best speed higher on a smaller rotor', () => {
    const best = [28, 33, 40, 46, 56].map((diameter) => bestAt(curve(diameter)));
    for (let i = 1; i < best.length; i++) expect(best[i]).toBeLessThan(best[i - 1] ?? 0);
  });

  it('comes to the multipliers remembered for cotton: 2.8 to 3.5 at the best speed of a 33 mm rotor', () => {
    // From memory: absolute least alpha-e for cotton.
    const least = Math.min(...curve(33));
    expect(least).toBeGreaterThan(2.6);
    expect(least).toBeLessThan(3.5);
  });
});

describe('speed a smaller nozzle radius allows polyester', () => {
  it('is some 15 % at equal friction power (common practice, no source)', () => {
    const power = (rpm: number, nozzleRadiusMm: number): number =>
      computeState(setup(3.3, { ...POLYESTER, rotorSpeedRpm: rpm, nozzleRadiusMm }), P).nozzleFrictionPowerW;
    const allowed = power(95000, 4);
    let rpm = 95000;
    while (power(rpm, 2.5) < allowed) rpm += 100;
    const gain = (100 * rpm) / 95000 - 100;
    expect(gain).toBeGreaterThan(11);
    expect(gain).toBeLessThan(19);
  });
});

describe('twist multipliers mills use', () => {
  // Typical multipliers of rotor yarns, from memory; the least twist must lie below the low end of each.
  it.each([
    ['cotton', 28, 165, 3.3],
    ['polyester', 38, 150, 2.8],
    ['viscose', 38, 150, 2.9],
    ['acrylic', 40, 133, 2.7],
  ] as const)('%s may be spun at the low end of its usual range', (fibre, stapleMm, finenessMtex, low) => {
    const one = setup(low, {
      fibres: [{ fibre, share: 1 }],
      stapleMm,
      finenessMtex,
      countTex: 25,
      rotorDiameterMm: 36,
      rotorSpeedRpm: 90000,
      nozzleSurface: 'notched',
      notches: 4,
    });
    expect(findLeastTwist(one, P) ?? Number.POSITIVE_INFINITY).toBeLessThan(low);
  });
});
