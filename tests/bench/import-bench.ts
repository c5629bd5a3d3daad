/**
 * Import and analysis of breaks: rows a second and peak memory at a million events, and ten frames of 500 positions.
 * Run: node --expose-gc --import tsx tests/bench/import-bench.ts
 */
import { createReadStream, createWriteStream, mkdtempSync, rmSync, statSync } from 'node:fs';
import { open } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { finished } from 'node:stream/promises';
import { analyseCounts } from '../../src/statistics/analysis/index.js';
import { createRandom } from '../../src/statistics/random.js';
import { inspectTable, readTable, SAMPLE_BYTES } from '../../src/statistics/tables/index.js';

const EVENTS = 1_000_000;
const FRAMES = 10;
const POSITIONS = 500;
const DAYS = 90;
const START = Date.UTC(2026, 7, 1);

/** A log of a million breaks in order of time, one position three times as bad; written in pieces. */
async function writeLog(path: string): Promise<void> {
  const random = createRandom(1);
  const file = createWriteStream(path);
  file.write('Time;Frame;Position;Reason\n');
  let piece = '';
  for (let i = 0; i < EVENTS; i++) {
    const time = new Date(START + Math.floor((i / EVENTS) * DAYS * 86_400_000))
      .toISOString()
      .slice(0, 19)
      .replace('T', ' ');
    const bad = random() < 2 / (FRAMES * POSITIONS);
    const frame = bad ? 4 : 1 + Math.floor(random() * FRAMES);
    const position = bad ? 123 : 1 + Math.floor(random() * POSITIONS);
    piece += `${time};${frame};${position};${random() < 0.05 ? 'sliver out' : 'end break'}\n`;
    if (piece.length < 1 << 20) continue;
    if (!file.write(piece)) await new Promise<void>((resolve) => file.once('drain', () => resolve()));
    piece = '';
  }
  file.end(piece);
  await finished(file);
}

const megabytes = (bytes: number) => `${(bytes / 1024 / 1024).toFixed(0)} MB`;

/** Runs something and says how long it took and how high the memory rose above what it was. */
async function measure<Result>(name: string, work: () => Promise<Result> | Result): Promise<Result> {
  globalThis.gc?.();
  const before = process.memoryUsage().rss;
  let peak = before;
  const watch = setInterval(() => {
    peak = Math.max(peak, process.memoryUsage().rss);
  }, 20);
  const start = performance.now();
  const result = await work();
  const seconds = (performance.now() - start) / 1000;
  peak = Math.max(peak, process.memoryUsage().rss);
  clearInterval(watch);
  console.log(
    `${name}: ${seconds.toFixed(2)} s, memory ${megabytes(before)} before, ${megabytes(peak)} at most`,
  );
  return result;
}

const folder = mkdtempSync(join(tmpdir(), 'import-bench-'));
try {
  const path = join(folder, 'log.csv');
  await writeLog(path);
  console.log(
    `log: ${EVENTS} events, ${megabytes(statSync(path).size)}, ${FRAMES} frames × ${POSITIONS} positions, ${DAYS} days`,
  );
  const handle = await open(path);
  const sample = new Uint8Array(SAMPLE_BYTES + 1);
  await handle.read(sample, 0, sample.length, 0);
  await handle.close();
  const { mapping } = inspectTable(sample).proposal;
  let reports = 0;
  const start = performance.now();
  const reading = await measure('import', () =>
    readTable(createReadStream(path), mapping, {
      onProgress: () => {
        reports++;
      },
    }),
  );
  const seconds = (performance.now() - start) / 1000;
  if (!reading.ok) throw new Error(reading.problem);
  console.log(
    `  ${Math.round(reading.table.rows / seconds).toLocaleString('en-GB')} rows/s, ${reports} reports of progress`,
  );
  const analysis = await measure('analysis of the log', () =>
    analyseCounts(reading.table, { positionsPerFrame: POSITIONS }),
  );
  console.log(`  ${analysis.verdict}: ${analysis.answer.where.map((one) => one.text).join(' ')}`);

  const random = createRandom(2);
  const positions = Array.from({ length: FRAMES * POSITIONS }, (_, i) => ({
    frame: String(1 + Math.floor(i / POSITIONS)),
    position: String(1 + (i % POSITIONS)),
    count: [...Array(6)].reduce((sum) => sum + (random() < 1 / 3 ? 1 : 0), 0),
    hours: 24,
  }));
  const table = {
    ...reading.table,
    kind: 'positions' as const,
    positions,
    hours: [],
    periods: [],
    positionTimes: undefined,
    breaks: positions.reduce((sum, one) => sum + one.count, 0),
  };
  await measure(`positions, ${FRAMES} frames × ${POSITIONS}`, () => analyseCounts(table));
} finally {
  rmSync(folder, { recursive: true });
}
