import { sql } from 'kysely';
import { type Journal, recordBreaks, recordRuns } from '../../../src/journal/index.js';
import { type Store, storeOf } from '../../../src/journal/store.js';
import { numbers, unhurried } from './bulk.js';
import { DAYS, draw, FRAMES, frame, instant, POSITIONS, seconds, startMillis, whole } from './mill.js';

const BATCH = 20_000;
/** Batches that come in through the journal itself when it is full, to see how quickly. */
const BATCHES = 5;
const AT_A_TIME = 1_000_000;

/** Every frame ran 22 hours a day, and its breaks were reported one by one. */
export async function fillRuns(journal: Journal): Promise<void> {
  for (let n = 1; n <= FRAMES; n++)
    await recordRuns(
      journal,
      `runs-${n}`,
      Array.from({ length: DAYS }, (_, day) => ({
        frame: `frame-${n}`,
        from: instant(day),
        until: instant(day + 1),
        rotorHours: POSITIONS * 22,
      })),
      { who: 'bench' },
    );
}

/**
 * Break events of a year: most are put in by the engine itself in the order in which they would have come, all frames at
 * once, and summed up; the last come in by batches through the journal.
 * @returns how many a second came in by batches
 */
export async function fillBreaks(journal: Journal, count: number): Promise<number> {
  const taken = Math.min(count, BATCH * BATCHES);
  const put = count - taken;
  const from = performance.now();
  await putEvents(storeOf(journal), put, count);
  await sumUp(storeOf(journal));
  if (put > 0) console.log(`  ${put} break events put in and summed up: ${seconds(from)}`);
  const start = performance.now();
  for (let n = 0; n * BATCH < taken; n++)
    await recordBreaks(
      journal,
      `batch-${n}`,
      Array.from({ length: Math.min(BATCH, taken - n * BATCH) }, () => ({
        frame: frame(),
        position: 1 + whole(POSITIONS),
        at: instant(((put + (n + draw()) * BATCH) / count) * DAYS),
      })),
      { who: 'bench' },
    );
  return Math.round(taken / ((performance.now() - start) / 1000));
}

/** Numbers that look drawn and are the same on both engines. */
const scattered = (multiplier: number, most: number) =>
  sql`((n * ${sql.lit(multiplier)}) % 4294967291 / 1024) % ${sql.lit(most)}`;

async function putEvents(store: Store, put: number, count: number): Promise<void> {
  // Each event has a stretch of the year to itself and lies somewhere in it, so that no two are the same.
  const step = Math.floor((DAYS * 86_400_000) / count);
  const millis = sql`${sql.lit(startMillis)} + n * ${sql.lit(step)} + ${scattered(2_246_822_519, Math.max(1, step))}`;
  const at =
    store.engine === 'sqlite'
      ? sql`strftime('%Y-%m-%dT%H:%M:%fZ', (${millis}) / 1000.0, 'unixepoch')`
      : sql`to_char(to_timestamp((${millis}) / 1000.0) at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;
  for (let from = 0; from < put; from += AT_A_TIME) {
    await unhurried(store, (trx) =>
      sql`insert into break_events (frame, at, position)
        select 'frame-' || (1 + ${scattered(2_654_435_761, FRAMES)}), ${at}, 1 + ${scattered(3_266_489_917, POSITIONS)}
        from ${numbers(store.engine, from, Math.min(put, from + AT_A_TIME))}`.execute(trx),
    );
    console.log(`  ${Math.min(put, from + AT_A_TIME)} break events`);
  }
}

/** The sums that the journal keeps, frame by frame and month by month. */
async function sumUp(store: Store): Promise<void> {
  const quarter =
    store.engine === 'sqlite'
      ? sql`cast(strftime('%s', at) as integer) / 900`
      : sql`cast(floor(extract(epoch from at::timestamptz) / 900) as bigint)`;
  await unhurried(store, async (trx) => {
    for (let n = 1; n <= FRAMES; n++)
      for (let day = 0; day <= DAYS; day += 30) {
        const some = sql`from break_events where frame = ${`frame-${n}`}
          and at >= ${instant(day)} and at < ${instant(day + 30)}`;
        await sql`insert into break_days (frame, day, position, breaks)
          select frame, substr(at, 1, 10), position, count(*) ${some} group by 1, 2, 3`.execute(trx);
        await sql`insert into break_quarters (frame, quarter, breaks)
          select frame, ${quarter}, count(*) ${some} group by 1, 2`.execute(trx);
      }
    await sql`insert into break_totals (frame, day, breaks)
      select frame, day, sum(breaks) from break_days group by 1, 2`.execute(trx);
  });
}
