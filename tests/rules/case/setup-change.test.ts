import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyChanges } from '../../../src/rules/case/setup-change.js';
import { QUANTITY_FIELDS } from '../../../src/rules/case/setup-fields.js';
import { usualSetup } from '../../../src/rules/case/usual-setup.js';
import type { SetupChange } from '../../../src/rules/knowledge/schema.js';
import { fromTurnsPerMetre } from '../../../src/spinning/units/twist.js';
import { WEFT } from '../../spinning/knowledge.js';
import { knowledge } from './knowledge.js';

const weft = knowledge.endUses.get('weft');
if (weft === undefined) throw new Error('no weft');
const usual = usualSetup(weft, WEFT.fibres, knowledge.fibres, 20);
const change = (...changes: SetupChange[]) => applyChanges(WEFT, usual, changes);

describe('changes to a setup', () => {
  test('by percent, by a measure, by steps, to a word', () => {
    const result = change(
      { set: 'twist', 'by-percent': 4 },
      { set: 'rotor-speed', 'by-percent': -6 },
      { set: 'nozzle-radius', by: -1.5 },
      { set: 'texture', steps: 2 },
      { set: 'insert', steps: 1 },
      { set: 'groove', steps: -1 },
      { set: 'nozzle-material', to: 'ceramic-head' },
      { set: 'humidity', by: 5 },
      { set: 'winding-tension-draft', by: -0.01 },
    );
    expect(result.impossible).toBeUndefined();
    expect(result.setup).toMatchObject({
      twistPerMetre: 757 * 1.04,
      rotorSpeedRpm: 103_400,
      nozzleRadiusMm: 2.5,
      nozzleSurface: 'notched',
      notches: 4,
      insert: 'smooth',
      groove: 'narrow',
      nozzleMaterial: 'ceramic-head',
      humidityPct: 65,
      windingTensionDraft: 0.97,
    });
    expect(result.done).toEqual([
      'twist 757 → 787.3 t/m (+4 %)',
      'rotor speed 110 000 → 103 400 rpm (−6 %)',
      'nozzle radius 4 → 2.5 mm',
      'nozzle spiral → 4 notches',
      'insert none → smooth',
      'rotor groove medium → narrow',
      'nozzle material ceramic → ceramic head',
      'humidity 60 → 65 %',
      'winding tension draft 0.98 → 0.97',
    ]);
  });

  test('to usual: the multiplier for the own count, the rim speed for the own rotor', () => {
    const other = { ...WEFT, twistPerMetre: 900, rotorDiameterMm: 40, nozzleSurface: 'knurled' as const };
    const { setup } = applyChanges(other, usual, [
      { set: 'twist', to: 'usual' },
      { set: 'rotor-speed', to: 'usual' },
      { set: 'texture', to: 'usual' },
    ]);
    expect(fromTurnsPerMetre(setup.twistPerMetre, 'alpha-e', WEFT.countTex)).toBeCloseTo(
      fromTurnsPerMetre(usual.twistPerMetre, 'alpha-e', 20),
      9,
    );
    expect(setup.rotorSpeedRpm * 40).toBeCloseTo(usual.rotorSpeedRpm * usual.rotorDiameterMm, 3);
    expect([setup.nozzleSurface, setup.notches]).toEqual([usual.nozzleSurface, usual.notches]);
  });

  test('what would change nothing is impossible, with the reason; changes before it stand', () => {
    expect(change({ set: 'insert', steps: -1 }).impossible).toBe(
      'there is no insert already; there is nothing milder',
    );
    expect(change({ set: 'nozzle-material', to: 'ceramic' }).impossible).toBe(
      'the nozzle is ceramic already',
    );
    const knurled = { ...WEFT, nozzleSurface: 'knurled' as const };
    expect(applyChanges(knurled, usual, [{ set: 'texture', steps: 1 }]).impossible).toMatch(
      /nothing rougher/,
    );
    expect(applyChanges(usual, usual, [{ set: 'texture', to: 'usual' }]).impossible).toMatch(/as is usual/);
    expect(applyChanges(usual, usual, [{ set: 'nozzle-radius', to: 'usual' }]).impossible).toMatch(
      /usual 4 mm already/,
    );
    const partly = change({ set: 'twist', 'by-percent': 4 }, { set: 'insert', steps: -1 });
    expect(partly.setup.twistPerMetre).toBeCloseTo(787.28, 6);
    expect(partly.done).toHaveLength(1);
  });

  test('fewer steps than wanted are taken at the end of a ladder', () => {
    expect(change({ set: 'texture', steps: 20 }).setup).toMatchObject({
      nozzleSurface: 'knurled',
      notches: 0,
    });
  });

  test('values stop at what a frame can have, and say so', () => {
    const result = change({ set: 'tube-bend', by: 500 });
    expect(result.setup.tubeBendDeg).toBe(120);
    expect(result.done).toEqual(['tube bend 30 → 120°, as far as it goes']);
    expect(applyChanges(result.setup, usual, [{ set: 'tube-bend', by: 1 }]).impossible).toMatch(
      /end of 120°/,
    );
  });

  test('nothing is changed in place, and the result is always possible', () => {
    const any = fc.oneof(
      fc.record({
        set: fc.constantFrom('twist' as const, 'rotor-speed' as const, 'opening-roller' as const),
        'by-percent': fc.double({ min: -500, max: 500, noNaN: true }),
      }),
      fc.record({
        set: fc.constantFrom(
          'nozzle-radius' as const,
          'nozzle-protrusion' as const,
          'tube-bend' as const,
          'rotor-diameter' as const,
          'humidity' as const,
          'winding-tension-draft' as const,
        ),
        by: fc.double({ min: -500, max: 500, noNaN: true }),
      }),
      fc.record({
        set: fc.constantFrom('texture' as const, 'insert' as const, 'groove' as const),
        steps: fc.integer({ min: -9, max: 9 }),
      }),
    );
    const frozen = Object.freeze({ ...WEFT });
    fc.assert(
      fc.property(fc.array(any, { maxLength: 6 }), (changes) => {
        const { setup } = applyChanges(frozen, usual, changes);
        for (const field of QUANTITY_FIELDS) {
          expect(setup[field.key] / field.scale).toBeGreaterThanOrEqual(field.possible[0]);
          expect(setup[field.key] / field.scale).toBeLessThanOrEqual(field.possible[1]);
        }
        expect(setup.notches > 0).toBe(setup.nozzleSurface === 'notched');
      }),
    );
  });
});
