import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sayCondition } from '../../src/cli/knowledge/condition-words.js';
import { defaultKnowledgeFolder, loadKnowledge } from '../../src/rules/knowledge/load-knowledge.js';
import {
  type Planted,
  removeSmallKnowledge,
  writeSmallKnowledge,
} from '../rules/workshop/small-knowledge.js';
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
      /causes\/insert-missing-or-worn\.yaml:4 error: kind: .*is not allowed; one of: coordination, condition/,
    );
    expect(out).toMatch(
      /causes\/twist-too-low\.yaml:\d+ error: checks: check "no-such-check" does not exist/,
    );
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

describe('peelpoint knowledge new', () => {
  it('writes a file that the check then asks to be finished, and never overwrites', async () => {
    const root = alteredKnowledge('begun', {});
    const args = ['knowledge', 'new', 'action', 'oil-the-spring', '--knowledge', root];
    const { code, out } = await run(args);
    expect(code).toBe(0);
    expect(out).toContain(join(root, 'actions/oil-the-spring.yaml'));
    const checked = await run(['knowledge', 'check', root], { width: 200 });
    expect(checked.code).toBe(0);
    expect(checked.out).toMatch(/actions\/oil-the-spring\.yaml:2 warning: placeholder left/);
    const again = await run(args);
    expect(again.code).toBe(2);
    expect(unwrapped(again.err)).toContain('is taken');
    const odd = await run(['knowledge', 'new', 'action', 'Oil It', '--knowledge', root]);
    expect(odd.code).toBe(2);
    const kind = await run(['knowledge', 'new', 'acton', 'oil', '--knowledge', root]);
    expect(unwrapped(kind.err)).toContain('did you mean "action"');
  });
});

describe('peelpoint knowledge schema', () => {
  it('writes a schema a kind of file, or prints them all', async () => {
    const into = join(folder, 'schemas');
    const { code, out } = await run(['knowledge', 'schema', into]);
    expect(code).toBe(0);
    expect(out).toContain('causes/*.yaml');
    const cause = JSON.parse(readFileSync(join(into, 'cause.schema.json'), 'utf8'));
    expect(cause.properties.prior).toBeDefined();
    const printed = JSON.parse((await run(['knowledge', 'schema'])).out);
    expect(printed.cause).toEqual(cause);
  });
});

describe('peelpoint knowledge diff', () => {
  it('tells what a change of a small knowledge base does, and fails when an expectation breaks', async () => {
    const before = writeSmallKnowledge();
    const after = writeSmallKnowledge((files) => {
      (files['causes/dry.yaml'] as Planted).prior = { base: 0.01, basis: { standing: 'judgement' } };
    });
    const same = await run(['knowledge', 'diff', before, before]);
    expect(same.code).toBe(0);
    expect(same.out).toContain('none changed');
    const { code, out } = await run(['knowledge', 'diff', before, after, '--json']);
    const comparison = JSON.parse(out);
    expect(comparison.changed.length).toBeGreaterThan(0);
    expect(code).toBe(comparison.broken > 0 ? 1 : 0);
    const text = await run(['knowledge', 'diff', before, after]);
    expect(text.out).toMatch(/dry +\d/);
    removeSmallKnowledge();
  });

  it('refuses a folder that is no knowledge base', async () => {
    const { code, err } = await run(['knowledge', 'diff', join(folder, 'nowhere'), defaultKnowledgeFolder()]);
    expect(code).toBe(2);
    expect(err).toContain('OLD');
  });
});

describe('peelpoint knowledge signs', () => {
  const record = {
    id: 'one',
    source: 'A. Writer, 1990, a study',
    address: 'https://example.org/study',
    provenance: 'read',
    fibre: 'cotton',
    setting: 'rotor_speed',
    from: 'lower',
    to: 'higher',
    response: 'spinning_tension',
    direction: 'up',
  };
  const lines = (...records: object[]) => records.map((one) => JSON.stringify(one)).join('\n');

  it('counts by setting and names the source of a disagreement', async () => {
    const input = lines(
      record,
      { ...record, id: 'two', direction: 'down' },
      { ...record, id: 'three', provenance: 'memory', direction: 'down' },
      { ...record, id: 'four', response: 'smell' },
    );
    const { code, out } = await run(['knowledge', 'signs', '-'], { input, width: 200 });
    expect(code).toBe(1);
    expect(out).toMatch(/rotor_speed +1 +2 +1/);
    expect(out).toMatch(/two: .*spinning_tension falls; the model says rises/);
    expect(out).toContain('A. Writer, 1990, a study, https://example.org/study');
    // What was not read is not cited.
    expect(out.match(/A\. Writer/g)).toHaveLength(1);
    expect(out).toContain('from memory');
    const json = JSON.parse((await run(['knowledge', 'signs', '-', '--json'], { input })).out);
    expect(json.all).toMatchObject({ agree: 1, disagree: 2, silent: 1 });
    expect(JSON.stringify(json.records[2])).not.toContain('Writer');
  });

  it('is content when nothing disagrees, and refuses what is no record', async () => {
    expect((await run(['knowledge', 'signs', '-'], { input: lines(record) })).code).toBe(0);
    const bad = await run(['knowledge', 'signs', '-'], { input: `${lines(record)}\nnonsense` });
    expect(bad.code).toBe(2);
    expect(unwrapped(bad.err)).toContain('not a line of JSON');
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
