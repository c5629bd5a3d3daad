import { beforeAll, describe, expect, it } from 'vitest';
import { ensureBuilt } from '../faults/built-program.js';
import { SHORT } from '../torture/kill/kinds.js';
import { killRounds } from '../torture/kill/rounds.js';

beforeAll(ensureBuilt, 180_000);

// Most of the time goes into starting the writers; the long rounds are in tests/torture.
describe('killed in the middle of', () => {
  it.each(SHORT)(
    '%s: nothing acknowledged is lost, nothing is there by half',
    async (kind) => {
      const report = await killRounds(kind, kind === 'everything' ? 2 : 1);
      expect(report.losses).toEqual([]);
      // Some rounds are killed early; together they must have said something.
      expect(report.acknowledged).toBeGreaterThan(0);
    },
    180_000,
  );
});
