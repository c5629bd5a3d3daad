import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { ALLOWED, findViolations, importsOf } from './import-rule.js';

const folders: string[] = [];
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});
const plant = (files: Record<string, string>) => {
  const root = mkdtempSync(join(tmpdir(), 'import-rule-'));
  folders.push(root);
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(join(root, path, '..'), { recursive: true });
    writeFileSync(join(root, path), text);
  }
  return root;
};

describe('who may import whom', () => {
  it('holds in src, and src is really read', () => {
    const { files, violations } = findViolations('src');
    expect(files).toBeGreaterThan(50);
    expect(violations).toEqual([]);
  });

  it('knows every folder of src', () => {
    const present = readdirSync('src', { withFileTypes: true }).filter((entry) => entry.isDirectory());
    expect(present.map((entry) => entry.name).filter((name) => ALLOWED[name] === undefined)).toEqual([]);
  });

  it.each([
    ['spinning/a.ts', "import { b } from '../rules/b.js';", 'spinning may not'],
    ['rules/a.ts', "import { b } from '../server/b.js';", 'rules may not'],
    ['statistics/a.ts', "export * from '../spinning/b.js';", 'statistics may not'],
    ['server/a.ts', "const b = await import('../cli/b.js');", 'server may not'],
    ['server/a.ts', "import { Engine } from 'json-rules-engine';", 'belongs to'],
    ['server/pages/a.ts', "import { Eta } from 'eta';", 'belongs to'],
    ['spinning/a.ts', "import { readFileSync } from 'node:fs';", 'only computes'],
    ['journal/a.ts', "import { rank } from '../rules/rank.js';", 'types only'],
    ['server/a.ts', "import { addToken } from '../journal/clients/tokens.js';", 'through journal/index.js'],
    ['rules/a.ts', "import data from '../../tests/data.js';", 'outside src'],
  ])('catches a planted violation: %s %s', (path, text, words) => {
    expect(findViolations(plant({ [path]: text })).violations.join()).toContain(words);
  });

  it('sees that nothing was read', () => {
    expect(findViolations(plant({ 'spinning/readme.txt': '' })).files).toBe(0);
  });

  it('reads imports over several lines, side-effect and re-exporting ones', () => {
    const text =
      "import {\n  a,\n  b,\n} from './x.js';\nimport './y.js';\nexport type { C } from './z.js';\n// import './no.js' in a sentence\n";
    expect(importsOf(text).map((one) => one.specifier)).toEqual(['./x.js', './y.js', './z.js']);
  });
});
