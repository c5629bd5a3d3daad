import { describe, expect, it } from 'vitest';
import {
  type AttemptRecord,
  checkAnswerKey,
  confusionTable,
  courseProgress,
  dealCase,
  itemsOf,
  markAttempt,
  openTrainerCase,
  readAttempt,
  readTrainerCase,
  replayCase,
  runPolicy,
  TrainingError,
  whyNot,
} from '../../../src/rules/training/index.js';
import { trainingRoom } from './fixture.js';

const problemsOf = async (text: string) => {
  try {
    await readAttempt(trainingRoom(), text);
  } catch (error) {
    if (error instanceof TrainingError) return error.problems;
    throw error;
  }
  throw new Error('the attempt was accepted');
};

describe('an attempt', () => {
  it('that follows the best policy loses nothing', async () => {
    const room = trainingRoom();
    const dealt = await dealCase(room, { level: 2, seed: 3 });
    const run = await runPolicy(room, dealt, 'best');
    const [truth = ''] = dealt.truth.causes;
    const marking = await markAttempt(room, dealt, {
      moves: [...run.checks.map(({ check }) => ({ check, standstill: true })), { propose: { [truth]: 0.7 } }],
    });
    expect(marking.checks.map((check) => check.verdict)).toEqual(run.checks.map(() => 'best'));
    expect(marking.checks.every((check) => check.lost === 0)).toBe(true);
    expect(marking.minutes.checks).toBeCloseTo(run.checkMinutes, 9);
    expect(marking.best.total).toBeCloseTo(run.total, 9);
    expect(marking.unsafe).toEqual([]);
    expect(marking.passed).toBe(true);
  });

  it('is marked the same every time, and says what was unsafe in plain words', async () => {
    const room = trainingRoom();
    const text = `
case: 2-3
trainee: Ada
moves:
  - check: groove-look
  - check: groove-look
  - {check: vacuum}
  - propose: {nozzle-chipped: 95 %}
  - act: [replace-nozzle, clean-rotor]
    on: everywhere
`;
    const { dealt, attempt } = await readAttempt(room, text);
    const marking = await markAttempt(room, dealt, attempt);
    expect(await markAttempt(room, dealt, attempt)).toEqual(marking);
    expect(marking.trainee).toBe('Ada');
    expect(marking.checks[1]?.verdict).toBe('again');
    const unsafe = marking.unsafe.join('\n');
    expect(unsafe).toContain('wait for standstill');
    expect(unsafe).toContain('Change one thing at a time');
    expect(marking.passed).toBe(false);
    expect(marking.advice.length).toBeGreaterThan(0);
    expect(marking.proposal.entries[0]).toMatchObject({ confidence: 0.95, right: false });
    expect(marking.proposal.words.join(' ')).toContain('surer than the findings allowed');
    expect(marking.proposal.missed).toHaveLength(1);
    expect(marking.proposal.searchMinutes).toBeGreaterThan(
      room.reasoner.knowledge.judgements['search-hand-over'] - 1,
    );
  });

  it('is judged on what could be known then: the hidden truth changes no verdict', async () => {
    const room = trainingRoom();
    const dealt = await dealCase(room, { level: 2, seed: 3 });
    const moves = [{ check: 'vacuum' }];
    const other = { ...dealt, truth: { ...dealt.truth, causes: ['barre'] } };
    const [mine, theirs] = [
      await markAttempt(room, dealt, { moves }),
      await markAttempt(room, other, { moves }),
    ];
    expect(theirs.checks[0]?.promised).toBe(mine.checks[0]?.promised);
    expect(theirs.checks[0]?.verdict).toBe(mine.checks[0]?.verdict);
    expect(theirs.checks[0]?.lost).toBe(mine.checks[0]?.lost);
  });

  it('without a proposal hands the search over', async () => {
    const room = trainingRoom();
    const dealt = await dealCase(room, { level: 1, seed: 1 });
    const marking = await markAttempt(room, dealt, { moves: [] });
    expect(marking.minutes.total).toBe(room.reasoner.knowledge.judgements['search-hand-over']);
    expect(marking.passed).toBe(false);
    expect(marking.advice.join(' ')).toContain('Put causes forward');
  });

  it('with a whole frame changed unproved is told so, on a frame but not on one position', async () => {
    const room = trainingRoom();
    const dealt = await dealCase(room, { level: 1, seed: 1 });
    const moves = [{ act: ['raise-twist'], on: 'everywhere' as const }];
    const said = async (scope: readonly ('frame' | 'position')[]) => {
      const at = { ...dealt, input: { ...dealt.input, scope } };
      return (await markAttempt(room, at, { moves })).unsafe.join(' ');
    };
    expect(await said(['frame'])).toContain('before the change was proved');
    expect(await said(['position'])).not.toContain('before the change was proved');
  });

  it('that cannot be read says what is wrong, where, and what is allowed', async () => {
    const problems = await problemsOf(
      'case: 2-3\nmoves:\n  - check: groove-lok\n  - propose: {twist-low: 120}\n',
    );
    expect(problems.length).toBeGreaterThan(0);
    expect(problems[0]).toMatchObject({ line: expect.any(Number), allowed: expect.any(Array) });
    const ids = await problemsOf('case: 2-3\nmoves:\n  - check: groove-lok\n');
    expect(ids[0]).toMatchObject({ field: 'moves.0.check', value: 'groove-lok', line: 3 });
    expect(ids[0]?.message).toContain('did you mean "groove-look"');
    expect((await problemsOf('case: 9-9\nmoves: []\n'))[0]?.value).toBe('9-9');
    expect((await problemsOf('moves: []\n')).length).toBeGreaterThan(0);
    expect((await problemsOf('case: [\n')).length).toBeGreaterThan(0);
  });
});

describe("a trainer's own case", () => {
  const OWN = `
title: Position 117
setup: {fibre: cotton, count: 20 Ne, end-use: knitting, tube: {insert: 2-groove}}
observations: {end-breaks: marked, fly-machine: absent}
scope: position
onset: since-change
changed: [cleaning-round]
answer-key:
  causes: [insert-missing-or-worn]
  answers: {insert-look: missing}
  notes: Ask first what the crew did last.
`;

  it('answers as the trainer says, the rest from the network, always alike', async () => {
    const room = trainingRoom();
    const own = readTrainerCase(OWN, room);
    const dealt = await openTrainerCase(room, own);
    expect(await openTrainerCase(room, own)).toEqual(dealt);
    const marking = await markAttempt(room, dealt, {
      moves: [{ check: 'insert-look', standstill: true }, { propose: { 'insert-missing-or-worn': 0.9 } }],
    });
    expect(marking.checks[0]?.answer).toContain('Missing');
    expect(marking.passed).toBe(true);
    expect(marking.notes).toContain('Ask first');
  });

  it('is held against the engine, and both ledgers are shown when they differ', async () => {
    const room = trainingRoom();
    expect(await checkAnswerKey(room, readTrainerCase(OWN, room))).toMatchObject({ agrees: true });
    const wrong = OWN.replace('causes: [insert-missing-or-worn]', 'causes: [wax-fault]');
    const verdict = await checkAnswerKey(room, readTrainerCase(wrong, room));
    expect(verdict.agrees).toBe(false);
    expect(verdict.keyed[0]?.cause.ledger.length).toBeGreaterThan(0);
    expect(verdict.first?.id).toBe('insert-missing-or-worn');
    expect(verdict.words).toContain('does not see it so');
  });

  it('that cannot be read says why', () => {
    const room = trainingRoom();
    const wrong = OWN.replace('answer-key:', 'answer-key:\n  colour: red').replace('missing}', 'gone}');
    expect(() => readTrainerCase(wrong, room)).toThrow(TrainingError);
    expect(() => readTrainerCase('setup: {fibre: cotton, count: 20 Ne}', room)).toThrow(TrainingError);
    expect(() => readTrainerCase('[]', room)).toThrow(TrainingError);
  });
});

describe('a replay', () => {
  it('ends where the diagnosis stands, in whatever order, and says what carried each step', async () => {
    const room = trainingRoom();
    const { input } = await dealCase(room, { level: 1, seed: 3 });
    const end = (await room.weigh(input)).ranking().slice(0, 5);
    const items = itemsOf(input);
    const there = await replayCase(room, input);
    const back = await replayCase(room, input, [...items].reverse());
    expect(there).toHaveLength(items.length + 1);
    expect(back[1]?.item).toBe(items.at(-1));
    for (const steps of [there, back])
      expect(steps.at(-1)?.ranking.map((one) => [one.cause, one.after])).toEqual(
        end.map((one) => [one.cause, one.probability]),
      );
    expect(there.some((step) => step.chain !== undefined)).toBe(true);
    for (const step of there.slice(1)) expect(step.words.length).toBeGreaterThan(10);
    expect((await replayCase(room, input, ['nonsense'])).map((step) => step.item)).toEqual(
      there.map((step) => step.item),
    );
  });

  it('steps through what was tried as well', async () => {
    const room = trainingRoom();
    const { input } = await dealCase(room, { level: 1, seed: 3 });
    const tried = [{ actions: ['clean-rotor', 'replace-nozzle'], result: 'no-change' as const }];
    const before = await replayCase(room, input);
    const steps = await replayCase(room, { ...input, tried });
    expect(steps.slice(0, -1)).toEqual(before);
    expect(steps.at(-1)).toMatchObject({ item: 'tried.clean-rotor+replace-nozzle' });
    expect(steps.at(-1)?.title).toMatch(/^Tried: .* and .* \(nothing changed\)$/);
    const end = (await room.weigh({ ...input, tried })).ranking().slice(0, 5);
    expect(steps.at(-1)?.ranking.map((one) => one.after)).toEqual(end.map((one) => one.probability));
  });

  it('says why not another cause, and what would be needed', async () => {
    const room = trainingRoom();
    const { input } = await dealCase(room, { level: 2, seed: 3 });
    const second = (await room.weigh(input)).ranking()[2]?.cause ?? '';
    const answer = await whyNot(room, input, second);
    expect(answer.rank).toBe(3);
    expect(answer.words).toContain('number 3');
    for (const need of answer.wouldNeed) expect(need.probability).toBeGreaterThan(answer.probability);
    for (const entry of answer.against) expect(entry.decibans).toBeLessThan(0);
    await expect(whyNot(room, input, 'gremlins')).rejects.toThrow(TrainingError);
  });
});

describe('a course', () => {
  const record = (
    trainee: string,
    code: string,
    at: string,
    truth: string[],
    proposed: string[],
  ): AttemptRecord => ({
    trainee,
    code,
    at,
    truth,
    proposed: proposed.map((cause) => ({ cause, confidence: 0.5 })),
    minutes: 30,
    bestMinutes: 15,
    brier: 0.2,
    unsafe: 0,
    passed: truth.includes(proposed[0] ?? ''),
  });
  const attempts = [
    record('Ada', '1-1', '2026-11-01', ['a'], ['b']),
    record('Ada', '1-1', '2026-11-02', ['a'], ['a']),
    record('Ben', '1-1', '2026-11-01', ['a'], ['b']),
    record('Ben', '3-1', '2026-11-03', ['a', 'c'], ['c', 'd']),
    record('Ben', '1-2', '2026-11-04', ['b'], []),
  ];

  it('counts which causes a group mixes up', () => {
    const table = confusionTable(attempts);
    expect(table.truths).toEqual(['a', 'b', 'c']);
    expect(table.count('a', 'b')).toBe(2);
    expect(table.count('a', 'a')).toBe(1);
    expect(table.count('a', 'd')).toBe(1);
    expect(table.count('c', 'c')).toBe(1);
    expect(table.count('b', '')).toBe(1);
    expect(table.count('x', 'y')).toBe(0);
    expect(table.mixUps[0]).toEqual({ truth: 'a', taken: 'b', count: 2 });
    const total = table.truths.reduce(
      (sum, truth) => sum + table.proposed.reduce((row, taken) => row + table.count(truth, taken), 0),
      0,
    );
    expect(total).toBe(attempts.reduce((sum, one) => sum + one.truth.length, 0));
  });

  it('counts the last attempt at each case', () => {
    const course = {
      id: 'c',
      title: 'Week 1',
      group: 'A',
      items: [
        { kind: 'case' as const, code: '1-1' },
        { kind: 'case' as const, code: '3-1' },
        { kind: 'lesson' as const, lesson: 'false-twist' },
      ],
    };
    expect(courseProgress(course, attempts)).toEqual([
      { trainee: 'Ada', done: 1, passed: 1, cases: 2, minutesRatio: 2, brier: 0.2, unsafe: 0 },
      { trainee: 'Ben', done: 2, passed: 1, cases: 2, minutesRatio: 2, brier: 0.2, unsafe: 0 },
    ]);
  });
});
