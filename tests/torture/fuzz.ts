/**
 * Long rounds of hostile input over every reader and every route, each with a seed of its own: a table at the end says
 * what was given and what the slowest input took. FUZZ_ROUNDS (2), FUZZ_SCALE (5) and FUZZ_SEED choose how long and where.
 */
import { openGround } from '../fuzz/ground.js';
import { parserTargets } from '../fuzz/parser-targets.js';
import { runTarget } from '../fuzz/run-target.js';
import { startWatchdog } from '../fuzz/watchdog.js';

const only = process.argv[2];
const targets = parserTargets(openGround()).filter((one) => only === undefined || one.name.includes(only));
const watchdog = startWatchdog(60_000);
let failed = 0;
const rows: object[] = [];
for (const one of targets) {
  try {
    const { slowest, ...report } = await runTarget(one, watchdog);
    rows.push({
      ...report,
      seconds: report.seconds.toFixed(1),
      slowestMs: report.slowestMs.toFixed(1),
      grownBytes: `${(report.grownBytes / 1e6).toFixed(1)} MB`,
      slowest: slowest.slice(0, 50),
    });
  } catch (error) {
    failed++;
    const cause =
      error instanceof Error && error.cause instanceof Error
        ? `\n${error.cause.stack?.split('\n').slice(0, 4).join('\n')}`
        : '';
    console.log(
      `${one.name}: ${error instanceof Error ? error.message.slice(0, 600) : String(error)}${cause}`,
    );
  }
}
await watchdog.stop();
console.table(rows);
if (failed > 0) process.exitCode = 1;
