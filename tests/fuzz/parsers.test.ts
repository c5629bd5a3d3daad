import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openGround } from './ground.js';
import { heapInUse } from './heap.js';
import { parserTargets } from './parser-targets.js';
import { mustNotSwell, runTarget, type TargetReport } from './run-target.js';
import { FIXED_SEED, FRESH_SEED } from './seeds.js';
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
      const report = await runTarget(one, watchdog, { seeds: [FIXED_SEED], heap: false });
      reports.push(report);
      expect(report.inputs).toBeGreaterThanOrEqual(one.inputs / 2);
    },
    120_000,
  );

  // What is remembered on purpose filled in the rounds above; from now on nothing may be kept.
  it('nor from a seed of this run alone, and nothing is kept in memory', async () => {
    const before = heapInUse();
    for (const one of targets.filter(({ list }) => list !== true))
      reports.push(await runTarget(one, watchdog, { seeds: [FRESH_SEED], heap: false }));
    mustNotSwell('the readers together', heapInUse() - before);
  }, 240_000);

  it('were given a hundred thousand inputs and more', () => {
    const inputs = reports.reduce((sum, one) => sum + one.inputs, 0);
    if (process.env.FUZZ_REPORT !== undefined)
      console.table(reports.map(({ slowest, ...one }) => ({ ...one, slowest: slowest.slice(0, 60) })));
    expect(inputs).toBeGreaterThanOrEqual(100_000);
  });
});
