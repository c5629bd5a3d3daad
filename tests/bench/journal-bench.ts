/**
 * How quick the journal is when it is full. Run with `node --import tsx tests/bench/journal-bench.ts [SCALE] [ENGINE]
 * [EVENTS] [PLACE]`: scale 1 (the default) is 100 000 cases and 10 million break events of a year, engine `sqlite`
 * (default) or `postgresql` (a server of its own is started, which waits for the disk as a real one does), events a scale
 * of their own. A place (a folder, or the address of an empty database) is kept, and not filled again the next time.
 *
 * A diagnosis of a case keeps its ranking of 60 causes but a short body.
 */
import { mkdirSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { sql } from 'kysely';
import { addFrame, addLot, countCases, JOURNAL_FILE, openJournal } from '../../src/journal/index.js';
import { storeOf } from '../../src/journal/store.js';
import { startPostgres } from '../journal/postgres.js';
import { fillBreaks, fillRuns } from './journal/fill-breaks.js';
import { fillCases } from './journal/fill-cases.js';
import { FRAMES, LOTS, POSITIONS, seconds } from './journal/mill.js';
import { questionsOf } from './journal/questions.js';

const scale = Number(process.argv[2] ?? 1);
const engine = process.argv[3] ?? 'sqlite';
const eventScale = Number(process.argv[4] ?? scale);
const place = process.argv[5];
const CASES = Math.round(100_000 * scale);
const EVENTS = Math.round(10_000_000 * eventScale);

const folder = place ?? mkdtempSync(join(tmpdir(), 'journal-bench-'));
const postgres =
  engine === 'postgresql' && place === undefined ? await startPostgres({ durable: true }) : undefined;
if (engine === 'sqlite') mkdirSync(folder, { recursive: true });
const journal = await openJournal(
  engine === 'sqlite' ? { folder } : { url: place ?? (await postgres?.newDatabase()) },
);
try {
  if ((await countCases(journal)) === 0) {
    await fill();
    await settle();
  }
  await measure();
} finally {
  await journal.close();
  await postgres?.stop();
  if (place === undefined) rmSync(folder, { recursive: true, force: true });
}

async function fill(): Promise<void> {
  const who = { who: 'bench' };
  for (let n = 1; n <= FRAMES; n++)
    await addFrame(journal, { id: `frame-${n}`, name: `Frame ${n}`, positions: POSITIONS }, who);
  for (let n = 1; n <= LOTS; n++) await addLot(journal, { id: `lot-${n}`, name: `Lot ${n}` }, who);
  let from = performance.now();
  await fillCases(journal, CASES);
  console.log(`${CASES} cases put in: ${seconds(from)}`);
  from = performance.now();
  await fillRuns(journal);
  const rate = await fillBreaks(journal, EVENTS);
  console.log(`${EVENTS} break events: ${seconds(from)} (the last by batches, ${rate} a second)`);
  if (engine === 'sqlite')
    console.log(`size on the disk: ${(statSync(join(folder, JOURNAL_FILE)).size / 1e9).toFixed(2)} GB`);
}

/** What PostgreSQL does by itself within minutes of such a load, done now: row counts and visibility are brought up to date. */
async function settle(): Promise<void> {
  if (engine === 'sqlite') return;
  const from = performance.now();
  const { db } = storeOf(journal);
  // One connection, so that the limit of time is lifted for what follows.
  await db.connection().execute(async (connection) => {
    await sql`set statement_timeout = 0`.execute(connection);
    await sql`vacuum analyze`.execute(connection);
    await sql`reset statement_timeout`.execute(connection);
  });
  console.log(`settled: ${seconds(from)}`);
}

/** Median time of one plain pass over all cases by the engine itself, ms: what the questions are held against. */
async function timePass(): Promise<number> {
  const { db } = storeOf(journal);
  const times: number[] = [];
  for (let n = 0; n < 20; n++) {
    const from = performance.now();
    await sql`select count(*), sum(length(search)) from case_texts`.execute(db);
    times.push(performance.now() - from);
  }
  return times.sort((a, b) => a - b)[10] ?? 0;
}

async function measure(): Promise<void> {
  const pass = await timePass();
  console.log(`peer: the engine's own pass over all cases  median ${pass.toFixed(1)} ms`);
  const slow: string[] = [];
  for (const [name, ask] of Object.entries(questionsOf(journal, CASES))) {
    await ask();
    const times: number[] = [];
    for (let n = 0; n < 40; n++) {
      const from = performance.now();
      await ask();
      times.push(performance.now() - from);
    }
    times.sort((a, b) => a - b);
    const at = (share: number) =>
      (times[Math.max(0, Math.ceil(share * times.length) - 1)] ?? 0).toFixed(1).padStart(8);
    const ratio = ((times[20] ?? 0) / pass).toFixed(2).padStart(6);
    console.log(
      `${name.padEnd(46)} least ${at(0)}   median ${at(0.5)}   p95 ${at(0.95)} ms   ${ratio} of a pass`,
    );
    if (Number(at(0.95)) > 100) slow.push(name);
  }
  console.log(slow.length === 0 ? 'all within 100 ms at p95' : `over 100 ms at p95: ${slow.join('; ')}`);
}
