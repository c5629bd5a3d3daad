import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { REQUIREMENTS, readRequirementRows, STATES } from './security-table.js';

const rows = readRequirementRows(readFileSync('docs/security.md', 'utf8'));
const missing = (found: readonly string[]) => REQUIREMENTS.filter((one) => !found.includes(one));

describe('the table of security requirements', () => {
  it('has each requirement of both levels once, and no other', () => {
    expect(REQUIREMENTS).toHaveLength(253);
    const found = rows.flatMap((row) => row.numbers);
    expect(missing(found)).toEqual([]);
    expect(found.filter((one, at) => found.indexOf(one) !== at || !REQUIREMENTS.includes(one))).toEqual([]);
  });

  it('says of each where it stands and why', () => {
    for (const row of rows) {
      expect(STATES as readonly string[], row.numbers.join()).toContain(row.state);
      expect(row.asks.length, row.numbers.join()).toBeGreaterThan(3);
      expect(row.how.length, row.numbers.join()).toBeGreaterThan(3);
    }
  });

  it('names tests that are there', () => {
    const named = new Set(rows.flatMap((row) => row.tests));
    expect(named.size).toBeGreaterThan(20);
    expect([...named].filter((one) => !existsSync(`tests/${one}.test.ts`))).toEqual([]);
  });

  it('would tell a gap, a double and a row without a state', () => {
    const [gap] = readRequirementRows('| V1.1.1 | a | met | b | `c` |');
    expect(missing(gap?.numbers ?? [])).toHaveLength(252);
    const [range] = readRequirementRows('| V1.2.6–V1.2.8 | a | n/a | b |  |');
    expect(range?.numbers).toEqual(['1.2.6', '1.2.7', '1.2.8']);
    expect(readRequirementRows('| V9.9.9 | a | | b | |')[0]).toMatchObject({
      numbers: ['V9.9.9'],
      state: '',
    });
  });
});
