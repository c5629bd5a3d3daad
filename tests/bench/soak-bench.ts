/**
 * Two hundred supervisors for ten minutes, memory watched: `npm run bench -- soak`; then what a thread of the engine holds
 * after thousands of cases. Not part of a plain `npm run bench`.
 */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { benchLoad } from './load-bench.js';

const SECONDS = 600;
/** Caches are full and code is compiled by then. */
const SETTLE = 120;

if (!(await benchLoad({ seconds: SECONDS, settle: SETTLE, supervisors: 200 }))) process.exitCode = 1;
const { status } = spawnSync(
  process.execPath,
  ['--expose-gc', '--import', 'tsx', fileURLToPath(new URL('./load/live-memory.ts', import.meta.url))],
  { stdio: 'inherit' },
);
if (status !== 0) process.exitCode = 1;
