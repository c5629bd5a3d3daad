import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import {
  type AttemptResult,
  makeFromKept,
  readTrainerCase,
  recordOf,
  reportTrainee,
  tellApart,
} from '../../../src/rules/training/index.js';
import { trainingRoom } from './fixture.js';

const GOOD: AttemptResult = {
  code: '1-2',
  title: 'Practice 1-2',
  truth: ['nozzle-worn'],
  proposed: [{ cause: 'nozzle-worn', confidence: 0.7 }],
  minutes: 20,
  bestMinutes: 20,
  checkMinutes: 5,
  checks: 1,
  brier: 0.1,
  log: 0.3,
  warrantedBrier: 0.1,
  warranted: 0.7,
  unsafe: [],
  passed: true,
  dearest: null,
  idle: [],
  idleMinutes: 0,
  stillOpen: '',
  advice: [],
  summary: '',
};
const attempt = (change: Partial<AttemptResult>, item = 'part-1') => {
  const result = { ...GOOD, ...change };
  return { result, record: recordOf(result, { trainee: 'Ada', item, at: '2026-03-02T06:00:00.000Z' }) };
};
const label = (cause: string) => cause.replace(/-/g, ' ');
const report = (...attempts: ReturnType<typeof attempt>[]) =>
  reportTrainee(attempts, label, (one, other) => tellApart(trainingRoom(), one, other));

describe('a trainee’s report', () => {
  it('praises what is sound and finds nothing to do differently', () => {
    const { different, well, summary } = report(attempt({}), attempt({}, 'part-2'));
    expect(summary).toContain('2 cases closed, 2 passed');
    expect(different).toEqual(['Nothing that recurs. Take harder cases: level 3, level 5.']);
    expect(well).toHaveLength(4);
  });

  it('puts safety first, then what was mixed up with what tells it apart, then checks and confidence', () => {
    const { different, summary } = report(
      attempt({
        passed: false,
        unsafe: ['Opened before standstill.'],
        proposed: [{ cause: 'rotor-groove-deposit', confidence: 0.95 }],
        warranted: 0.2,
        minutes: 200,
        dearest: { asked: 'Hairs', better: 'Look into the groove', lost: 30 },
        idle: ['Finish'],
        idleMinutes: 25,
        stillOpen: 'Broken tail',
      }),
    );
    expect(summary).toContain('about 10 times as long');
    expect(different[0]).toContain('Opened before standstill.');
    expect(different[1]).toMatch(
      /^You took “nozzle worn” for “rotor groove deposit”\. What tells them apart: “/,
    );
    expect(different[2]).toContain('The dearest choice was “Hairs”');
    expect(different[3]).toContain('“Finish” cost 25 min');
    expect(different[4]).toContain('too early');
    expect(different[5]).toContain('95 %, and the findings allowed 20 %');
  });

  it('says so when nothing was put forward, or less than the findings allowed', () => {
    expect(report(attempt({ proposed: [], warranted: null, passed: false })).different.join()).toContain(
      'Put causes forward before you close',
    );
    expect(
      report(attempt({ proposed: [{ cause: 'nozzle-worn', confidence: 0.2 }] })).different.join(),
    ).toContain('Trust your findings more');
    expect(report().summary).toContain('No case has been closed yet');
  });
});

describe('the check that tells two causes apart', () => {
  it('speaks for one of them much oftener than for the other, and is none for a cause and itself', () => {
    const telling = tellApart(trainingRoom(), 'nozzle-worn', 'rotor-groove-deposit');
    expect(['nozzle-worn', 'rotor-groove-deposit']).toContain(telling?.speaksFor);
    expect((telling?.with ?? 0) - (telling?.without ?? 1)).toBeGreaterThanOrEqual(0.25);
    expect(tellApart(trainingRoom(), 'nozzle-worn', 'nozzle-worn')).toBeUndefined();
  });
});

describe('a practice case made from a kept one', () => {
  it('keeps what was the matter and nothing that says whose it was', () => {
    const made = makeFromKept(
      {
        title: 'Frame 7 again, says Moorgate',
        note: 'Call Ruth',
        setup: { fibre: 'cotton', count: '20 Ne', 'end-use': 'knitting' },
        observations: { 'end-breaks': 'marked' },
        scope: 'position',
        somebody: 'Ruth',
      },
      {
        'groove-look': ['clean', 'even-dust'],
        'broken-tail': 'tapering',
        'part-exchange': { rotor: 'cured' },
      },
      ['nozzle-worn'],
      'A frame in trouble',
    );
    expect(made.text).not.toMatch(/Frame 7|Moorgate|Ruth/);
    expect(parse(made.text)['answer-key']).toMatchObject({
      causes: ['nozzle-worn'],
      answers: { 'groove-look': 'clean', 'broken-tail': 'tapering' },
    });
    expect(parse(made.text).findings).toBeUndefined();
    expect(made.leftOut).toEqual(['further answers of groove-look', 'parts tried in place of others']);
    expect(readTrainerCase(made.text, trainingRoom()).causes).toEqual(['nozzle-worn']);
  });
});
