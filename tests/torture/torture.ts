/**
 * The long rounds, with one table at the end: `npm run torture`, or
 * `node --import tsx tests/torture/torture.ts [ROUNDS] [WORDS]` for so many rounds of each (default 40) and only the rows whose name holds the
 * words. Exit code 1 when a row failed. It ends by itself; about half an hour with 40 rounds on two idle cores.
 */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { ensureBuilt } from '../faults/built-program.js';
import { startPostgres } from '../journal/postgres.js';
import { fullDiskRounds } from './full-disk.js';
import { KINDS } from './kill/kinds.js';
import { type KillReport, killRounds } from './kill/rounds.js';
import { STEPWISE } from './kill/stepwise.js';
import { crashRounds } from './postgres-crash.js';
import { serverKillRounds } from './server-kill.js';

interface Row {
  readonly what: string;
  readonly rounds: string;
  readonly acknowledged: string;
  /** Sentences; none when all is well. */
  readonly losses: readonly string[];
  /** Why it was left out. */
  readonly left?: string;
  readonly seconds: number;
}

const [rounds = 40, only = ''] = [Number(process.argv[2] ?? 40), process.argv[3] ?? ''];
const rows: Row[] = [];

async function run(what: string, work: () => Promise<Omit<KillReport, 'kind'> | string>): Promise<void> {
  if (!what.includes(only)) return;
  const start = performance.now();
  const seconds = () => Math.round((performance.now() - start) / 1000);
  let row: Row;
  try {
    const report = await work();
    row =
      typeof report === 'string'
        ? { what, rounds: '-', acknowledged: '-', losses: [], left: report, seconds: seconds() }
        : {
            what,
            rounds: String(report.rounds),
            acknowledged: String(report.acknowledged),
            // A row in which nothing was written shows nothing.
            losses: report.acknowledged > 0 ? report.losses : ['nothing was acknowledged at all'],
            seconds: seconds(),
          };
  } catch (error) {
    row = { what, rounds: '-', acknowledged: '-', losses: [String(error)], seconds: seconds() };
  }
  rows.push(row);
  for (const loss of row.losses) console.log(`LOST  ${what}: ${loss}`);
  console.log(`${what}: ${sayOutcome(row)} (${row.seconds} s)`);
}

const sayOutcome = (row: Row): string =>
  row.left !== undefined
    ? `left out: ${row.left}`
    : row.losses.length === 0
      ? 'nothing lost'
      : `${row.losses.length} LOST`;

/** A script of its own, whose exit code says whether all is well. */
const script =
  (file: string, ...args: string[]) =>
  async () => {
    const { status } = spawnSync(
      process.execPath,
      ['--import', 'tsx', join(import.meta.dirname, file), ...args],
      { stdio: 'inherit' },
    );
    return { rounds: 1, acknowledged: 1, losses: status === 0 ? [] : [`${file} ended with ${status}`] };
  };

ensureBuilt();
for (const kind of Object.keys(KINDS))
  if (kind !== 'everything') await run(`killed: ${kind}`, () => killRounds(kind, rounds));
await run('killed: the whole server under load', () => serverKillRounds(Math.ceil(rounds / 4)));
const postgres = await startPostgres({ durable: true });
try {
  for (const kind of Object.keys(STEPWISE))
    await run(`killed, PostgreSQL: ${kind}`, async () =>
      killRounds(kind, Math.ceil(rounds / 2), await postgres.newDatabase()),
    );
  await run('PostgreSQL crashes under load', async () =>
    crashRounds(Math.ceil(rounds / 4), await postgres.newDatabase(), () => postgres.crash()),
  );
} finally {
  await postgres.stop();
}
await run('disk full', async () => fullDiskRounds(Math.ceil(rounds / 4)));
await run('simulated trainees', script('training-policies.ts'));
await run('hostile inputs', script('fuzz.ts'));

const cells = rows.map((row) => [
  row.what,
  row.rounds,
  row.acknowledged,
  `${row.seconds} s`,
  sayOutcome(row),
]);
const table = [['what', 'rounds', 'acknowledged', 'time', 'outcome'], ...cells];
const widths = table[0]?.map((_, n) => Math.max(...table.map((line) => line[n]?.length ?? 0))) ?? [];
console.log();
for (const line of table)
  console.log(
    line
      .map((cell, n) => cell.padEnd(widths[n] ?? 0))
      .join('  ')
      .trimEnd(),
  );
process.exitCode = rows.every((row) => row.losses.length === 0) ? 0 : 1;
