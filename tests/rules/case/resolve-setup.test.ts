import { describe, expect, test } from 'vitest';
import { readCaseObject } from '../../../src/rules/case/case-file.js';
import { resolveSetup } from '../../../src/rules/case/resolve-setup.js';
import { QUANTITY_FIELDS } from '../../../src/rules/case/setup-fields.js';
import { type GivenSetup, SETUP_PATHS } from '../../../src/rules/case/types.js';
import { COMMON_ROTORS_MM } from '../../../src/rules/case/usual-setup.js';
import { openDraws } from '../../../src/spinning/draws.js';
import type { SpinningSetup } from '../../../src/spinning/setup.js';
import { fromTurnsPerMetre } from '../../../src/spinning/units/twist.js';
import { knowledge, vocabulary } from './knowledge.js';

function given(setup: Record<string, unknown>): GivenSetup {
  const reading = readCaseObject({ setup }, vocabulary, { partial: true });
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return reading.case.given;
}

const FULL = {
  fibre: { cotton: 60, polyester: 40 },
  recycled: '15 %',
  delustrant: 'semi-dull',
  staple: 30,
  fineness: 160,
  count: '25 tex',
  twist: '4 alpha-e',
  'end-use': 'weft',
  rotor: { diameter: 33, speed: 105000, groove: 'narrow' },
  nozzle: { notches: 6, material: 'steel', radius: 3.5, protrusion: 1, hours: 1000 },
  tube: { bend: 30, insert: 'smooth', hours: 2000 },
  'opening-roller': { speed: 8000 },
  room: { temperature: 27, humidity: 52 },
  sliver: { count: 4.2, trash: 0.05 },
  winding: { 'tension-draft': 0.97 },
};

const resolve = (setup: Record<string, unknown>) => resolveSetup(given(setup), knowledge);

function samples(setup: Record<string, unknown>, draws = 512): SpinningSetup[] {
  const { uncertain } = resolve(setup);
  const source = openDraws(draws);
  return Array.from({ length: draws }, (_unused, index) => {
    source.index = index;
    return uncertain.sample(source);
  });
}

const mean = (list: number[]) => list.reduce((a, b) => a + b, 0) / list.length;
const deviation = (list: number[]) => Math.sqrt(mean(list.map((x) => (x - mean(list)) ** 2)));

describe('a setup given in full', () => {
  test('assumes nothing and keeps every value', () => {
    const input = given(FULL);
    const resolved = resolveSetup(input, knowledge);
    expect(resolved.assumed).toEqual([]);
    expect(resolved.warnings).toEqual([]);
    expect(resolved.uncertain.central).toEqual(input.values);
  });

  test('scatters only by the instruments', () => {
    const list = samples(FULL);
    const central = resolve(FULL).uncertain.central;
    for (const field of QUANTITY_FIELDS) {
      const column = list.map((one) => one[field.key]);
      const { instrument } = field;
      const sd =
        'exact' in instrument
          ? 0
          : 'relative' in instrument
            ? instrument.relative * central[field.key]
            : instrument.absolute;
      expect(deviation(column), field.path).toBeCloseTo(sd, sd === 0 ? 12 : -Math.log10(sd * 0.1));
      expect(mean(column), field.path).toBeCloseTo(central[field.key], sd === 0 ? 9 : -Math.log10(sd * 0.1));
    }
    for (const one of list) {
      expect([one.groove, one.nozzleSurface, one.notches, one.nozzleMaterial, one.insert]).toEqual([
        'narrow',
        'notched',
        6,
        'steel',
        'smooth',
      ]);
    }
  });
});

describe('a setup given in part', () => {
  test('lists every field that was not given, and no other', () => {
    const fields = (setup: Record<string, unknown>) => resolve(setup).assumed.map((one) => one.field);
    const all = SETUP_PATHS.filter((path) => path !== 'nozzle.notches' && path !== 'delustrant');
    const few = { fibre: 'cotton', count: '20 Ne', 'end-use': 'weft', rotor: { speed: 105000 } };
    expect(fields(few).sort()).toEqual(
      all.filter((path) => !['fibre', 'count', 'end-use', 'rotor.speed'].includes(path)).sort(),
    );
    expect(fields({ fibre: 'cotton', count: 30, nozzle: { surface: 'notched' } })).toContain(
      'nozzle.notches',
    );
    expect(fields({ fibre: 'polyester', count: 20 })).toContain('delustrant');
    expect(fields({ fibre: 'cotton', count: 20 })).not.toContain('delustrant');
  });

  test('says value and reason in words', () => {
    const { assumed } = resolve({ fibre: 'cotton', count: '20 Ne', 'end-use': 'weft' });
    expect(assumed.find((one) => one.field === 'twist')).toEqual({
      field: 'twist',
      label: 'Yarn twist',
      value: 'αe 4.2 (739.5 t/m), give or take 0.15',
      why: 'usual for weft yarn for weaving: cotton, 29.5 tex',
    });
    for (const one of assumed)
      expect(`${one.label}|${one.value}|${one.why}`).not.toMatch(/NaN|undefined|Infinity/);
  });

  test('draws assumed values as far apart as mills are', () => {
    const list = samples({ fibre: 'cotton', count: '30 tex', 'end-use': 'weft' });
    const alphas = list.map((one) => fromTurnsPerMetre(one.twistPerMetre, 'alpha-e', one.countTex));
    expect(mean(alphas)).toBeCloseTo(4.2, 1);
    expect(deviation(alphas)).toBeCloseTo(0.15, 1);
    const rims = list.map((one) => (Math.PI * one.rotorDiameterMm * one.rotorSpeedRpm) / 60_000);
    expect(mean(rims)).toBeGreaterThan(172);
    expect(mean(rims)).toBeLessThan(184);
    const surfaces = list.map((one) => one.nozzleSurface);
    const share = (word: string) => surfaces.filter((one) => one === word).length / surfaces.length;
    expect(share('spiral')).toBeCloseTo(0.45, 1);
    expect(share('smooth')).toBeCloseTo(0.2, 1);
    expect(share('notched')).toBeCloseTo(0.35, 1);
    for (const one of list) {
      expect(COMMON_ROTORS_MM).toContain(one.rotorDiameterMm);
      expect(one.notches > 0).toBe(one.nozzleSurface === 'notched');
    }
  });

  test('keeps what is drawn within what a frame can have', () => {
    for (const one of samples({ fibre: 'cotton', count: '98 tex', 'end-use': 'waste-yarn' }, 1024)) {
      for (const field of QUANTITY_FIELDS) {
        expect(one[field.key] / field.scale).toBeGreaterThanOrEqual(field.possible[0]);
        expect(one[field.key] / field.scale).toBeLessThanOrEqual(field.possible[1]);
      }
    }
  });

  test('the same draw gives the same setup, another setup is not touched', () => {
    const { uncertain } = resolve({ fibre: 'cotton', count: '30 tex' });
    const before = structuredClone(uncertain.central);
    const draw = { next: () => 0.83, normal: () => 0.95 };
    expect(uncertain.sample(draw)).toEqual(uncertain.sample(draw));
    expect(uncertain.central).toEqual(before);
  });

  test('an unknown rotor is the one that fits the speed, at most one size away', () => {
    const diameter = (speed: number) =>
      resolve({ fibre: 'cotton', count: '30 tex', 'end-use': 'weft', rotor: { speed } }).uncertain.central
        .rotorDiameterMm;
    expect([105_000, 120_000, 95_000, 40_000, 160_000].map(diameter)).toEqual([33, 31, 36, 36, 31]);
  });

  test('an unknown speed follows the rotor that is fitted', () => {
    const speed = (mm: number) =>
      resolve({ fibre: 'cotton', count: '30 tex', 'end-use': 'weft', rotor: { diameter: mm } }).uncertain
        .central.rotorSpeedRpm;
    expect(speed(33)).toBe(104_000);
    expect(speed(40)).toBe(86_000);
  });

  test('notches of a notched nozzle are drawn from the notched rungs', () => {
    const list = samples({
      fibre: 'cotton',
      count: '30 tex',
      'end-use': 'knitting',
      nozzle: { surface: 'notched' },
    });
    expect(new Set(list.map((one) => one.notches))).toEqual(new Set([3, 4, 6, 8]));
    expect(list.every((one) => one.nozzleSurface === 'notched')).toBe(true);
  });
});

describe('the usual setup', () => {
  test('is for the same material, and does not follow the settings given', () => {
    const { usual } = resolve({ ...FULL, rotor: { diameter: 40, speed: 70000 }, twist: '5 alpha-e' });
    expect(usual).toMatchObject({ stapleMm: 30, finenessMtex: 160, countTex: 25, recycledShare: 0.15 });
    expect(usual.rotorDiameterMm).not.toBe(40);
    expect(usual.insert).toBe('none');
    expect(fromTurnsPerMetre(usual.twistPerMetre, 'alpha-e', 25)).toBeLessThan(4.3);
  });
});

describe('an unknown end use', () => {
  const use = (setup: Record<string, unknown>) => resolve(setup).endUse.id;

  test('is judged by the twist, the recycled share, else taken as weft; always said so', () => {
    expect(use({ fibre: 'cotton', count: '20 Ne', twist: '3.6 alpha-e' })).toBe('knitting');
    expect(use({ fibre: 'cotton', count: '20 Ne', twist: '4.2 alpha-e' })).toBe('weft');
    expect(use({ fibre: 'cotton', count: '20 Ne', twist: '4.7 alpha-e' })).toBe('warp');
    expect(use({ fibre: 'polyester', count: '20 Ne', twist: '3.1 alpha-e' })).toBe('knitting');
    expect(use({ fibre: 'cotton', count: '6 Ne', twist: '5 alpha-e', recycled: '80 %' })).toBe('waste-yarn');
    expect(use({ fibre: 'cotton', count: '20 Ne' })).toBe('weft');
    const resolved = resolve({ fibre: 'cotton', count: '20 Ne' });
    expect(resolved.endUseAssumed).toBe(true);
    expect(resolved.assumed.map((one) => one.field)).toContain('end-use');
    expect(resolved.warnings.map((one) => one.field)).toEqual(['setup.end-use']);
  });

  test('a case without fibre and count is assumed cotton of the usual count, with warnings', () => {
    const resolved = resolve({});
    expect(resolved.uncertain.central.fibres).toEqual([{ fibre: 'cotton', share: 1 }]);
    expect(resolved.uncertain.central.countTex).toBe(30);
    expect(resolved.warnings.map((one) => one.field).sort()).toEqual([
      'setup.count',
      'setup.end-use',
      'setup.fibre',
    ]);
    expect(deviation(samples({}).map((one) => one.countTex))).toBeGreaterThan(4);
  });

  test('a knowledge base that lacks what the case names is an error', () => {
    expect(() => resolveSetup({ values: {}, endUse: 'sails', typed: {} }, knowledge)).toThrow(
      /end-use: "sails".*weft/,
    );
    expect(() => resolveSetup({ values: {}, typed: {} }, { ...knowledge, endUses: new Map() })).toThrow(
      /no end use/,
    );
  });
});
