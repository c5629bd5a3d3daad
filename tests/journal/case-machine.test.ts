import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countedSteps, nextSteps, replayCase } from '../../src/journal/cases/replay.js';
import {
  type CaseStep,
  type CaseStepName,
  openedSchema,
  type StepInput,
  stepSchema,
} from '../../src/journal/cases/steps.js';
import type { Entry } from '../../src/journal/entries.js';
import { JournalError } from '../../src/journal/index.js';

const OPENED = openedSchema.parse({ step: 'opened', title: 'Ends break' });
const START = Date.parse('2026-03-02T06:00:00Z');

const entry = (version: number, data: unknown, supersedes: number | null = null): Entry => ({
  version,
  at: new Date(START + version * 60_000).toISOString(),
  recorded: new Date(START + version * 60_000).toISOString(),
  who: 'Ruth',
  step: (data as CaseStep).step ?? 'corrected',
  data,
  supersedes,
});

const entriesOf = (...steps: readonly StepInput[]): Entry[] => [
  entry(1, OPENED),
  ...steps.map((step, n) => entry(n + 2, stepSchema.parse(step))),
];
const run = (...steps: readonly StepInput[]) => replayCase(countedSteps(entriesOf(...steps)));

const check: StepInput = { step: 'check-made', check: 'nozzle-look', outcomes: ['polished'], minutes: 5 };
const action: StepInput = { step: 'action-taken', action: 'replace-nozzle', minutes: 20 };
const trial: StepInput = { step: 'trial-started', what: 'new nozzles' };
const better: StepInput = { step: 'trial-finished', verdict: 'better' };
const close = (how: 'by-trial' | 'by-part' | 'by-look' | 'unconfirmed'): StepInput => ({
  step: 'closed',
  cause: 'nozzle-worn',
  how,
});

describe('the way of a case', () => {
  it('goes from open over checks, actions and a trial to a confirmed cause', () => {
    const standing = run(check, action, trial, better, close('by-trial'));
    expect(standing.state).toBe('closed');
    expect(standing.closure).toMatchObject({ outcome: 'confirmed', cause: 'nozzle-worn', how: 'by-trial' });
    expect(standing.cost.minutes).toBe(25);
    expect(standing.checks).toEqual(['nozzle-look']);
    // The cause counts as found when the first action was taken: the third entry.
    expect(standing.closure?.foundAt).toBe('2026-03-02T06:03:00.000Z');
  });

  it.each([
    ['a trial of nothing', [check, trial], 'nothing to try'],
    ['an action during a trial', [action, trial, action], 'spoil'],
    ['closing during a trial', [action, trial, close('by-part')], 'finish it first'],
    ['the end of no trial', [action, better], 'no trial is running'],
    ['by trial without one', [action, close('by-trial')], 'needs a finished trial'],
    [
      'by a trial that changed nothing',
      [action, trial, { step: 'trial-finished', verdict: 'no-change' } as StepInput, close('by-trial')],
      'went better',
    ],
    ['by look without a look', [action, close('by-look')], 'check in which it was seen'],
    ['by part without a part', [close('by-part')], 'part was exchanged'],
    ['a check after closing', [close('unconfirmed'), check], 'reopen'],
    ['closing twice', [close('unconfirmed'), close('unconfirmed')], 'reopen'],
    ['reopening what is open', [{ step: 'reopened', why: 'again' } as StepInput], 'cannot follow'],
    ['a cause without how', [{ step: 'closed', cause: 'nozzle-worn' } as StepInput], 'how the root cause'],
    [
      'no cause but confirmed',
      [check, { step: 'closed', cause: null, how: 'by-look' } as StepInput],
      'without a root cause',
    ],
    [
      'fixed before it began',
      [{ step: 'closed', cause: null, fixedAt: '2026-03-01T00:00:00Z' } as StepInput],
      'before the case was opened',
    ],
  ])('refuses %s', (_, steps, words) => {
    expect(() => run(...steps)).toThrow(words);
    expect(() => run(...steps)).toThrow(JournalError);
  });

  it('asks for proof anew after reopening', () => {
    const again: StepInput = { step: 'reopened', why: 'It came back' };
    const first = [action, trial, better, close('by-trial'), again];
    expect(run(...first).closure).toBeNull();
    expect(() => run(...first, close('by-trial'))).toThrow('needs a finished trial');
    expect(run(...first, action, trial, better, close('by-trial')).state).toBe('closed');
  });

  it('takes corrections in place of what they correct, and of each other', () => {
    const entries = [
      ...entriesOf(check, action),
      entry(
        4,
        { of: 'check-made', why: 'other check', replacement: { ...check, check: 'broken-tail', note: '' } },
        2,
      ),
      entry(
        5,
        { of: 'check-made', why: 'no, that', replacement: { ...check, check: 'tube-look', note: '' } },
        4,
      ),
      entry(6, { of: 'action-taken', why: 'was not done', replacement: null }, 3),
    ];
    const steps = countedSteps(entries);
    expect(steps.map((step) => step.data.step)).toEqual(['opened', 'check-made']);
    expect(steps[1]).toMatchObject({ data: { check: 'tube-look' }, corrections: [4, 5] });
    expect(replayCase(steps).state).toBe('checking');
  });

  it('cannot lose its beginning, nor the proof it rests on', () => {
    const entries = entriesOf(action, trial, better, close('by-trial'));
    const without = (version: number) =>
      countedSteps([...entries, entry(6, { of: '', why: 'x', replacement: null }, version)]);
    expect(() => replayCase(without(1))).toThrow('begins with being opened');
    expect(() => replayCase(without(4))).toThrow(JournalError);
  });
});

const anyStep: fc.Arbitrary<StepInput> = fc.oneof(
  fc.record({
    step: fc.constant('check-made' as const),
    check: fc.constantFrom('a', 'b'),
    outcomes: fc.constant([] as string[]),
  }),
  fc.record({ step: fc.constant('action-taken' as const), action: fc.constant('do') }),
  fc.record({ step: fc.constant('trial-started' as const), what: fc.constant('it') }),
  fc.record({
    step: fc.constant('trial-finished' as const),
    verdict: fc.constantFrom('better' as const, 'no-change' as const),
  }),
  fc.record({
    step: fc.constant('closed' as const),
    cause: fc.constantFrom('x', null),
    how: fc.constantFrom(
      'by-trial' as const,
      'by-part' as const,
      'by-look' as const,
      'unconfirmed' as const,
      null,
    ),
  }),
  fc.record({ step: fc.constant('reopened' as const), why: fc.constant('why') }),
  fc.record({ step: fc.constant('noted' as const), note: fc.constant('n') }),
  fc.record({ step: fc.constant('assigned' as const), assignee: fc.constant('A') }),
);

/** Takes only the steps that are not refused, as a journal would. */
function takeLegal(steps: readonly StepInput[]): { taken: StepInput[]; refused: number } {
  const taken: StepInput[] = [];
  let refused = 0;
  for (const step of steps) {
    try {
      run(...taken, step);
      taken.push(step);
    } catch (error) {
      if (!(error instanceof JournalError) || error.fault !== 'refused') throw error;
      refused++;
    }
  }
  return { taken, refused };
}

describe('any way of a case', () => {
  it('either takes a step or refuses it with words, and a closed case always has its proof', () => {
    fc.assert(
      fc.property(fc.array(anyStep, { maxLength: 25 }), (steps) => {
        const { taken } = takeLegal(steps);
        const standing = run(...taken);
        expect(standing.state === 'closed').toBe(standing.closure !== null);
        if (standing.closure?.how === 'by-trial')
          expect(taken.some((step) => step.step === 'trial-finished' && step.verdict === 'better')).toBe(
            true,
          );
        if (standing.closure?.how === 'by-look')
          expect(taken.some((step) => step.step === 'check-made')).toBe(true);
        if (standing.closure !== null)
          expect(standing.closure.outcome === 'not-found').toBe(standing.closure.cause === null);
      }),
      { numRuns: 300 },
    );
  });

  it('takes no step that it does not offer', () => {
    fc.assert(
      fc.property(fc.array(anyStep, { maxLength: 15 }), anyStep, (steps, next) => {
        const { taken } = takeLegal(steps);
        const offered = nextSteps(run(...taken).state);
        const legal = takeLegal([...taken, next]).refused === 0;
        if (legal) expect(offered).toContain(next.step satisfies CaseStepName);
      }),
      { numRuns: 300 },
    );
  });

  it('stands the same when a step is corrected to itself', () => {
    fc.assert(
      fc.property(fc.array(anyStep, { minLength: 1, maxLength: 12 }), fc.nat(), (steps, pick) => {
        const { taken } = takeLegal(steps);
        if (taken.length === 0) return;
        const entries = entriesOf(...taken);
        const target = entries[1 + (pick % taken.length)];
        const corrected = [
          ...entries,
          entry(entries.length + 1, { of: '', why: 'same', replacement: target?.data }, target?.version ?? 0),
        ];
        expect(replayCase(countedSteps(corrected))).toEqual(replayCase(countedSteps(entries)));
      }),
      { numRuns: 200 },
    );
  });
});
