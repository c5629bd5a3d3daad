import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RowChains } from '../../../src/rules/network/row-chains.js';

const ROWS = 24;

describe('chains of rows', () => {
  it('hold the rows with equal states, last row first, however many cells there are', () => {
    const column = fc.array(fc.nat({ max: 2 }), { minLength: ROWS, maxLength: ROWS });
    const rounds = fc.array(fc.array(column, { maxLength: 4 }), { minLength: 1, maxLength: 3 });
    fc.assert(
      fc.property(rounds, fc.constantFrom(3, 40), (rounds, step) => {
        const chains = new RowChains(ROWS);
        for (const columns of rounds) {
          const strides = columns.map((_, d) => step ** d);
          const found = chains.chain(
            columns.map((states) => Uint8Array.from(states)),
            strides,
            step ** columns.length,
          );
          const expected = new Map<string, number[]>();
          for (let row = 0; row < ROWS; row++) {
            const key = columns.map((states) => states[row]).join();
            expected.set(key, [row, ...(expected.get(key) ?? [])]);
          }
          const got = Array.from(chains.last.subarray(0, found), (last) => {
            const rows: number[] = [];
            for (let row = last; row >= 0; row = chains.before[row] as number) rows.push(row);
            expect(chains.length[last]).toBe(rows.length);
            return rows;
          });
          expect(got).toEqual([...expected.values()]);
        }
      }),
    );
  });
});
