import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { loadKnowledge } from '../../../src/rules/knowledge/load-knowledge.js';
import { describeFinding } from '../../../src/rules/workshop/finding.js';
import { lintKnowledge } from '../../../src/rules/workshop/lint-knowledge.js';
import { SCAFFOLDS, scaffold } from '../../../src/rules/workshop/scaffold.js';
import { removeSmallKnowledge, writeSmallKnowledge } from './small-knowledge.js';

afterEach(removeSmallKnowledge);

describe('a new file', () => {
  it.each(SCAFFOLDS)('of kind %s loads, and is reported until it is written', (kind) => {
    const root = writeSmallKnowledge();
    const { file, text } = scaffold(kind, 'brand-new', loadKnowledge(root).book);
    mkdirSync(dirname(join(root, file)), { recursive: true });
    writeFileSync(join(root, file), text);
    const findings = lintKnowledge(root).filter((one) => one.file === file);
    // A new node that nothing leads to yet is the one error a new file may have.
    expect(
      findings.filter((one) => one.severity === 'error' && one.code !== 'no-parent').map(describeFinding),
    ).toEqual([]);
    expect(loadKnowledge(root).version).toMatch(/^[0-9a-f]{12}$/);
    const marks = text.split('\n').filter((line) => line.includes('TODO')).length;
    expect(findings.filter((one) => one.code === 'to-do')).toHaveLength(marks);
    expect(marks).toBeGreaterThan(3);
  });

  it('refuses ids that are taken or malformed', () => {
    const { book } = loadKnowledge(writeSmallKnowledge());
    expect(() => scaffold('cause', 'breaks', book)).toThrow(/taken: symptoms\/breaks\.yaml/);
    expect(() => scaffold('cause', 'Not An Id', book)).toThrow(/no id/);
    expect(() => scaffold('cause', '../escape', book)).toThrow(/no id/);
  });
});
