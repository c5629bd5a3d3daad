import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { heapInUse } from './heap.js';
import { ROUTE_INPUTS, routeTargets, type Statuses } from './route-targets.js';
import { MOST_GROWTH, mustNotSwell, runTarget, type TargetReport } from './run-target.js';
import { FIXED_SEED, FRESH_SEED } from './seeds.js';
import { openWalkedApp } from './walked-app.js';
import { startWatchdog, type Watchdog } from './watchdog.js';

/**
 * Share of the routes that a walk by links and forms comes to with something that is there. The others need what only a
 * person makes first (an account, a class that has begun), and get their inputs all the same.
 */
const REACHED_SHARE = 0.8;

const walked = await openWalkedApp();
const statuses: Statuses = new Map();
const { routes, targets } = await routeTargets(walked, ROUTE_INPUTS, statuses);
const reports: TargetReport[] = [];
let watchdog: Watchdog;
beforeAll(() => {
  console.log(`fuzz: fresh seed ${FRESH_SEED} (FUZZ_SEED=${FRESH_SEED} repeats it)`);
  watchdog = startWatchdog(150_000);
});
afterAll(async () => {
  await watchdog.stop();
  await walked.close();
});

describe('no route crashes, hangs or shows its inside, whatever is sent to it', () => {
  it.each(targets.map((one) => [one.name, one] as const))(
    '%s',
    async (_, one) => {
      reports.push(await runTarget(one, watchdog, { seeds: [FIXED_SEED], heap: false }));
    },
    60_000,
  );

  it('nor from a seed of this run alone, and nothing is kept in memory', async () => {
    const before = heapInUse();
    for (const one of targets)
      reports.push(await runTarget(one, watchdog, { seeds: [FRESH_SEED], heap: false }));
    // The computed setups that are kept on purpose may fill up meanwhile: 60 of some 400 kB.
    mustNotSwell('the app', heapInUse() - before, MOST_GROWTH + 24 * 1024 * 1024);
  }, 240_000);

  it('reached every route beyond its refusals', () => {
    const never = [...statuses].filter(
      ([, seen]) => ![...seen.keys()].some((status) => status !== 404 && status !== 401),
    );
    if (process.env.FUZZ_REPORT !== undefined)
      console.table(
        [...statuses].map(([name, seen]) => ({
          name,
          seen: [...seen].map((one) => one.join(':')).join(' '),
        })),
      );
    expect(1 - never.length / statuses.size, never.map(([name]) => name).join('\n')).toBeGreaterThan(
      REACHED_SHARE,
    );
    expect(routes.length).toBeGreaterThan(130);
    expect(walked.log).toEqual([]);
  });
});
