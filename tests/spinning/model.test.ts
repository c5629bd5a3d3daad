import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { blendPurity } from '../../src/spinning/blend.js';
import { blendFineness } from '../../src/spinning/fibres-in-section.js';
import { findLeastTwist } from '../../src/spinning/least-twist.js';
import { computeState } from '../../src/spinning/model.js';
import { centralParameters, type ModelParameters, ParameterError } from '../../src/spinning/parameters.js';
import { QUANTITIES, quantityByField, quantityById } from '../../src/spinning/quantities.js';
import type { InsertKind, SpinningSetup } from '../../src/spinning/setup.js';
import { MARGIN_FIELDS, QUANTITY_FIELDS, type QuantityField } from '../../src/spinning/state.js';
import { speedStrengthLoss } from '../../src/spinning/strength.js';
import { readTable, WEFT } from './knowledge.js';

const TABLE = readTable();
const P = centralParameters(TABLE);
const FIBRES = Object.keys(TABLE.fibres);
const INSERTS: InsertKind[] = ['none', 'smooth', '1-groove', '2-groove', '3-groove'];

const range = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const anySetup: fc.Arbitrary<SpinningSetup> = fc
  .record({
    fibre: fc.constantFrom(...FIBRES),
    other: fc.constantFrom(...FIBRES),
    share: range(0.1, 1),
    recycledShare: range(0, 1),
    delustrant: fc.constantFrom('bright', 'semi-dull', 'dull'),
    stapleMm: range(18, 60),
    finenessMtex: range(90, 500),
    countTex: range(12, 200),
    twistPerMetre: range(250, 1500),
    rotorDiameterMm: range(26, 66),
    rotorSpeedRpm: range(20000, 160000),
    groove: fc.constantFrom('narrow', 'medium', 'wide'),
    nozzleSurface: fc.constantFrom('smooth', 'spiral', 'notched', 'knurled'),
    notches: fc.integer({ min: 1, max: 12 }),
    nozzleMaterial: fc.constantFrom('ceramic', 'steel', 'ceramic-head'),
    nozzleRadiusMm: range(1.5, 6),
    nozzleProtrusionMm: range(-2, 5),
    tubeBendDeg: range(0, 90),
    insert: fc.constantFrom(...INSERTS),
    humidityPct: range(30, 80),
    temperatureC: range(15, 38),
  })
  .map(({ fibre, other, share, ...rest }) => ({
    ...WEFT,
    ...(rest as Partial<SpinningSetup>),
    fibres:
      share > 0.95 || fibre === other
        ? [{ fibre, share: 1 }]
        : [
            { fibre, share },
            { fibre: other, share: 1 - share },
          ],
  }));

function alwaysMoves(
  field: QuantityField,
  change: (setup: SpinningSetup) => Partial<SpinningSetup>,
  direction: 1 | -1,
  parameters: ModelParameters = P,
): void {
  fc.assert(
    fc.property(anySetup, (setup) => {
      const before = computeState(setup, parameters)[field];
      const after = computeState({ ...setup, ...change(setup) }, parameters)[field];
      expect(direction * (after - before)).toBeGreaterThanOrEqual(-1e-9 * Math.abs(before));
    }),
  );
}

describe('computeState', () => {
  it('gives a finite number for every quantity of any sensible setup', () => {
    fc.assert(
      fc.property(anySetup, (setup) => {
        const state = computeState(setup, P);
        for (const field of QUANTITY_FIELDS) expect(state[field], field).toBeTypeOf('number');
        for (const field of QUANTITY_FIELDS) expect(Number.isFinite(state[field]), field).toBe(true);
        expect(Object.keys(state).sort()).toEqual([...QUANTITY_FIELDS].sort());
      }),
    );
  });

  it('keeps bounds in order and parts within wholes', () => {
    fc.assert(
      fc.property(anySetup, (setup) => {
        const s = computeState(setup, P);
        expect(s.nozzleGainLower).toBeGreaterThanOrEqual(1);
        expect(s.nozzleGainUpper).toBeGreaterThanOrEqual(s.nozzleGainLower);
        expect(s.takeUpTensionCnPerTex).toBeGreaterThanOrEqual(s.takeUpTensionLowerCnPerTex);
        expect(s.takeUpTensionCnPerTex).toBeLessThanOrEqual(s.takeUpTensionUpperCnPerTex);
        expect(s.falseTwistNozzlePct + s.falseTwistBendPct).toBeCloseTo(s.falseTwistPct, 9);
        expect(s.falseTwistPct).toBeLessThan(100 * P.falseTwistSaturation);
        expect(s.stabilityMargin).toBe(Math.min(s.twistMargin, s.tensionMargin));
        for (const margin of MARGIN_FIELDS) expect(s[margin]).toBeGreaterThan(-1);
      }),
    );
  });

  it('carries the scale of each law', () => {
    fc.assert(
      fc.property(anySetup, (setup) => {
        const one = computeState(setup, P);
        const faster = computeState({ ...setup, rotorSpeedRpm: 2 * setup.rotorSpeedRpm }, P);
        expect(faster.armTensionCn / one.armTensionCn).toBeCloseTo(4, 9);
        expect(faster.deliveryMPerMin / one.deliveryMPerMin).toBeCloseTo(2, 9);
        // Friction falls with load to the Howell power, so power grows with speed to 1 + 2n.
        const power = faster.nozzleFrictionPowerW / one.nozzleFrictionPowerW;
        expect(power).toBeCloseTo(2 ** (1 + 2 * P.howellExponent), 9);
        const coarser = computeState({ ...setup, countTex: 2 * setup.countTex }, P);
        expect(coarser.armTensionCnPerTex).toBeCloseTo(one.armTensionCnPerTex, 9);
        expect(coarser.yarnDiameterMm / one.yarnDiameterMm).toBeCloseTo(Math.SQRT2, 9);
        expect(coarser.twistAlphaE / one.twistAlphaE).toBeCloseTo(Math.SQRT2, 9);
        expect(coarser.fibresInSection / one.fibresInSection).toBeCloseTo(2, 9);
      }),
    );
  });

  it('moves with settings in the direction it should, on any setup', () => {
    const plus =
      (field: 'nozzleProtrusionMm' | 'tubeBendDeg' | 'rotorSpeedRpm', by: number) =>
      (setup: SpinningSetup): Partial<SpinningSetup> => ({ [field]: setup[field] + by });
    alwaysMoves('falseTwistPct', plus('nozzleProtrusionMm', 1), 1);
    alwaysMoves('takeUpTensionCnPerTex', plus('nozzleProtrusionMm', 1), 1);
    alwaysMoves('falseTwistBendPct', plus('tubeBendDeg', 10), 1);
    alwaysMoves('tensionMargin', plus('tubeBendDeg', 10), -1);
    alwaysMoves('tensionMargin', plus('rotorSpeedRpm', 5000), -1);
    alwaysMoves('heatMargin', plus('rotorSpeedRpm', 5000), -1);
    alwaysMoves('nozzleLifeH', plus('rotorSpeedRpm', 5000), -1);
    alwaysMoves('falseTwistPct', () => ({ nozzleSurface: 'smooth' }), -1);
    alwaysMoves('hairinessIndex', () => ({ nozzleSurface: 'smooth' }), -1);
    alwaysMoves('flyIndex', () => ({ nozzleSurface: 'smooth' }), -1);
    alwaysMoves('armTwistPerM', (s) => ({ twistPerMetre: s.twistPerMetre * 1.05 }), 1);
    alwaysMoves('twistMargin', (s) => ({ twistPerMetre: s.twistPerMetre * 1.05 }), 1);
    alwaysMoves('outputGPerRotorH', (s) => ({ twistPerMetre: s.twistPerMetre * 1.05 }), -1);
    alwaysMoves('bindingLengthMm', () => ({ groove: 'narrow' }), -1);
    alwaysMoves('bindingLengthMm', () => ({ groove: 'wide' }), 1);
    alwaysMoves('yarnTenacityCnPerTex', (s) => ({ recycledShare: Math.min(1, s.recycledShare + 0.1) }), -1);
    alwaysMoves('twistMargin', (s) => ({ recycledShare: Math.min(1, s.recycledShare + 0.1) }), -1);
    alwaysMoves('nozzleLifeH', () => ({ delustrant: 'dull' }), -1);
    alwaysMoves('yarnHeatingK', () => ({ nozzleMaterial: 'steel' }), -1);
    alwaysMoves('yarnHeatingK', () => ({ nozzleMaterial: 'ceramic' }), 1);
  });

  it('grades the inserts', () => {
    const held = INSERTS.map((insert) => computeState({ ...WEFT, insert }, P).falseTwistBendPct);
    expect(held).toEqual([...held].sort((a, b) => a - b));
    expect(new Set(held).size).toBe(INSERTS.length);
  });

  it('leaves alone what the hours do not move', () => {
    const young = computeState({ ...WEFT, nozzleHours: 0, tubeHours: 0 }, P);
    const old = computeState({ ...WEFT, nozzleHours: 9000, tubeHours: 9000 }, P);
    expect({ ...old, nozzleLifeUsedPct: 0 }).toEqual({ ...young, nozzleLifeUsedPct: 0 });
    expect(old.nozzleLifeUsedPct).toBeGreaterThan(0);
  });

  it('counts delustrant only where the fibre is man-made', () => {
    const life = (fibre: string, delustrant: 'bright' | 'dull'): number =>
      computeState({ ...WEFT, fibres: [{ fibre, share: 1 }], delustrant }, P).nozzleLifeH;
    expect(life('cotton', 'dull')).toBe(life('cotton', 'bright'));
    expect(life('viscose', 'dull')).toBeLessThan(life('viscose', 'bright'));
  });

  it('names a fibre it has no data for, and what there is', () => {
    const unknown = { ...WEFT, fibres: [{ fibre: 'moonsilk', share: 1 }] };
    expect(() => computeState(unknown, P)).toThrow(ParameterError);
    expect(() => computeState(unknown, P)).toThrow(/moonsilk.*cotton/);
    expect(() => computeState({ ...WEFT, fibres: [] }, P)).toThrow(ParameterError);
  });
});

describe('blends', () => {
  const blend = (share: number): SpinningSetup => ({
    ...WEFT,
    fibres: [
      { fibre: 'polyester', share },
      { fibre: 'cotton', share: 1 - share },
    ],
  });

  it('lie between their partners where means by mass are taken', () => {
    for (const field of ['yarnDiameterMm', 'nozzleFriction', 'nozzleLifeH'] as const) {
      const [a, mix, b] = [1, 0.5, 0].map((share) => computeState(blend(share), P)[field]);
      expect(Math.min(a ?? 0, b ?? 0)).toBeLessThanOrEqual(mix ?? 0);
      expect(Math.max(a ?? 0, b ?? 0)).toBeGreaterThanOrEqual(mix ?? 0);
    }
  });

  it('lose no strength to speed when even, as the trial found', () => {
    expect(computeState(blend(0.5), P).speedStrengthLossPct).toBe(0);
    expect(computeState(blend(1), P).speedStrengthLossPct).toBeGreaterThan(10);
    expect(blendPurity([{ fibre: 'a', share: 3 }])).toBe(1);
  });

  it('have the same state whatever the shares sum to, and as one fibre twice', () => {
    const doubled = {
      ...WEFT,
      fibres: [
        { fibre: 'polyester', share: 100 },
        { fibre: 'cotton', share: 100 },
      ],
    };
    expect(computeState(doubled, P)).toEqual(computeState(blend(0.5), P));
  });

  it('have the harmonic mean fineness: 3 and 6 den at 2 : 3 give 4.29 (examination 2020, question 46, read)', () => {
    const fineness = blendFineness([
      { share: 2, finenessMtex: 3 },
      { share: 3, finenessMtex: 6 },
    ]);
    expect(fineness).toBeCloseTo(4.29, 2);
    expect(() => blendFineness([])).toThrow(RangeError);
  });
});

describe('strength lost by speed', () => {
  const scale = { fromRpm: 36000, toRpm: 60000, rotorMm: 46, tail: 0.5 };

  it('is nothing below, the measured loss at the top, and bounded beyond', () => {
    expect(speedStrengthLoss(14, 46, 30000, scale)).toBe(0);
    expect(speedStrengthLoss(14, 46, 60000, scale)).toBeCloseTo(14, 12);
    expect(speedStrengthLoss(14, 46, 1e6, scale)).toBeLessThanOrEqual(21);
  });

  it('never falls with speed and has no kink at the top of the trial', () => {
    fc.assert(
      fc.property(range(10000, 300000), range(1, 5000), (rpm, step) => {
        const gain = speedStrengthLoss(14, 46, rpm + step, scale) - speedStrengthLoss(14, 46, rpm, scale);
        expect(gain).toBeGreaterThanOrEqual(0);
        expect(gain).toBeLessThanOrEqual((14 * step) / 24000 + 1e-9);
      }),
    );
    const slope = (at: number): number =>
      speedStrengthLoss(14, 46, at + 1, scale) - speedStrengthLoss(14, 46, at, scale);
    expect(slope(60001) / slope(59000)).toBeCloseTo(1, 3);
  });
});

describe('findLeastTwist', () => {
  it('stops where the margin is just met', () => {
    const least = findLeastTwist(WEFT, P) ?? Number.NaN;
    const at = (alphaE: number): number =>
      computeState({ ...WEFT, twistPerMetre: (alphaE * 956.7344) / Math.sqrt(WEFT.countTex) }, P)
        .stabilityMargin;
    expect(at(least)).toBeGreaterThanOrEqual(0);
    expect(at(least - 0.005)).toBeLessThan(0);
  });

  it('finds none where tension forbids every twist', () => {
    expect(findLeastTwist({ ...WEFT, rotorSpeedRpm: 200000 }, P)).toBeUndefined();
    expect(findLeastTwist({ ...WEFT, rotorSpeedRpm: 200000 }, P, 'twist')).toBeGreaterThan(1);
  });
});

describe('table of quantities', () => {
  it('describes every quantity once, under its own id', () => {
    expect(QUANTITIES.map((quantity) => quantity.field)).toEqual([...QUANTITY_FIELDS]);
    const ids = QUANTITIES.map((quantity) => quantity.id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const id of ids) expect(id).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
    expect(quantityById('twist-margin')).toEqual(quantityByField('twistMargin'));
    expect(quantityById('no-such-thing')).toBeUndefined();
  });

  it('calls margins margins, with the low side worse', () => {
    for (const margin of MARGIN_FIELDS) {
      expect(quantityByField(margin)).toMatchObject({ unit: 'margin', worse: 'low' });
    }
  });
});
