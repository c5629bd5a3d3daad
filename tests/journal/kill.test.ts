import { expect, it } from 'vitest';
import { killRounds } from '../torture/kill-rounds.js';

it('loses nothing acknowledged and leaves nothing half-written when killed', async () => {
  const report = await killRounds(6);
  expect(report.losses).toEqual([]);
  // Some rounds are killed early; together they must have written something.
  expect(report.acknowledged).toBeGreaterThan(6);
}, 60_000);
