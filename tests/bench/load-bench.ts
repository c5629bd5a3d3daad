/**
 * Two hundred supervisors for a minute: `npm run bench -- load`. The model of what they do stands in
 * `load/supervisors.ts`. With other numbers: `node --import tsx tests/bench/load-bench.ts SECONDS SUPERVISORS`.
 */
import { comparePeer } from './load/peer-load.js';
import { report } from './load/report.js';
import { runLoad } from './load/run-load.js';
import { startProduct } from './load/server.js';
import { exploreWorld } from './load/world.js';

/** The longest this may run, whatever is asked for. */
const MOST_SECONDS = 3600;

/** Runs the load on a server of its own and prints the figures. @returns whether the promises were kept */
export async function benchLoad(options: {
  readonly seconds: number;
  readonly settle: number;
  readonly supervisors: number;
}): Promise<boolean> {
  const seconds = Math.min(options.seconds, MOST_SECONDS);
  const server = await startProduct();
  try {
    const world = await exploreWorld(server.client);
    console.log(
      `\nLoad: ${options.supervisors} supervisors, ${seconds} s, the first ${options.settle} s not counted; the built server in a process of its own, demonstration mill`,
    );
    const result = await runLoad(server.client, world, {
      supervisors: options.supervisors,
      seconds,
      settle: options.settle,
      sampleSeconds: seconds > 300 ? 10 : 5,
    });
    const kept = report(result, options.settle);
    await server.stop();
    await comparePeer(result.pages, result.pages.all.times.length / (seconds - options.settle));
    return kept;
  } finally {
    await server.stop();
  }
}

if (process.argv[1]?.endsWith('load-bench.ts')) {
  const [seconds = 60, supervisors = 200] = process.argv.slice(2).map(Number);
  if (!(await benchLoad({ seconds, settle: Math.min(15, seconds / 4), supervisors }))) process.exitCode = 1;
}
