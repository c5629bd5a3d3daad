import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sayCondition } from '../../src/cli/knowledge/condition-words.js';
import { defaultKnowledgeFolder, loadKnowledge } from '../../src/rules/knowledge/load-knowledge.js';
import { run, unwrapped } from './fake-terminal.js';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'peelpoint-knowledge-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A copy of the knowledge base with one text replaced in each named file. */
function alteredKnowledge(
  name: string,
  changes: Readonly<Record<string, readonly [RegExp, string]>>,
): string {
  const root = join(folder, name);
  cpSync(defaultKnowledgeFolder(), root, { recursive: true });
  for (const [file, [from, to]] of Object.entries(changes)) {
    const before = readFileSync(join(root, file), 'utf8');
    const after = before.replace(from, to);
    if (after === before) throw new Error(`${file} holds nothing like ${from}`);
    writeFileSync(join(root, file), after);
  }
  return root;
}

describe('peelpoint knowledge check', () => {
  it('finds nothing wrong with the knowledge base supplied', async () => {
    const { code, out } = await run(['knowledge', 'check']);
    expect(out).toContain('no problems');
    expect(code).toBe(0);
  });

  it('names file, line and field, of wrong shapes and of wrong references alike', async () => {
    const root = alteredKnowledge('shapes', {
      'causes/insert-missing-or-worn.yaml': [/kind: condition/, 'kind: conditional'],
      'causes/twist-too-low.yaml': [/checks: \[/, 'checks: [no-such-check, '],
    });
    const { code, out } = await run(['knowledge', 'check', root], { width: 200 });
    expect(code).toBe(1);
    expect(out).toMatch(
      /causes\/insert-missing-or-worn\.yaml:4 kind: .*is not allowed; one of: coordination, condition/,
    );
    expect(out).toMatch(/causes\/twist-too-low\.yaml:\d+ checks: check "no-such-check" does not exist/);
    // The broken file is left out of the book; that others refer to it is no problem of theirs.
    expect(out).not.toContain('"insert-missing-or-worn" does not exist');
    expect(out).toContain('2 problems');
  });

  it('reads the cases of the examples, and tells it in JSON', async () => {
    const root = alteredKnowledge('examples', {
      'causes/insert-missing-or-worn.yaml': [/scope: position\n/, 'scope: planet\n'],
    });
    const { code, out } = await run(['knowledge', 'check', root, '--json']);
    expect(code).toBe(1);
    const { problems } = JSON.parse(out);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({
      file: 'causes/insert-missing-or-worn.yaml',
      field: 'examples.0.given.scope',
    });
    const text = readFileSync(join(root, problems[0].file), 'utf8');
    expect(text.split('\n')[problems[0].line - 1]).toContain('planet');
  });

  it('refuses a folder that is missing or is no knowledge base', async () => {
    const missing = await run(['knowledge', 'check', join(folder, 'nowhere')]);
    expect(missing.code).toBe(2);
    expect(unwrapped(missing.err)).toContain('does not exist');
    const empty = await run(['knowledge', 'check', mkdtempSync(join(folder, 'empty-'))]);
    expect(empty.code).toBe(2);
    expect(unwrapped(empty.err)).toContain('has no folder "causes"');
  });

  it('keeps other commands from a knowledge base with problems', async () => {
    const root = alteredKnowledge('broken', { 'causes/twist-too-low.yaml': [/family: /, 'famly: '] });
    const { code, err } = await run(['knowledge', 'list', 'causes', '--knowledge', root]);
    expect(code).toBe(2);
    expect(unwrapped(err)).toContain('the knowledge base cannot be used');
    expect(err).toContain('causes/twist-too-low.yaml');
  });
});

describe('peelpoint knowledge list', () => {
  const knowledge = loadKnowledge();

  it('lists every id of a kind', async () => {
    for (const [kind, ids] of [
      ['causes', knowledge.book.causes.keys()],
      ['symptoms', knowledge.book.symptoms.keys()],
      ['checks', knowledge.book.checks.keys()],
      ['actions', knowledge.book.actions.keys()],
    ] as const) {
      const { code, out } = await run(['knowledge', 'list', kind, '--json']);
      expect(code).toBe(0);
      const listed = JSON.parse(out).map((one: { id: string }) => one.id);
      expect(listed.sort()).toEqual([...ids].sort());
    }
  });

  it('lists the kinds without one, and fields and words of case files', async () => {
    expect((await run(['knowledge', 'list'])).out).toMatch(/causes +\d+ +what may be wrong/);
    const setup = (await run(['knowledge', 'list', 'setup'])).out;
    expect(setup).toMatch(/nozzle\.surface +Nozzle surface: smooth \| spiral/);
    expect(unwrapped(setup)).toContain('Yarn count, in tex; also Ne');
    expect((await run(['knowledge', 'list', 'words'])).out).toContain('since-change');
  });

  it('refuses a kind that is none', async () => {
    const { code, err } = await run(['knowledge', 'list', 'cause']);
    expect(code).toBe(2);
    expect(unwrapped(err)).toContain('did you mean "causes"?');
  });
});

describe('peelpoint knowledge show', () => {
  it('shows a cause with links, rules, checks and what they rest on', async () => {
    const { code, out } = await run(['knowledge', 'show', 'insert-missing-or-worn']);
    expect(code).toBe(0);
    for (const part of [
      'Leads to',
      '[twist-retention:low], strong (80 %)',
      'Rules',
      'setup.tube.hours at least 9000',
    ])
      expect(unwrapped(out)).toContain(part);
    expect(out).toContain('(judgement)');
  });

  it.each([
    'end-breaks',
    'insert-look',
    'refit-insert',
    'twist-retention',
    'rotor-coasts',
    'cotton',
    'knitting',
  ])('shows %s', async (id) => {
    const { code, out } = await run(['knowledge', 'show', id]);
    expect(code).toBe(0);
    expect(out.split('\n').length).toBeGreaterThan(2);
    expect(out).not.toMatch(/undefined|\[object/);
  });

  it('shows all kinds that share an id', async () => {
    const { out } = await run(['knowledge', 'show', 'sliver-trash', '--json']);
    expect(JSON.parse(out).map((one: { kind: string }) => one.kind)).toEqual(['cause', 'check']);
  });

  it('refuses an unknown id with the nearest', async () => {
    const { code, err } = await run(['knowledge', 'show', 'refit-inserts']);
    expect(code).toBe(2);
    expect(unwrapped(err)).toContain('did you mean "refit-insert"?');
  });
});

describe('peelpoint knowledge test', () => {
  it('runs the examples of one cause', async () => {
    const { code, out } = await run(['knowledge', 'test', 'insert-missing-or-worn', '--json']);
    const answer = JSON.parse(out);
    expect(answer.examples).toBeGreaterThanOrEqual(2);
    expect(answer.failed).toBe(0);
    expect(code).toBe(0);
  });

  it('exits 1 and says what came out when one fails', async () => {
    const root = alteredKnowledge('expectations', {
      'causes/insert-missing-or-worn.yaml': [/expect: below-2-percent/, 'expect: first'],
    });
    const { code, out } = await run(['knowledge', 'test', 'insert-missing-or-worn', '--knowledge', root]);
    expect(code).toBe(1);
    expect(unwrapped(out)).toMatch(/FAIL .*: expected first, number \d+ with/);
    expect(out).toContain('1 failed');
  });

  it('refuses a cause that is none', async () => {
    const { code, err } = await run(['knowledge', 'test', 'insert-missing']);
    expect(code).toBe(2);
    expect(err).toContain('is not a cause');
  });
});

describe('conditions in words', () => {
  it('keep their brackets', () => {
    const below = { fact: 'setup.count', operator: 'below', value: 20 } as const;
    const is = { fact: 'observed.hairy', operator: 'is-one-of', value: ['slight', 'marked'] } as {
      fact: string;
      operator: 'is-one-of';
      value: string[];
    };
    expect(sayCondition({ all: [below, { any: [is, below] }] })).toBe(
      'setup.count below 20 and (observed.hairy is one of slight, marked or setup.count below 20)',
    );
  });
});
