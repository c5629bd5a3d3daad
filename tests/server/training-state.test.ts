import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Move } from '../../src/rules/training/index.js';
import { readPracticeStep } from '../../src/server/training/practice-form.js';
import {
  practiceQuery,
  readMove,
  readPracticeState,
  writeMove,
} from '../../src/server/training/practice-state.js';
import { findTerms } from '../../src/server/training/term-words.js';

const id = fc.stringMatching(/^[a-z0-9]{1,8}(-[a-z0-9]{1,8}){0,2}$/);
const move: fc.Arbitrary<Move> = fc.oneof(
  fc.tuple(id, fc.boolean()).map(([check, still]) => ({ check, ...(still ? { standstill: true } : {}) })),
  fc.uniqueArray(id, { minLength: 1, maxLength: 3 }).chain((causes) =>
    fc
      .array(fc.integer({ min: 0, max: 100 }), { minLength: causes.length, maxLength: causes.length })
      .map((percents) => ({
        propose: Object.fromEntries(causes.map((cause, i) => [cause, (percents[i] ?? 0) / 100])),
      })),
  ),
  fc
    .tuple(fc.uniqueArray(id, { minLength: 1, maxLength: 3 }), fc.boolean(), fc.boolean())
    .map(([act, all, still]) => ({
      act,
      on: all ? ('everywhere' as const) : ('trial' as const),
      ...(still ? { standstill: true } : {}),
    })),
);

describe('the state of a practice case', () => {
  it('is read from the address as it was written', () => {
    fc.assert(
      fc.property(fc.array(move, { maxLength: 8 }), fc.boolean(), (moves, closed) => {
        const state = { code: '2-7', number: { level: 2 as const, seed: 7 }, moves, closed, trainee: 'Ada' };
        expect(readPracticeState(new URLSearchParams(practiceQuery(state).slice(1)))).toEqual(state);
      }),
    );
  });

  it('passes over what is no move, whatever stands there', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const read = readMove(text);
        if (read !== undefined) expect(readMove(writeMove(read))).toEqual(read);
      }),
    );
    for (const wrong of ['', 'c:', 'c:A', 'c:x:t', 'p:x', 'p:x=', 'a:x', 'a:x:now', '__proto__'])
      expect(readMove(wrong), wrong).toBeUndefined();
    expect(readPracticeState(new URLSearchParams('case=7'))).toBeUndefined();
  });
});

describe('a form of the practice page', () => {
  const step = (fields: Record<string, string>) => readPracticeStep(new URLSearchParams(fields));

  it('asks for a check, with or without a word on standstill', () => {
    expect(step({ check: 'groove-look' })).toEqual({ kind: 'move', move: { check: 'groove-look' } });
    expect(step({ check: 'groove-look', standstill: 'yes' })).toEqual({
      kind: 'move',
      move: { check: 'groove-look', standstill: true },
    });
  });

  const wrong: readonly Record<string, string>[] = [
    {},
    { 'cause.1': 'a' },
    { 'cause.1': 'a', 'confidence.1': 'much' },
    { 'cause.1': 'a', 'confidence.1': '101' },
    { 'confidence.2': '50' },
    { 'cause.1': 'a', 'confidence.1': '50', 'cause.2': 'a', 'confidence.2': '20' },
  ];
  it.each(wrong)('keeps what has to be mended: %o', (fields) => {
    const read = step({ do: 'propose', ...fields });
    expect(read).toEqual({ kind: 'wrong', draft: { ...fields, wrong: 'propose' } });
  });

  it('puts causes forward and tries actions', () => {
    expect(step({ do: 'propose', 'cause.2': 'a', 'confidence.2': '70 %' })).toEqual({
      kind: 'move',
      move: { propose: { a: 0.7 } },
    });
    expect(step({ do: 'act', 'action.1': 'x', 'action.2': 'x', on: 'everywhere' })).toEqual({
      kind: 'move',
      move: { act: ['x'], on: 'everywhere' },
    });
    expect(step({ do: 'act' })).toMatchObject({ kind: 'wrong' });
    expect(step({ do: 'close' })).toEqual({ kind: 'close' });
    expect(step({})).toBeUndefined();
  });
});

describe('trade terms in running text', () => {
  const glossary = {
    nozzle: { term: 'nozzle', plain: 'the funnel', more: 'x', forms: ['draw-off nozzle', 'nozzles'] },
    twist: { term: 'twist', plain: 'turns', more: 'x' },
    'false-twist': { term: 'false twist', plain: 'turns lent', more: 'x' },
  };

  it('are explained where they first appear, the longest reading first', () => {
    const terms = findTerms(glossary);
    const pieces = terms.explain('False twist comes from the draw-off nozzle; nozzles differ, twist too.');
    expect(pieces.filter((piece) => piece.plain !== '').map((piece) => [piece.text, piece.plain])).toEqual([
      ['False twist', 'turns lent'],
      ['draw-off nozzle', 'the funnel'],
      ['twist', 'turns'],
    ]);
    expect(pieces.map((piece) => piece.text).join('')).toBe(
      'False twist comes from the draw-off nozzle; nozzles differ, twist too.',
    );
    expect(terms.explain('Again twist and nozzle.')).toEqual([
      { text: 'Again twist and nozzle.', plain: '', href: '' },
    ]);
  });

  it('are whole words only', () => {
    const pieces = findTerms(glossary).explain('untwisted twist-free');
    expect(pieces.every((piece) => piece.plain === '')).toBe(true);
  });
});
