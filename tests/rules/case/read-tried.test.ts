import { describe, expect, it } from 'vitest';
import { readCase, readCaseObject } from '../../../src/rules/case/case-file.js';
import { writeCase } from '../../../src/rules/case/write-case.js';
import { vocabulary } from './knowledge.js';

const setup = { fibre: 'cotton', count: '20 Ne' };
const read = (tried: unknown) =>
  readCaseObject({ setup, observations: { hairy: 'marked' }, tried }, vocabulary);
const problemsOf = (tried: unknown) => {
  const reading = read(tried);
  return reading.ok ? [] : reading.problems;
};

describe('what was tried, in a case file', () => {
  it('is an action, or several tried at the same time, with what came of it', () => {
    const reading = read({ 'clean-rotor': 'no-change', 'replace-nozzle + raise-twist': 'helped' });
    expect(reading.ok && reading.case.tried).toEqual([
      { actions: ['clean-rotor'], result: 'no-change' },
      { actions: ['raise-twist', 'replace-nozzle'], result: 'helped' },
    ]);
    expect(reading.ok && writeCase(reading.case)).toContain(
      'tried:\n  clean-rotor: no-change\n  raise-twist+replace-nozzle: helped\n',
    );
  });

  it('says of what is undecided that it does not weigh', () => {
    const reading = read({ 'clean-rotor': 'undecided' });
    expect(reading.ok && reading.case.warnings).toEqual([
      {
        field: 'tried.clean-rotor',
        message: 'what came of it is not known yet, so it does not weigh in the ranking',
      },
    ]);
  });

  it('is left out like every other field', () => {
    for (const nothing of [undefined, null, '', {}]) {
      const reading = read(nothing);
      expect(reading.ok && Object.hasOwn(reading.case, 'tried')).toBe(false);
    }
  });

  it('names field, value and what is allowed of what cannot be read', () => {
    expect(problemsOf({ 'clean-rotr': 'helped' })[0]).toMatchObject({
      field: 'tried.clean-rotr',
      message: '"clean-rotr" is not an action that can have been tried; did you mean "clean-rotor"?',
      allowed: ['clean-rotor', 'raise-twist', 'replace-nozzle'],
    });
    expect(problemsOf({ 'clean-rotor': 'cured' })[0]).toMatchObject({
      field: 'tried.clean-rotor',
      value: 'cured',
      allowed: ['helped', 'no-change', 'undecided'],
    });
    expect(
      problemsOf({ 'raise-twist+clean-rotor': 'helped', 'clean-rotor + raise-twist': 'helped' })[0],
    ).toMatchObject({
      message: '"clean-rotor+raise-twist" stands there twice',
    });
    expect(problemsOf({ 'clean-rotor+': 'helped' })).toHaveLength(1);
    for (const wrong of ['clean-rotor', ['clean-rotor'], 3]) expect(problemsOf(wrong)).toHaveLength(1);
  });

  it('names the line', () => {
    const reading = readCase(
      'setup: {fibre: cotton, count: 20 Ne}\ntried:\n  clean-rotor: helped\n  polish: no-change\n',
      vocabulary,
    );
    expect(reading.ok ? [] : reading.problems.map(({ line }) => line)).toEqual([4]);
  });
});
