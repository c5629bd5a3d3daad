/** Many rounds of killing a writer: `node --import tsx tests/torture/kill-journal.ts [ROUNDS]`, default 200. */
import { killRounds } from './kill-rounds.js';

const report = await killRounds(Number(process.argv[2] ?? 200));
console.log(JSON.stringify(report, null, 2));
process.exitCode = report.losses.length === 0 && report.acknowledged > 0 ? 0 : 1;
