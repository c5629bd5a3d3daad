import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readCase, readCaseObject } from '../../../src/rules/case/case-file.js';
import { QUANTITY_FIELDS, WORD_FIELDS } from '../../../src/rules/case/setup-fields.js';
import type { CaseInput, GivenSetup } from '../../../src/rules/case/types.js';
import { caseObject, writeCase } from '../../../src/rules/case/write-case.js';
import {
  CHANGES,
  LEVELS,
  ONSETS,
  PART_RESULTS,
  PARTS,
  SCOPES,
  TRIAL_RESULTS,
} from '../../../src/rules/knowledge/vocabulary.js';
import { vocabulary } from './knowledge.js';

function read(data: unknown): CaseInput {
  const reading = readCaseObject(data, vocabulary);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return reading.case;
}

function reread(text: string): CaseInput {
  const reading = readCase(text, vocabulary);
  if (!reading.ok) throw new Error(`${JSON.stringify(reading.problems)}\n${text}`);
  return reading.case;
}

/** A setup's fields apart from fibre, count, twist and nozzle texture, in default units within the usual range. */
const simpleFields = QUANTITY_FIELDS.filter(
  (field) => !['count', 'twist', 'nozzle.notches', 'rotor.speed', 'rotor.diameter'].includes(field.path),
);

const arbitrarySetup = fc
  .record({
    fibre: fc.oneof(
      fc.constantFrom('cotton', 'polyester', 'viscose'),
      fc.integer({ min: 1, max: 99 }).map((share) => ({ cotton: share, polyester: 100 - share })),
    ),
    count: fc.oneof(
      fc.integer({ min: 61, max: 200 }),
      fc.integer({ min: 6, max: 40 }).map((ne) => `${ne} Ne`),
      fc.double({ min: 12, max: 90, noNaN: true }).map((nm) => `${nm.toFixed(2)} Nm`),
    ),
    twist: fc.option(
      fc.double({ min: 3, max: 6, noNaN: true }).map((alpha) => `${alpha.toFixed(3)} alpha-e`),
    ),
    texture: fc.constantFrom(
      undefined,
      { surface: 'smooth' },
      { surface: 'notched' },
      { notches: 4 },
      { surface: 'notched', notches: 6 },
      { surface: 'knurled', notches: 0 },
    ),
    numbers: fc.tuple(
      ...simpleFields.map((field) =>
        fc.option(
          fc.double({ min: field.usual[0], max: field.usual[1], noNaN: true, noDefaultInfinity: true }),
        ),
      ),
    ),
    words: fc.tuple(
      ...WORD_FIELDS.filter((field) => field.path !== 'nozzle.surface').map((field) =>
        fc.option(fc.constantFrom(...field.words)),
      ),
    ),
    units: fc.boolean(),
  })
  .map(({ fibre, count, twist, texture, numbers, words, units }) => {
    const setup: Record<string, unknown> = { fibre, count, twist };
    const put = (path: string, value: unknown) => {
      const [first = '', second] = path.split('.');
      if (second === undefined) setup[first] = value;
      else setup[first] = { ...(setup[first] as object | undefined), [second]: value };
    };
    if (texture !== undefined) setup.nozzle = texture;
    simpleFields.forEach((field, i) => {
      const value = numbers[i];
      if (value === null || value === undefined) return;
      const rounded = Number(value.toFixed(2));
      put(field.path, units && field.unit !== '1' ? `${rounded} ${field.unit}` : rounded);
    });
    WORD_FIELDS.filter((field) => field.path !== 'nozzle.surface').forEach((field, i) => {
      if (words[i] !== null) put(field.path, words[i]);
    });
    return setup;
  });

const arbitraryCase = fc.record(
  {
    title: fc.constantFrom('Frame 7', 'a: b', '# not a comment', 'yes', '12', 'quote \' and " here', '- x'),
    note: fc.constantFrom('two\nlines', 'trailing: {brace', '*star', 'ünïcode – α'),
    setup: arbitrarySetup,
    before: arbitrarySetup,
    observations: fc.dictionary(fc.constantFrom(...vocabulary.symptoms), fc.constantFrom(...LEVELS)),
    scope: fc.uniqueArray(fc.constantFrom(...SCOPES), { maxLength: 2 }),
    onset: fc.uniqueArray(fc.constantFrom(...ONSETS), { maxLength: 2 }),
    changed: fc.oneof(
      fc.constant(['none']),
      fc.uniqueArray(fc.constantFrom(...CHANGES.filter((one) => one !== 'none')), { maxLength: 3 }),
    ),
    findings: fc.record(
      {
        'broken-tail': fc.constantFrom('tapering', ['particle', 'dusty']),
        'groove-look': fc.constant('clean'),
        'part-exchange': fc.dictionary(fc.constantFrom(...PARTS), fc.constantFrom(...PART_RESULTS)),
      },
      { requiredKeys: [] },
    ),
    tried: fc.dictionary(
      fc.constantFrom('clean-rotor', 'raise-twist', 'raise-twist + replace-nozzle'),
      fc.constantFrom(...TRIAL_RESULTS),
    ),
    measurements: fc.record(
      {
        'end-breaks': fc.constantFrom(
          { count: 41, 'rotor-hours': 240.5, 'norm-per-1000': 90, 'picked-from': 288 },
          { a: { count: 3, 'rotor-hours': 64 }, b: { count: 7, 'rotor-hours': 64 } },
        ),
        tenacity: fc.constant({ mean: 11.2, cv: 9, tests: 100, target: '1.4 g/den' }),
        neps: fc.constant({ mean: 0, tests: 0.4, target: 12.5 }),
        count: fc.constant({ readings: ['19 Ne', '20.5 Ne'], target: '20 Ne' }),
        twist: fc.constant({ mean: '4 alpha-e', cv: '3 %', tests: 20, target: 760 }),
      },
      { requiredKeys: [] },
    ),
  },
  { requiredKeys: ['setup'] },
);

/** Shares and converted values may differ in the last digits; all else must be the same. */
function expectSame(one: CaseInput, other: CaseInput): void {
  const plain = (input: CaseInput) => ({ ...input, given: input.given.endUse, before: input.before?.endUse });
  expect(plain(other)).toEqual(plain(one));
  expectSameSetup(one.given, other.given);
  if (one.before !== undefined && other.before !== undefined) expectSameSetup(one.before, other.before);
  expect(other.before === undefined).toBe(one.before === undefined);
}

function expectSameSetup(one: GivenSetup, other: GivenSetup): void {
  expect(Object.keys(other.values).sort()).toEqual(Object.keys(one.values).sort());
  expect(other.typed).toEqual(one.typed);
  const { fibres, ...rest } = one.values;
  const { fibres: otherFibres, ...otherRest } = other.values;
  expect(otherRest).toEqual(rest);
  expect(otherFibres?.map((share) => share.fibre)).toEqual(fibres?.map((share) => share.fibre));
  fibres?.forEach((share, i) => {
    expect(otherFibres?.[i]?.share).toBeCloseTo(share.share, 10);
  });
}

describe('writing a case', () => {
  test('reads back as the same case', () => {
    fc.assert(
      fc.property(arbitraryCase, (data) => {
        const input = read(data);
        expectSame(input, reread(writeCase(input)));
      }),
      { numRuns: 300 },
    );
  });

  test('keeps the units that were typed', () => {
    const text = writeCase(
      read({
        setup: {
          fibre: { cotton: 50, polyester: 50 },
          count: '20 Ne',
          twist: '4.3 αe',
          rotor: { speed: '105 000 rpm', diameter: 33 },
          nozzle: { notches: 4 },
        },
        observations: { 'end-breaks': 'marked' },
        scope: 'frame',
      }),
    );
    expect(text).toBe(
      [
        'setup:',
        '  fibre:',
        '    cotton: 50',
        '    polyester: 50',
        '  count: 20 Ne',
        '  twist: 4.3 αe',
        '  rotor:',
        '    diameter: 33',
        '    speed: 105 000 rpm',
        '  nozzle:',
        '    notches: 4',
        'observations:',
        '  end-breaks: marked',
        'scope: frame',
        '',
      ].join('\n'),
    );
  });

  test('without typed texts, and for very long ones, writes the default unit', () => {
    const input = read({ setup: { fibre: 'cotton', count: '20 Ne', recycled: '15 %' } });
    const bare: CaseInput = { ...input, given: { ...input.given, typed: {} } };
    expect(caseObject(bare).setup).toMatchObject({ fibre: 'cotton', recycled: '15 %' });
    expect(reread(writeCase(bare)).given.values.countTex).toBeCloseTo(29.5270624, 6);
    const hours = read({ setup: { fibre: 'cotton', count: '20 Ne', nozzle: { hours: 576.234 } } });
    expect(caseObject({ ...hours, given: { ...hours.given, typed: {} } }).setup).toMatchObject({
      nozzle: { hours: '576.2340 h' },
    });
    const long = read({ setup: { fibre: 'cotton', count: `30${'.'}${'0'.repeat(60)} tex` } });
    expect(caseObject(long).setup).toMatchObject({ count: '30 tex' });
  });
});
