import { describe, expect, test } from 'vitest';
import { QUANTITY_FIELDS } from '../../../src/rules/case/setup-fields.js';
import {
  COMMON_ROTORS_MM,
  commonRotor,
  topRotorSpeed,
  usualRotorSpeed,
  usualSetup,
  usualValues,
} from '../../../src/rules/case/usual-setup.js';
import type { EndUse } from '../../../src/rules/knowledge/end-use-schema.js';
import { endUseSchema } from '../../../src/rules/knowledge/end-use-schema.js';
import { computeState } from '../../../src/spinning/model.js';
import { centralParameters } from '../../../src/spinning/parameters.js';
import type { FibreShare } from '../../../src/spinning/setup.js';
import { fromTurnsPerMetre } from '../../../src/spinning/units/twist.js';
import { readFolder, readTable } from '../../spinning/knowledge.js';
import { knowledge } from './knowledge.js';

const { endUses, fibres } = knowledge;
const only = (fibre: string): FibreShare[] => [{ fibre, share: 1 }];
const half = (one: string, other: string): FibreShare[] => [
  { fibre: one, share: 0.5 },
  { fibre: other, share: 0.5 },
];
const use = (id: string): EndUse => {
  const found = endUses.get(id);
  if (found === undefined) throw new Error(`no end use ${id}`);
  return found;
};
const alphaE = (id: string, mix: FibreShare[], tex: number) =>
  usualValues(use(id), mix, fibres, tex).alphaE.value;

describe('the end-use files', () => {
  test('hold the end uses of the case file, each under its own id', () => {
    expect([...endUses.keys()].sort()).toEqual(
      ['denim-warp', 'denim-weft', 'knitting', 'towel', 'waste-yarn', 'warp', 'weft'].sort(),
    );
    for (const [id, endUse] of endUses) expect(endUse.id).toBe(id);
  });

  test('limit at least hairiness, softness, fly, tenacity and output', () => {
    for (const endUse of endUses.values()) {
      expect(endUse.limits.map((one) => one.on).sort()).toEqual([
        'fly',
        'hairiness',
        'output',
        'softness',
        'tenacity',
      ]);
    }
  });

  test('name only fibres there are data for', () => {
    for (const endUse of endUses.values()) {
      for (const entry of Object.values(endUse.usual)) {
        if (typeof entry === 'number') continue;
        for (const fibre of Object.keys(entry['by-fibre'])) {
          expect(fibre === 'other' || Object.hasOwn(fibres, fibre), `${endUse.id}: ${fibre}`).toBe(true);
        }
      }
    }
  });

  test('the schema refuses unsorted counts, chances that do not sum to 1, and a missing "other"', () => {
    const weft = readFolder('end-uses').weft as EndUse;
    const changed = (usual: Partial<EndUse['usual']>) =>
      endUseSchema.safeParse({ ...weft, usual: { ...weft.usual, ...usual } }).success;
    expect(changed({})).toBe(true);
    const number = weft.usual['sliver-count'];
    const points = [
      { tex: 60, value: 5 },
      { tex: 30, value: 4 },
    ];
    expect(changed({ 'sliver-count': { ...number, 'by-fibre': { other: points } } })).toBe(false);
    expect(changed({ 'sliver-count': { ...number, 'by-fibre': { cotton: 4 } } })).toBe(false);
    expect(changed({ insert: { ...weft.usual.insert, steps: [{ step: 0, chance: 0.6 }] } })).toBe(false);
    expect(changed({ 'opening-roller-percent': 80 })).toBe(false);
  });
});

describe('usual setups', () => {
  const parameters = centralParameters(readTable());
  /** Counts (tex) spun for an end use. */
  const counts = (id: string) =>
    id.startsWith('denim') || id === 'waste-yarn' ? [60, 84, 120] : [20, 30, 50];
  const mixes = [...Object.keys(fibres).map(only), half('cotton', 'polyester'), half('viscose', 'cotton')];

  test('are complete and within the usual ranges for every end use, fibre and count', () => {
    for (const [id, endUse] of endUses) {
      for (const mix of mixes) {
        for (const tex of counts(id)) {
          const setup = usualSetup(endUse, mix, fibres, tex);
          for (const field of QUANTITY_FIELDS) {
            const value = setup[field.key] / field.scale;
            const where = `${id} ${JSON.stringify(mix)} ${tex} tex: ${field.path} ${value}`;
            expect(value, where).toBeGreaterThanOrEqual(field.usual[0]);
            expect(value, where).toBeLessThanOrEqual(field.usual[1]);
          }
          expect(setup.notches > 0).toBe(setup.nozzleSurface === 'notched');
          expect(COMMON_ROTORS_MM).toContain(setup.rotorDiameterMm);
          expect(setup.rotorSpeedRpm).toBeLessThanOrEqual(topRotorSpeed(setup.rotorDiameterMm));
        }
      }
    }
  });

  test('run, says the model: twist and tension margins above 0 for cotton, polyester, viscose and their blends', () => {
    const common = [only('cotton'), only('polyester'), only('viscose'), half('cotton', 'polyester')];
    for (const [id, endUse] of endUses) {
      for (const mix of common) {
        for (const tex of counts(id)) {
          const state = computeState(usualSetup(endUse, mix, fibres, tex), parameters);
          const where = `${id} ${JSON.stringify(mix)} ${tex} tex`;
          expect(state.twistMargin, where).toBeGreaterThan(0);
          expect(state.tensionMargin, where).toBeGreaterThan(0);
          expect(state.fibresMargin, where).toBeGreaterThan(0);
          expect(state.draft, where).toBeGreaterThan(30);
          expect(state.draft, where).toBeLessThan(260);
        }
      }
    }
  });

  test('twist multipliers rise from knitting over weft to warp and denim warp to waste', () => {
    for (const fibre of Object.keys(fibres)) {
      const alphas = ['knitting', 'weft', 'warp', 'denim-warp', 'waste-yarn'].map((id) =>
        alphaE(id, only(fibre), 40),
      );
      expect(alphas).toEqual([...alphas].sort((a, b) => a - b));
    }
  });

  test('finer yarn: lighter sliver, smaller and faster rotor, more twist, the same multiplier', () => {
    const fine = usualSetup(use('weft'), only('cotton'), fibres, 15);
    const coarse = usualSetup(use('weft'), only('cotton'), fibres, 60);
    expect(fine.sliverKtex).toBeLessThan(coarse.sliverKtex);
    expect(fine.rotorDiameterMm).toBeLessThan(coarse.rotorDiameterMm);
    expect(fine.rotorSpeedRpm).toBeGreaterThan(coarse.rotorSpeedRpm);
    expect(fromTurnsPerMetre(fine.twistPerMetre, 'alpha-e', 15)).toBeCloseTo(
      fromTurnsPerMetre(coarse.twistPerMetre, 'alpha-e', 60),
      9,
    );
  });

  test('between two counts lie straight lines over the logarithm, beyond the ends the end holds', () => {
    const sliver = (tex: number) => usualValues(use('weft'), only('cotton'), fibres, tex).sliverKtex.value;
    expect(sliver(30)).toBeCloseTo(4.5, 9);
    expect(sliver(Math.sqrt(15 * 30))).toBeCloseTo((3.3 + 4.5) / 2, 9);
    expect(sliver(8)).toBe(sliver(15));
    expect(sliver(400)).toBe(sliver(100));
  });

  test('a blend lies between its fibres; its fineness is the harmonic mean', () => {
    const mix = half('cotton', 'polyester');
    expect(alphaE('weft', mix, 30)).toBeCloseTo(
      (alphaE('weft', only('cotton'), 30) + alphaE('weft', only('polyester'), 30)) / 2,
      9,
    );
    const fineness = (shares: FibreShare[]) =>
      usualValues(use('weft'), shares, fibres, 30).finenessMtex.value;
    const [cotton, polyester] = [fineness(only('cotton')), fineness(only('polyester'))];
    expect(fineness(mix)).toBeCloseTo(2 / (1 / cotton + 1 / polyester), 9);
    const texture = usualValues(use('knitting'), mix, fibres, 30).texture.value;
    expect(texture).toEqual({ surface: 'notched', notches: 3 });
  });

  test('natural fibre is not dulled; thermoplastic fibre gets a nozzle that leads heat away', () => {
    const cotton = usualValues(use('weft'), only('cotton'), fibres, 30);
    expect(cotton.delustrant.choices).toEqual([{ value: 'bright', chance: 1 }]);
    expect(cotton.nozzleMaterial.value).toBe('ceramic');
    expect(usualValues(use('weft'), only('polyester'), fibres, 30).nozzleMaterial.value).toBe('ceramic-head');
  });

  test('chances of every word sum to 1, also at the end of a ladder', () => {
    for (const [id, endUse] of endUses) {
      for (const mix of mixes) {
        for (const tex of counts(id)) {
          const values = usualValues(endUse, mix, fibres, tex);
          for (const word of [
            values.texture,
            values.insert,
            values.groove,
            values.nozzleMaterial,
            values.delustrant,
          ]) {
            const chances = word.choices.map((one) => one.chance);
            expect(chances.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9);
            expect(word.choices.map((one) => one.value)).toContainEqual(word.value);
          }
        }
      }
    }
  });

  test('an unknown fibre or an impossible count is named', () => {
    expect(() => usualSetup(use('weft'), only('nettle'), fibres, 30)).toThrow(/fibre: "nettle".*cotton/);
    expect(() => usualSetup(use('weft'), only('__proto__'), fibres, 30)).toThrow(/fibre/);
    expect(() => usualSetup(use('weft'), only('cotton'), fibres, 0)).toThrow(/count: 0 tex/);
  });
});

describe('rotor speeds', () => {
  test('follow the rim speed up to the top speed of the diameter', () => {
    expect(usualRotorSpeed(180, 33)).toBe(104_000);
    expect(usualRotorSpeed(400, 33)).toBe(120_000);
    expect(topRotorSpeed(34.5)).toBeCloseTo(115_000, 6);
    expect(topRotorSpeed(14)).toBeCloseTo(300_000, 6);
    expect(topRotorSpeed(112)).toBeCloseTo(32_500, 6);
  });

  test('sizes are taken to the nearest common one', () => {
    expect([29, 32.1, 41, 200].map(commonRotor)).toEqual([28, 33, 40, 56]);
  });
});
