/** Two hundred supervisors for ten minutes, memory watched: `npm run bench -- soak`. Not part of a plain `npm run bench`. */
import { benchLoad } from './load-bench.js';

const SECONDS = 600;
/** Caches are full and code is compiled by then. */
const SETTLE = 120;

if (!(await benchLoad({ seconds: SECONDS, settle: SETTLE, supervisors: 200 }))) process.exitCode = 1;
