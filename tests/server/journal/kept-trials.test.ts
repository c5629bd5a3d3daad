import { describe, expect, it } from 'vitest';
import type { CaseDetail, CaseStep } from '../../../src/journal/index.js';
import { stepSchema } from '../../../src/journal/index.js';
import { mergeTried, triedOf, unweighedTrials } from '../../../src/server/journal/kept-trials.js';

/** A case with these steps after its opening. */
const record = (...steps: unknown[]): Pick<CaseDetail, 'steps'> => ({
  steps: steps.map((data, n) => ({
    version: n + 2,
    at: '2026-05-04T08:00:00.000Z',
    who: 'Asha',
    data: stepSchema.parse(data) as CaseStep,
    corrections: [],
  })),
});
const took = (action: string, result?: 'helped' | 'no-change') => ({ step: 'action-taken', action, result });
const begins = (...actions: string[]) => ({
  step: 'trial-started',
  what: 'it',
  ...(actions.length === 0 ? {} : { actions }),
});
const ends = (verdict: 'better' | 'no-change' | 'worse' | 'undecided') => ({
  step: 'trial-finished',
  verdict,
});

describe('what the steps of a case say was tried', () => {
  it('is what people said of an action', () => {
    expect(triedOf(record(took('clean-rotor', 'no-change'), took('raise-twist')))).toEqual({
      'clean-rotor': 'no-change',
      'raise-twist': 'undecided',
    });
  });

  it('is what a trial said of the last action, or of those that it names', () => {
    expect(triedOf(record(took('clean-rotor'), took('raise-twist'), begins(), ends('better')))).toEqual({
      'clean-rotor': 'undecided',
      'raise-twist': 'helped',
    });
    expect(
      triedOf(
        record(took('clean-rotor'), took('raise-twist'), begins('raise-twist', 'clean-rotor'), ends('worse')),
      ),
    ).toEqual({ 'clean-rotor+raise-twist': 'no-change' });
    expect(triedOf(record(took('clean-rotor'), begins(), ends('undecided')))).toEqual({
      'clean-rotor': 'undecided',
    });
    expect(triedOf(record(took('clean-rotor', 'helped'), begins(), ends('no-change')))).toEqual({
      'clean-rotor': 'no-change',
    });
  });

  it('begins anew when the case is opened again', () => {
    const again = record(
      took('clean-rotor', 'helped'),
      { step: 'closed', cause: 'rotor-local-dirt', how: 'unconfirmed' },
      { step: 'reopened', why: 'it came back' },
      took('raise-twist', 'no-change'),
    );
    expect(triedOf(again)).toEqual({ 'raise-twist': 'no-change' });
  });
});

describe('what was tried, by the kept case and its steps together', () => {
  it('is what the steps say last, but for what they leave open', () => {
    const steps = record(took('clean-rotor'), took('raise-twist', 'no-change'));
    const kept = { 'clean-rotor': 'helped', 'raise-twist': 'helped', 'replace-nozzle': 'no-change' };
    expect(mergeTried(kept, steps)).toEqual({
      'clean-rotor': 'helped',
      'raise-twist': 'no-change',
      'replace-nozzle': 'no-change',
    });
    expect(unweighedTrials(kept, steps)).toBe(1);
    expect(unweighedTrials(mergeTried(kept, steps), steps)).toBe(0);
  });

  it('forgets that something was undecided once it was decided together', () => {
    const steps = record(took('a'), took('b'), begins('a', 'b'), ends('better'));
    expect(mergeTried({ a: 'undecided' }, steps)).toEqual({ 'a+b': 'helped' });
  });
});
