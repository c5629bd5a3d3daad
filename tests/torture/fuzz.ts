/**
 * Long rounds of hostile input over every reader and every route, with a seed of its own each time: a table at the end
 * says what was given and what the slowest input took. FUZZ_SCALE (5) and FUZZ_SEED choose how much and where; a word
 * behind the command takes the readers and routes whose name holds it.
 */
process.env.FUZZ_SCALE ??= '5';

const { openGround } = await import('../fuzz/ground.js');
const { parserTargets } = await import('../fuzz/parser-targets.js');
const { openWalkedApp } = await import('../fuzz/walked-app.js');
const { routeTargets, ROUTE_INPUTS } = await import('../fuzz/route-targets.js');
const { runTarget } = await import('../fuzz/run-target.js');
const { FRESH_SEED } = await import('../fuzz/seeds.js');
const { startWatchdog } = await import('../fuzz/watchdog.js');

const only = process.argv[2];
console.log(
  `fuzz: seed ${FRESH_SEED} beside the fixed one, ${process.env.FUZZ_SCALE} times the inputs of the tests`,
);
const walked = await openWalkedApp();
const statuses: import('../fuzz/route-targets.js').Statuses = new Map();
const { targets: routes } = await routeTargets(walked, ROUTE_INPUTS, statuses);
const targets = [...parserTargets(openGround()), ...routes].filter(
  (one) => only === undefined || one.name.includes(only),
);
const watchdog = startWatchdog(150_000);
let failed = 0;
const rows: object[] = [];
for (const one of targets) {
  try {
    const { slowest, ...report } = await runTarget(one, watchdog, { heap: !routes.includes(one) });
    rows.push({
      ...report,
      seconds: report.seconds.toFixed(1),
      slowestMs: report.slowestMs.toFixed(1),
      grownBytes: `${(report.grownBytes / 1e6).toFixed(1)} MB`,
      statuses: [...(statuses.get(one.name) ?? [])].map(([status, count]) => `${status}:${count}`).join(' '),
      slowest: slowest.slice(0, 50),
    });
  } catch (error) {
    failed++;
    const cause =
      error instanceof Error && error.cause instanceof Error
        ? `\n${error.cause.stack?.split('\n').slice(0, 4).join('\n')}`
        : '';
    console.log(
      `\n${one.name}: ${error instanceof Error ? error.message.slice(0, 900) : String(error)}${cause}`,
    );
  }
}
await watchdog.stop();
await walked.close();
console.table(rows);
console.log(walked.log.slice(0, 20).join('\n'));
if (failed > 0) {
  console.log(`${failed} of ${targets.length} failed`);
  process.exitCode = 1;
}
