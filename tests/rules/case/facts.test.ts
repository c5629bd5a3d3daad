import { describe, expect, test } from 'vitest';
import { readCaseObject } from '../../../src/rules/case/case-file.js';
import { setupFacts } from '../../../src/rules/case/facts.js';
import { resolveSetup } from '../../../src/rules/case/resolve-setup.js';
import type { Facts } from '../../../src/rules/case/types.js';
import { isKnownFact } from '../../../src/rules/knowledge/facts.js';
import { knowledge, vocabulary } from './knowledge.js';

function factsOf(setup: Record<string, unknown>, before?: Record<string, unknown>): Facts {
  const reading = readCaseObject(before === undefined ? { setup } : { setup, before }, vocabulary);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  const { given, before: was } = reading.case;
  return setupFacts(given, was, resolveSetup(given, knowledge), knowledge.fibres);
}

const BASE = { fibre: 'cotton', count: '20 Ne', 'end-use': 'weft' };

describe('setup facts', () => {
  test('are in the units of the case file and only of what was given', () => {
    const facts = factsOf({
      ...BASE,
      recycled: '15 %',
      twist: '4.3 alpha-e',
      fineness: '1.5 dtex',
      rotor: { diameter: '33 mm', speed: '105000 rpm', groove: 'medium' },
      nozzle: { notches: 4, hours: 6000 },
      room: { humidity: 58 },
    });
    expect(facts).toMatchObject({
      'setup.end-use': 'weft',
      'setup.recycled': 15,
      'setup.alpha-e': 4.3,
      'setup.fineness': 150,
      'setup.rotor.diameter': 33,
      'setup.rotor.speed': 105000,
      'setup.rotor.groove': 'medium',
      'setup.nozzle.surface': 'notched',
      'setup.nozzle.notches': 4,
      'setup.nozzle.hours': 6000,
      'setup.room.humidity': 58,
    });
    expect(facts['setup.count']).toBeCloseTo(29.527, 3);
    for (const name of [
      'setup.staple',
      'setup.nozzle.radius',
      'setup.tube.insert',
      'deviation.nozzle-radius',
    ]) {
      expect(facts).not.toHaveProperty([name]);
    }
  });

  test('are all facts that rules know', () => {
    const facts = factsOf(
      {
        ...BASE,
        delustrant: 'dull',
        staple: 30,
        recycled: 10,
        twist: '4 alpha-e',
        rotor: { diameter: 36, speed: 90000, groove: 'wide' },
        nozzle: { surface: 'knurled', material: 'steel', radius: 3, protrusion: 1, hours: 10 },
        tube: { bend: 50, insert: '2-groove', hours: 10 },
        'opening-roller': { speed: 8000 },
        room: { temperature: 25, humidity: 50 },
        sliver: { count: 4, trash: 0.1 },
        winding: { 'tension-draft': 1 },
      },
      {
        twist: '4.2 alpha-e',
        rotor: { diameter: 33, speed: 100000 },
        nozzle: { surface: 'spiral', radius: 4, protrusion: 0 },
        tube: { bend: 30, insert: 'none' },
        'opening-roller': { speed: 7500 },
      },
    );
    const book = { symptoms: new Map(), checks: new Map() };
    for (const name of Object.keys(facts)) expect(isKnownFact(name, book), name).toBe(true);
    expect(Object.keys(facts).filter((name) => name.startsWith('deviation.'))).toHaveLength(9);
    expect(Object.keys(facts).filter((name) => name.startsWith('before.'))).toHaveLength(9);
  });

  test('fibre shares in percent, 0 for fibres not in the mix, nothing when unknown', () => {
    expect(factsOf({ ...BASE, fibre: { polyester: 60, cotton: 40 } })).toMatchObject({
      'fibre.main': 'polyester',
      'fibre.polyester': 60,
      'fibre.cotton': 40,
      'fibre.viscose': 0,
      'fibre.thermoplastic': 60,
    });
    const reading = readCaseObject({ setup: {} }, vocabulary, { partial: true });
    if (!reading.ok) throw new Error('not read');
    const { given } = reading.case;
    expect(setupFacts(given, undefined, resolveSetup(given, knowledge), knowledge.fibres)).toEqual({});
  });

  test('deviations: percent of the usual twist, rim speed and opening speed; steps, mm, degrees', () => {
    const facts = factsOf({
      ...BASE,
      twist: `${4.2 * 1.1} alpha-e`,
      rotor: { diameter: 40, speed: 86000 },
      nozzle: { notches: 4, radius: '3 mm' },
      tube: { insert: '1-groove', bend: 60 },
      'opening-roller': { speed: 8250 },
    });
    expect(facts['deviation.twist']).toBeCloseTo(10, 6);
    // 40 mm at the usual 180 m/s runs 85 944 rpm: hardly a deviation, though far below the usual 33 mm rotor's speed.
    expect(facts['deviation.rotor-speed']).toBeCloseTo(0.23, 1);
    expect(facts['deviation.opening-roller']).toBeCloseTo(10, 6);
    expect(facts['deviation.rotor-diameter']).toBe(7);
    expect(facts['deviation.texture']).toBe(2);
    expect(facts['deviation.nozzle-radius']).toBe(-1);
    expect(facts['deviation.insert']).toBe(2);
    expect(facts['deviation.tube-bend']).toBe(20);
    expect(factsOf({ ...BASE, nozzle: { surface: 'notched' } })).not.toHaveProperty(['deviation.texture']);
  });

  test('the twist deviates from nothing when the end use is only assumed', () => {
    const facts = factsOf({ fibre: 'cotton', count: '20 Ne', twist: '3.2 alpha-e', nozzle: { radius: 5 } });
    expect(facts).not.toHaveProperty(['deviation.twist']);
    expect(facts['deviation.nozzle-radius']).toBe(1);
  });

  test('before: now minus before where both are given', () => {
    const facts = factsOf(
      { ...BASE, twist: '4 alpha-e', nozzle: { notches: 4 }, rotor: { speed: 105000 } },
      { nozzle: { surface: 'spiral', radius: 4 }, rotor: { speed: 100000 }, twist: '4.2 alpha-e' },
    );
    expect(facts['before.texture']).toBe(2);
    expect(facts['before.rotor-speed']).toBeCloseTo(5, 9);
    expect(facts['before.twist']).toBeCloseTo((4 / 4.2 - 1) * 100, 6);
    expect(facts).not.toHaveProperty(['before.nozzle-radius']);
  });

  test('with another count before, the twist multipliers are compared', () => {
    const facts = factsOf({ ...BASE, twist: '4 alpha-e' }, { count: '30 Ne', twist: '4 alpha-e' });
    expect(facts['before.twist']).toBeCloseTo(0, 9);
  });
});
