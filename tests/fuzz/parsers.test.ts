import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openGround } from './ground.js';
import { parserTargets } from './parser-targets.js';
import { runTarget, type TargetReport } from './run-target.js';
import { FRESH_SEED } from './seeds.js';
import { startWatchdog, type Watchdog } from './watchdog.js';

const targets = parserTargets(openGround());
const reports: TargetReport[] = [];
let watchdog: Watchdog;
beforeAll(() => {
  console.log(`fuzz: fresh seed ${FRESH_SEED} (FUZZ_SEED=${FRESH_SEED} repeats it)`);
  watchdog = startWatchdog(150_000);
});
afterAll(() => watchdog.stop());

describe('no reader crashes, hangs, swells or refuses without a word', () => {
  it.each(targets.map((one) => [one.name, one] as const))(
    '%s',
    async (_, one) => {
      const report = await runTarget(one, watchdog);
      reports.push(report);
      expect(report.inputs).toBeGreaterThanOrEqual(one.inputs);
    },
    120_000,
  );

  it('were given a hundred thousand inputs and more', () => {
    const inputs = reports.reduce((sum, one) => sum + one.inputs, 0);
    if (process.env.FUZZ_REPORT !== undefined)
      console.table(reports.map(({ slowest, ...one }) => ({ ...one, slowest: slowest.slice(0, 60) })));
    expect(inputs).toBeGreaterThanOrEqual(100_000);
  });
});
