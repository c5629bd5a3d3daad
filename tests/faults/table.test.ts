import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const rows = readFileSync('docs/faults.md', 'utf8')
  .split('\n')
  .filter((line) => line.startsWith('| '))
  .slice(2)
  .map((line) => line.split(' | ').map((cell) => cell.replace(/^\||\|$/g, '').trim()));

describe('the table of faults', () => {
  it('has faults, and says of each what is seen, what is lost and what shows it', () => {
    expect(rows.length).toBeGreaterThan(15);
    for (const row of rows) {
      expect(row, row[0]).toHaveLength(4);
      for (const cell of row) expect(cell, row[0]).not.toBe('');
    }
  });

  it.each(rows)('names tests that exist: %s', (_fault, _seen, _lost, shown = '') => {
    const named = [...shown.matchAll(/`(tests\/[\w./-]+\.test\.ts)`: ([^;]+)/g)];
    expect(named.length).toBeGreaterThan(0);
    for (const [, file = '', words = ''] of named) {
      expect(existsSync(file), file).toBe(true);
      // In the title of a test or of a group of them, quotation marks and line ends apart.
      const titles = [
        ...readFileSync(file, 'utf8').matchAll(
          /\b(?:describe|it)(?:\.\w+(?:\([^)]*\))*)*\(\s*(['"`])(.*?)\1,/gs,
        ),
      ].map((match) => match[2] ?? '');
      expect(
        titles.some((title) => title.includes(words.trim())),
        `${file} has no test “${words}” among: ${titles.join(' · ')}`,
      ).toBe(true);
    }
  });
});
