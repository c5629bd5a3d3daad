import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readCase, readCaseObject } from '../../../src/rules/case/case-file.js';
import type { CaseInput, CaseProblem } from '../../../src/rules/case/types.js';
import { vocabulary } from './knowledge.js';

const FULL = `
title: Breaks since the new lot
setup:
  fibre: cotton                 # or a blend
  recycled: 15 %
  staple: 28 mm
  fineness: 4.2 mic
  count: 20 Ne
  twist: 4.3 alpha-e
  end-use: weft
  rotor: {diameter: 33 mm, speed: 105000 rpm, groove: medium}
  nozzle: {surface: notched, notches: 4, material: ceramic, radius: 4 mm, protrusion: 0.5 mm, hours: 6000}
  tube: {bend: 40 deg, insert: none, hours: 9000}
  opening-roller: {speed: 7500 rpm}
  room: {temperature: 25 C, humidity: 58 %}
  sliver: {count: 4.9 ktex, trash: 0.08 %}
  winding: {tension-draft: 0.98}
before:
  nozzle: {surface: spiral}
observations:
  end-breaks: marked
  fly-machine: absent
scope: frame
onset: since-change
changed: [lot]
findings:
  broken-tail: tapering
  groove-look: [clean, particle]
  part-exchange: {nozzle: cured, can: no-effect}
measurements:
  end-breaks: {count: 41, rotor-hours: 240, norm-per-1000: 90, picked-from: 288}
  tenacity: {mean: 11.2 cN/tex, cv: 9 %, tests: 100, target: 12.5 cN/tex}
`;
/** The least a case must hold, on two lines, for tests that add to it. */
const LEAST = 'setup:\n  {fibre: cotton, count: 20 Ne}\n';

function accept(text: string): CaseInput {
  const reading = readCase(text, vocabulary);
  expect(reading.ok ? [] : reading.problems).toEqual([]);
  if (!reading.ok) throw new Error('not read');
  return reading.case;
}

function problemsOf(text: string): readonly CaseProblem[] {
  const reading = readCase(text, vocabulary);
  expect(reading.ok).toBe(false);
  return reading.ok ? [] : reading.problems;
}

const setupWith = (fields: string) => `setup:\n  fibre: cotton\n  count: 20 Ne\n  ${fields}\n`;

describe('a full case file', () => {
  const read = accept(FULL);

  test('brings every setting into the model unit', () => {
    const { values } = read.given;
    expect(values).toMatchObject({
      fibres: [{ fibre: 'cotton', share: 1 }],
      recycledShare: 0.15,
      stapleMm: 28,
      rotorDiameterMm: 33,
      rotorSpeedRpm: 105000,
      groove: 'medium',
      nozzleSurface: 'notched',
      notches: 4,
      nozzleMaterial: 'ceramic',
      nozzleRadiusMm: 4,
      nozzleProtrusionMm: 0.5,
      nozzleHours: 6000,
      tubeBendDeg: 40,
      insert: 'none',
      tubeHours: 9000,
      openingRollerRpm: 7500,
      temperatureC: 25,
      humidityPct: 58,
      sliverKtex: 4.9,
      sliverTrashPct: 0.08,
      windingTensionDraft: 0.98,
    });
    expect(values.countTex).toBeCloseTo(29.527, 3);
    expect(values.finenessMtex).toBeCloseTo(165.35, 2);
    // tpi = 4.3·√20 = 19.23; per metre ÷ 0.0254
    expect(values.twistPerMetre).toBeCloseTo((4.3 * Math.sqrt(20)) / 0.0254, 6);
    expect(read.given.endUse).toBe('weft');
    expect(read.given.typed).toMatchObject({ count: '20 Ne', 'rotor.speed': '105000 rpm' });
  });

  test('keeps what was seen, where, since when, what was found and measured', () => {
    expect(read).toMatchObject({
      title: 'Breaks since the new lot',
      before: { values: { nozzleSurface: 'spiral', notches: 0 } },
      observations: { 'end-breaks': 'marked', 'fly-machine': 'absent' },
      scope: ['frame'],
      onset: ['since-change'],
      changed: ['lot'],
      findings: { 'broken-tail': ['tapering'], 'groove-look': ['clean', 'particle'] },
      partExchange: { nozzle: 'cured', can: 'no-effect' },
      measurements: {
        endBreaks: { kind: 'against-norm', count: 41, rotorHours: 240, normPer1000: 90, pickedFrom: 288 },
        values: { tenacity: { kind: 'summary', mean: 11.2, cvPct: 9, tests: 100, target: 12.5 } },
      },
      warnings: [],
    });
  });

  test('is the same from JSON and from parsed data', () => {
    const data = {
      setup: { fibre: 'cotton', count: '29.5 tex', rotor: { speed: 105000 } },
      observations: { 'end-breaks': 'marked' },
    };
    const json = readCase(JSON.stringify(data, null, '\t'), vocabulary);
    expect(json.ok).toBe(true);
    expect(json).toEqual(readCaseObject(data, vocabulary));
  });
});

describe('forms of single fields', () => {
  test('a blend has shares that sum to 1', () => {
    const read = accept(`setup: {fibre: {cotton: 50, polyester: 50 %}, count: 20 tex}`);
    expect(read.given.values.fibres).toEqual([
      { fibre: 'cotton', share: 0.5 },
      { fibre: 'polyester', share: 0.5 },
    ]);
    const thirds = accept(`setup: {fibre: {cotton: 33, polyester: 33, viscose: 33.7}, count: 20 tex}`);
    const sum = (thirds.given.values.fibres ?? []).reduce((total, one) => total + one.share, 0);
    expect(sum).toBeCloseTo(1, 12);
  });

  test('a notch count makes the surface notched; another surface has no notches', () => {
    expect(accept(setupWith('nozzle: {notches: 6}')).given.values).toMatchObject({
      nozzleSurface: 'notched',
      notches: 6,
    });
    expect(accept(setupWith('nozzle: {surface: spiral}')).given.values.notches).toBe(0);
    expect(accept(setupWith('nozzle: {surface: notched}')).given.values).not.toHaveProperty('notches');
  });

  test('words are read whatever their case, empty fields count as left out', () => {
    const read = accept(setupWith('nozzle: {surface: Spiral, material: }\n  staple: ""\n  tube:'));
    expect(read.given.values.nozzleSurface).toBe('spiral');
    expect(Object.keys(read.given.values).sort()).toEqual(['countTex', 'fibres', 'notches', 'nozzleSurface']);
  });

  test('scope, onset and changed take one word or a list', () => {
    const read = accept(`${LEAST}scope: [position, section]\nonset: sudden\nchanged: none\n`);
    expect([read.scope, read.onset, read.changed]).toEqual([['position', 'section'], ['sudden'], ['none']]);
  });

  test('twist before the trouble uses the count of the setup unless it has its own', () => {
    const same = accept(`${LEAST}before: {twist: 4.0 alpha-e}\n`);
    expect(same.before?.values.twistPerMetre).toBeCloseTo((4 * Math.sqrt(20)) / 0.0254, 6);
    const other = accept(`${LEAST}before: {twist: 4.0 alpha-e, count: 30 Ne}\n`);
    expect(other.before?.values.twistPerMetre).toBeCloseTo((4 * Math.sqrt(30)) / 0.0254, 6);
  });

  test('measurements: two groups, readings, faults per km', () => {
    const read = accept(`${LEAST}measurements:
  end-breaks: {a: {count: 3, rotor-hours: 64}, b: {count: 7, rotor-hours: 64 h}}
  tenacity: {readings: [11.2, "12 cN/tex", 1.3 g/den], target: 12}
  neps: {mean: 35 /km, tests: 2.5, target: 20 per km}
  strength-cv: {mean: 11 %, tests: 100, target: 9}
  count: {mean: 19 Ne, cv: 1.5 %, tests: 20, target: 20 Ne}
  twist: {mean: 4.1 alpha-e, cv: 3, tests: 20, target: 4.3 alpha-e}
`);
    const { endBreaks, values } = read.measurements;
    expect(endBreaks).toEqual({
      kind: 'two-groups',
      a: { count: 3, rotorHours: 64 },
      b: { count: 7, rotorHours: 64 },
    });
    expect(values.tenacity).toMatchObject({ kind: 'readings', target: 12 });
    // 1 g/den = 8.826 cN/tex
    expect(values.tenacity?.kind === 'readings' && values.tenacity.readings[2]).toBeCloseTo(11.474, 3);
    expect(values.neps).toEqual({ kind: 'summary', mean: 35, tests: 2.5, target: 20 });
    expect(values['strength-cv']).toEqual({ kind: 'summary', mean: 11, tests: 100, target: 9 });
    expect(values.count?.target).toBeCloseTo(29.527, 3);
    expect(values.twist?.target).toBeCloseTo((4.3 * Math.sqrt(20)) / 0.0254, 6);
  });

  test('without fibre and count only where a partial case is allowed', () => {
    const fragment = { observations: { 'end-breaks': 'marked' } };
    const strict = readCaseObject(fragment, vocabulary);
    expect(strict.ok ? [] : strict.problems.map((one) => one.field)).toEqual(['setup.fibre', 'setup.count']);
    expect(readCaseObject(fragment, vocabulary, { partial: true }).ok).toBe(true);
  });
});

describe('every problem names field, value, what is allowed and the line', () => {
  const cases: readonly [
    name: string,
    text: string,
    expected: { field: string; value: string; line: number; message: RegExp; allowed: RegExp },
  ][] = [
    [
      'unknown key at the top',
      `${LEAST}observation: {end-breaks: marked}\n`,
      {
        field: 'observation',
        value: '(a group of fields)',
        line: 3,
        message: /did you mean "observations"/,
        allowed: /measurements/,
      },
    ],
    [
      'unknown key in the setup',
      setupWith('stapel: 28 mm'),
      {
        field: 'setup.stapel',
        value: '28 mm',
        line: 4,
        message: /did you mean "staple"/,
        allowed: /end-use/,
      },
    ],
    [
      'a lone second key',
      setupWith('humidity: 55 %'),
      {
        field: 'setup.humidity',
        value: '55 %',
        line: 4,
        message: /did you mean "room.humidity"/,
        allowed: /room/,
      },
    ],
    [
      'unknown key in a group',
      setupWith('rotor:\n    diametre: 33'),
      {
        field: 'setup.rotor.diametre',
        value: '33',
        line: 5,
        message: /did you mean "diameter"/,
        allowed: /groove/,
      },
    ],
    [
      'a group that is not one',
      setupWith('rotor: 33 mm'),
      { field: 'setup.rotor', value: '33 mm', line: 4, message: /group of fields/, allowed: /diameter/ },
    ],
    [
      'an impossible value',
      setupWith('rotor:\n    speed: 1050000 rpm'),
      {
        field: 'setup.rotor.speed',
        value: '1050000 rpm',
        line: 5,
        message: /not possible/,
        allowed: /5000 to 250 000 rpm/,
      },
    ],
    [
      'a wrong unit',
      setupWith('staple: 28 tex'),
      {
        field: 'setup.staple',
        value: '28 tex',
        line: 4,
        message: /^"tex" in "28 tex" is not a unit of this field$/,
        allowed: /inch/,
      },
    ],
    [
      'a unit with a hyphen',
      setupWith('rotor: {speed: 100 alpha-e}'),
      {
        field: 'setup.rotor.speed',
        value: '100 alpha-e',
        line: 4,
        message: /^"alpha-e" in "100 alpha-e" is not a unit of this field$/,
        allowed: /krpm/,
      },
    ],
    [
      'no number',
      setupWith('staple: long'),
      {
        field: 'setup.staple',
        value: 'long',
        line: 4,
        message: /^"long" is not a number$/,
        allowed: /8 to 120 mm/,
      },
    ],
    [
      'a list for a number',
      setupWith('staple: [28, 30]'),
      { field: 'setup.staple', value: '(a list of 2)', line: 4, message: /must be a number/, allowed: /mm/ },
    ],
    [
      'an unknown word',
      setupWith('tube: {insert: 2-grove}'),
      {
        field: 'setup.tube.insert',
        value: '2-grove',
        line: 4,
        message: /did you mean "2-groove"/,
        allowed: /3-groove/,
      },
    ],
    [
      'an unknown fibre',
      'setup:\n  fibre: coton\n  count: 20 Ne\n',
      {
        field: 'setup.fibre',
        value: 'coton',
        line: 2,
        message: /did you mean "cotton"/,
        allowed: /polyester/,
      },
    ],
    [
      'shares that do not add up',
      'setup:\n  fibre: {cotton: 60, polyester: 50}\n  count: 20 Ne\n',
      {
        field: 'setup.fibre',
        value: 'cotton: 60, polyester: 50',
        line: 2,
        message: /add up to 110 %/,
        allowed: /100 %/,
      },
    ],
    [
      'a share below nothing',
      'setup:\n  fibre: {cotton: 110, polyester: -10}\n  count: 20 Ne\n',
      { field: 'setup.fibre.cotton', value: '110', line: 2, message: /percentage/, allowed: /0 to 100 %/ },
    ],
    [
      'an unknown end use',
      setupWith('end-use: socks'),
      { field: 'setup.end-use', value: 'socks', line: 4, message: /"socks"/, allowed: /knitting/ },
    ],
    [
      'a missing count',
      'setup:\n  fibre: cotton\n',
      { field: 'setup.count', value: '(nothing)', line: 1, message: /missing/, allowed: /20 Ne/ },
    ],
    [
      'a bare twist that was meant as a multiplier',
      setupWith('twist: 4.3'),
      {
        field: 'setup.twist',
        value: '4.3',
        line: 4,
        message: /read as 4.3 t\/m.*write "4.3 alpha-e"/,
        allowed: /alpha-m/,
      },
    ],
    [
      'twist and count that do not go together',
      setupWith('twist: 2900 t/m'),
      { field: 'setup.twist', value: '2900 t/m', line: 4, message: /αe 16.47/, allowed: /1.2 to 12/ },
    ],
    [
      'notches on a smooth nozzle',
      setupWith('nozzle: {surface: smooth, notches: 4}'),
      {
        field: 'setup.nozzle.notches',
        value: '4',
        line: 4,
        message: /smooth nozzle has no notches/,
        allowed: /0/,
      },
    ],
    [
      'a notched nozzle without notches',
      setupWith('nozzle: {surface: notched, notches: 0}'),
      { field: 'setup.nozzle.notches', value: '0', line: 4, message: /at least one/, allowed: /1 to 16/ },
    ],
    [
      'half a notch',
      setupWith('nozzle: {notches: 3.5}'),
      { field: 'setup.nozzle.notches', value: '3.5', line: 4, message: /whole number/, allowed: /0 to 16/ },
    ],
    [
      'a rim speed no rotor stands',
      setupWith('rotor: {diameter: 56 mm, speed: 150000}'),
      {
        field: 'setup.rotor.speed',
        value: '150000',
        line: 4,
        message: /439.8 m\/s/,
        allowed: /at most 115 000 rpm/,
      },
    ],
    [
      'an unknown symptom',
      `${LEAST}observations:\n  end-break: marked\n`,
      {
        field: 'observations.end-break',
        value: 'marked',
        line: 4,
        message: /did you mean "end-breaks"/,
        allowed: /hairy/,
      },
    ],
    [
      'an unknown level',
      `${LEAST}observations:\n  end-breaks: much\n`,
      {
        field: 'observations.end-breaks',
        value: 'much',
        line: 4,
        message: /not one of the allowed words/,
        allowed: /slight/,
      },
    ],
    [
      'an unknown place',
      `${LEAST}scope: [frame, hall]\n`,
      { field: 'scope.1', value: 'hall', line: 3, message: /"hall"/, allowed: /section/ },
    ],
    [
      'none beside a change',
      `${LEAST}changed: [none, lot]\n`,
      {
        field: 'changed',
        value: '(a list of 2)',
        line: 3,
        message: /nothing was changed/,
        allowed: /none alone/,
      },
    ],
    [
      'an unknown check',
      `${LEAST}findings: {broken-tails: tapering}\n`,
      {
        field: 'findings.broken-tails',
        value: 'tapering',
        line: 3,
        message: /did you mean "broken-tail"/,
        allowed: /groove-look/,
      },
    ],
    [
      'an unknown outcome',
      `${LEAST}findings: {groove-look: dirty}\n`,
      { field: 'findings.groove-look', value: 'dirty', line: 3, message: /"dirty"/, allowed: /even-dust/ },
    ],
    [
      'a part exchange without a part',
      `${LEAST}findings: {part-exchange: cured}\n`,
      {
        field: 'findings.part-exchange',
        value: 'cured',
        line: 3,
        message: /group of fields/,
        allowed: /opening-roller/,
      },
    ],
    [
      'a count of breaks with nothing to compare it with',
      `${LEAST}measurements:\n  end-breaks: {count: 41, rotor-hours: 240}\n`,
      {
        field: 'measurements.end-breaks.norm-per-1000',
        value: '(nothing)',
        line: 4,
        message: /two groups a and b/,
        allowed: /0.01/,
      },
    ],
    [
      'one group alone',
      `${LEAST}measurements:\n  end-breaks: {a: {count: 41, rotor-hours: 240}}\n`,
      {
        field: 'measurements.end-breaks.b',
        value: '(nothing)',
        line: 4,
        message: /both a .* and b/,
        allowed: /rotor-hours/,
      },
    ],
    [
      'a fraction of a break',
      `${LEAST}measurements:\n  end-breaks: {count: 4.5, rotor-hours: 240, norm-per-1000: 90}\n`,
      {
        field: 'measurements.end-breaks.count',
        value: '4.5',
        line: 4,
        message: /whole number/,
        allowed: /whole number/,
      },
    ],
    [
      'a mean without its scatter',
      `${LEAST}measurements:\n  tenacity: {mean: 11, tests: 20, target: 12}\n`,
      {
        field: 'measurements.tenacity.cv',
        value: '(nothing)',
        line: 4,
        message: /coefficient of variation/,
        allowed: /%/,
      },
    ],
    [
      'readings beside a mean',
      `${LEAST}measurements:\n  tenacity: {mean: 11, readings: [11, 12], target: 12}\n`,
      {
        field: 'measurements.tenacity.mean',
        value: '11',
        line: 4,
        message: /beside readings/,
        allowed: /readings and target/,
      },
    ],
    [
      'one reading that is none',
      `${LEAST}measurements:\n  tenacity: {readings: [11, x], target: 12}\n`,
      {
        field: 'measurements.tenacity.readings.1',
        value: 'x',
        line: 4,
        message: /^"x" is not a number$/,
        allowed: /cN\/tex/,
      },
    ],
    [
      'a doubled key',
      `${LEAST}scope: frame\nscope: lot\n`,
      { field: '', value: 'scope: lot', line: 4, message: /unique/i, allowed: /each key once/ },
    ],
    [
      'a tag',
      `${LEAST}note: !secret x\n`,
      { field: '', value: '!secret x', line: 3, message: /tag/i, allowed: /without tags/ },
    ],
    [
      'a broken bracket',
      `${LEAST}scope: [frame\n`,
      { field: '', value: '', line: 4, message: /cannot be read/, allowed: /YAML or JSON/ },
    ],
    [
      'a text that is no case',
      'just words',
      { field: '', value: 'just words', line: 1, message: /group of fields/, allowed: /setup/ },
    ],
  ];

  test.each(cases)('%s', (_name, text, expected) => {
    const problem = problemsOf(text).find((one) => one.field === expected.field);
    expect(problem).toMatchObject({ field: expected.field, value: expected.value, line: expected.line });
    expect(problem?.message).toMatch(expected.message);
    expect(problem?.allowed.join('; ')).toMatch(expected.allowed);
  });

  test('all problems come at once, and a twist is not blamed for an unreadable count', () => {
    const problems = problemsOf(
      'setup:\n  fibre: wood\n  count: fine\n  twist: 4 alpha-e\nscope: hall\nonset: yesterday\n',
    );
    expect(problems.map((one) => one.field)).toEqual(['setup.fibre', 'setup.count', 'scope', 'onset']);
  });

  test('data without a text have no lines', () => {
    const reading = readCaseObject({ setup: { fibre: 'wood', count: 20 } }, vocabulary);
    expect(reading.ok ? [] : reading.problems).toHaveLength(1);
    expect(reading.ok ? {} : reading.problems[0]).not.toHaveProperty('line');
  });
});

describe('warnings', () => {
  test('unusual but possible values, and bare counts that could be either system', () => {
    const read = accept(
      'setup: {fibre: cotton, count: 20, recycled: 0.2, rotor: {diameter: 36, speed: 140000}, room: {humidity: 85}}',
    );
    expect(read.warnings.map((one) => one.field).sort()).toEqual([
      'observations',
      'setup.count',
      'setup.recycled',
      'setup.room.humidity',
      'setup.rotor.speed',
    ]);
    expect(read.warnings.find((one) => one.field === 'setup.count')?.message).toContain('"20 Ne"');
    expect(read.given.values.countTex).toBe(20);
  });
});

describe('hostile input', () => {
  test('aliases that grow without bound are refused', () => {
    const bomb = `a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b,*b,*b,*b]\nd: &d [*c,*c,*c,*c,*c,*c,*c,*c,*c]\nsetup: *d\n`;
    expect(problemsOf(bomb)[0]?.message).toMatch(/aliases/);
  });

  test('deep nesting and long texts are refused, not fatal', () => {
    expect(problemsOf('['.repeat(50_000)).length).toBeGreaterThan(0);
    expect(problemsOf('{"a":'.repeat(20_000)).length).toBeGreaterThan(0);
    expect(problemsOf(`note: ${'x'.repeat(300_000)}`)[0]?.allowed.join()).toMatch(/60000/);
  });

  test('prototype keys are unknown keys and change nothing', () => {
    for (const key of ['__proto__', 'constructor', 'prototype', 'toString', 'hasOwnProperty']) {
      const text = `${LEAST}${key}: {polluted: 1}\nobservations: {${key}: marked}\nfindings: {${key}: clean}\n`;
      expect(problemsOf(text).map((one) => one.field)).toEqual([
        key,
        `observations.${key}`,
        `findings.${key}`,
      ]);
      const fibre = problemsOf(`setup: {fibre: ${key}, count: 20 tex, ${key}: 1, rotor: {${key}: 2}}`);
      expect(fibre.map((one) => one.field).sort()).toEqual(
        ['setup.fibre', `setup.${key}`, `setup.rotor.${key}`].sort(),
      );
    }
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
    const json = readCaseObject(
      JSON.parse('{"__proto__": {"setup": 1}, "setup": {"__proto__": 1}}'),
      vocabulary,
    );
    expect(json.ok).toBe(false);
  });

  test('no text makes the reader throw', () => {
    const piece = fc.constantFrom(
      'setup',
      'fibre',
      'cotton',
      'count',
      ': ',
      '\n',
      '  ',
      '- ',
      '{',
      '}',
      '[',
      ']',
      ', ',
      '&a ',
      '*a',
      '!!map ',
      '? ',
      '|',
      '"',
      "'",
      '20 Ne',
      '.nan',
      '-.inf',
      '1e400',
      '~',
      '__proto__',
      '\u0000',
      '\t',
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string({ unit: 'binary', maxLength: 200 }),
          fc.array(piece, { maxLength: 40 }).map((pieces) => pieces.join('')),
        ),
        (text) => {
          const reading = readCase(text, vocabulary);
          if (reading.ok) return;
          expect(reading.problems.length).toBeGreaterThan(0);
          for (const problem of reading.problems) {
            expect(problem.line).toBeGreaterThan(0);
            expect(problem.message).not.toBe('');
          }
        },
      ),
      { numRuns: 600 },
    );
  });

  test('no data make the reader throw', () => {
    const key = fc.constantFrom('setup', 'before', 'observations', 'findings', 'measurements', 'scope', 'x');
    const inner = fc.dictionary(
      fc.constantFrom(
        'fibre',
        'count',
        'twist',
        'rotor',
        'nozzle',
        'end-breaks',
        'tenacity',
        'part-exchange',
        'cv',
      ),
      fc.anything({ maxDepth: 3 }),
    );
    fc.assert(
      fc.property(fc.dictionary(key, fc.oneof(inner, fc.anything())), (data) => {
        const reading = readCaseObject(data, vocabulary);
        expect(reading.ok || reading.problems.length > 0).toBe(true);
      }),
      { numRuns: 600 },
    );
  });
});
