import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run, unwrapped } from './fake-terminal.js';

const EXAMPLE = fileURLToPath(
  new URL('../../knowledge-base/cases/examples/one-bad-position.yaml', import.meta.url),
);
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'peelpoint-practice-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const file = (text: string, name = 'attempt.yaml') => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};

describe('peelpoint practice deal', () => {
  it('deals the same case from the same number, and keeps the truth back', async () => {
    const { code, out, err } = await run(['practice', 'deal', '--level', '2', '--seed', '7', '--json']);
    expect([code, err]).toEqual([0, '']);
    const dealt = JSON.parse(out);
    expect(dealt).toMatchObject({ code: '2-7', level: 2, seed: 7 });
    expect(dealt.truth).toBeUndefined();
    expect(dealt.case.setup.fibre).toBeDefined();
    expect(dealt.checks.length).toBeGreaterThan(20);
    expect((await run(['practice', 'deal', '--level', '2', '--seed', '7', '--json'])).out).toBe(out);
    const key = await run(['practice', 'deal', '--level', '2', '--seed', '7', '--json', '--key']);
    expect(JSON.parse(key.out).truth.causes).toHaveLength(1);
  });

  it('prints a case file that diagnose reads, and how to go on', async () => {
    const { out } = await run(['practice', 'deal', '--level', '1', '--seed', '3'], { width: 100 });
    expect(out).toContain('case: 1-3');
    const yaml = out.slice(out.indexOf('\nsetup:'), out.indexOf('\nTo have it marked'));
    const diagnosis = await run(['diagnose', file(yaml, 'dealt.yaml'), '--json']);
    expect(diagnosis.code).toBe(0);
  });

  it('refuses a level that is none', async () => {
    const { code, err } = await run(['practice', 'deal', '--level', '6']);
    expect(code).toBe(2);
    expect(unwrapped(err)).toContain('a whole number from 1 to 5');
  });
});

describe('peelpoint practice mark', () => {
  it('marks an attempt and says in plain words what to do differently', async () => {
    const path = file('case: 2-3\nmoves:\n  - check: groove-look\n  - propose: {nozzle-chipped: 90 %}\n');
    const { code, out } = await run(['practice', 'mark', path]);
    expect(code).toBe(1);
    for (const heading of ['What it was', 'What to do differently', 'Checks', 'Causes put forward'])
      expect(out).toContain(heading);
    expect(unwrapped(out)).toContain('wait for standstill');
    const json = await run(['practice', 'mark', path, '--json']);
    expect(JSON.parse(json.out)).toMatchObject({ code: '2-3', passed: false });
  });

  it("marks an attempt at a trainer's own case, passed", async () => {
    const path = file(
      `case:
  title: Position 117
  setup: {fibre: cotton, count: 20 Ne, end-use: knitting, tube: {insert: 2-groove}}
  observations: {end-breaks: marked}
  scope: position
  changed: [cleaning-round]
  answer-key: {causes: [insert-missing-or-worn], answers: {insert-look: missing}}
moves:
  - {check: insert-look, standstill: true}
  - propose: {insert-missing-or-worn: 90 %}
`,
    );
    const { code, out } = await run(['practice', 'mark', path]);
    expect(code).toBe(0);
    expect(unwrapped(out)).toContain('No unsafe step');
  });

  it('names what is wrong with field, value, what is allowed and line', async () => {
    const { code, err } = await run(['practice', 'mark', file('case: 2-3\nmoves:\n  - check: groove-lok\n')]);
    expect(code).toBe(2);
    expect(unwrapped(err)).toMatch(/line 3, moves\.0\.check: .*groove-lok.*did you mean "groove-look"/);
  });
});

describe('an attempt that cannot be marked', () => {
  const problem = async (text: string) => {
    const { code, err } = await run(['practice', 'mark', file(text)]);
    expect(code).toBe(2);
    return unwrapped(err)
      .replace(/^.*?cannot be used[^:]*: /, '')
      .trim();
  };
  const move = (text: string) => problem(`case: 2-3\nmoves:\n  - ${text}\n`);

  it.each([
    ['{check: 7}', 'line 3, moves.0.check: "7" must be a text. Allowed: an id'],
    ['{check: Groove Look}', 'line 3, moves.0.check: "Groove Look" must be lower-case words'],
    ['{check: groove-look, standstill: maybe}', 'moves.0.standstill: "maybe" must be true or false.'],
    [
      '{check: part-exchange, part: engine}',
      'moves.0.part: "engine" is not one of the allowed words. Allowed: nozzle',
    ],
    [
      '{check: groove-look, seen: clean}',
      'moves.0.seen, "clean": there is no field "seen" here. Allowed: {check: groove-look',
    ],
    [
      '{propose: {twist-too-low: 140}}',
      'moves.0.propose.twist-too-low: "140" must lie between 0 and 100 %. Allowed: 0 to',
    ],
    ['{propose: {twist-too-low: likely}}', 'moves.0.propose.twist-too-low: "likely" must be a percentage'],
    [
      '{propose: 70 %}',
      'moves.0.propose: "70 %" must be a group of fields. Allowed: {propose: {twist-too-low: 70 %}}',
    ],
    ['{act: raise-twist}', 'moves.0.act: "raise-twist" must be a list. Allowed: 1 to 5 actions.'],
    ['{act: []}', 'moves.0.act: "(a list of 0)" must not be empty. Allowed: 1 to 5 actions.'],
    [
      '{act: [raise-twist], on: sunday}',
      'moves.0.on: "sunday" is not one of the allowed words. Allowed: trial, everywhere.',
    ],
    [
      'think',
      'line 3, moves.0: "think" is not one of the forms a move may have. Allowed: {check: groove-look',
    ],
  ])('says of the move %s what is wrong and what is allowed', async (text, words) => {
    expect(await move(text)).toContain(words);
  });

  it('says of the rest as well what is wrong', async () => {
    expect(await problem('moves: []\n')).toContain('case is missing. Allowed: the number of a practice case');
    expect(await problem('case: 2-3\n')).toContain('moves is missing. Allowed: a list of moves');
    expect(await problem('case: 2-3\nmoves: none\n')).toContain('line 2, moves: "none" must be a list.');
    expect(await problem('case: 2.5\nmoves: []\n')).toContain(
      'case: "2.5" is neither the number of a practice case nor',
    );
    expect(await problem('case: 2-3\nmoves: []\nweather: bad\n')).toContain(
      'weather, "bad": there is no field "weather" here.',
    );
    expect(
      await problem('case: {setup: {fibre: cotton, count: 20 Ne}, answer-key: {causes: []}}\nmoves: []\n'),
    ).toContain('answer-key.causes: "(a list of 0)" must not be empty. Allowed: 1 to 4 causes.');
    for (const text of ['- a\n', 'x\n', '']) expect(await problem(text)).not.toMatch(/invalid|expected/i);
  });
});

describe('peelpoint practice replay', () => {
  it('replays a case in the order asked for, and says why not another cause', async () => {
    const { code, out } = await run([
      'practice',
      'replay',
      EXAMPLE,
      '--order',
      'findings.broken-tail',
      '--why-not',
      'twist-too-low',
    ]);
    expect(code).toBe(0);
    expect(out).toContain('0. Before anything is known');
    expect(unwrapped(out)).toMatch(/1\. Found: /);
    expect(unwrapped(out)).toContain('Why not “');
  });

  it('refuses a field that the case does not have', async () => {
    const { code, err } = await run(['practice', 'replay', EXAMPLE, '--order', 'findings.wax']);
    expect(code).toBe(2);
    expect(unwrapped(err)).toContain('is not a field that this case has');
  });
});
