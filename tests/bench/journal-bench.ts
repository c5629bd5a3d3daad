/**
 * How quick the journal is when it is full. Run with `node --import tsx tests/bench/journal-bench.ts [SCALE] [ENGINE]
 * [EVENTS]`: scale 1 (the default) is 100 000 cases and 10 million break events of a year, engine `sqlite` (default) or
 * `postgresql` (a server of its own is started, which waits for the disk as a real one does), events a scale of their own.
 *
 * Cases are real ones, recorded step by step, and then copied with other times, frames and causes; a diagnosis keeps its
 * ranking of 60 causes but a short body. Break events come in by batches through the journal itself.
 */
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { sql } from 'kysely';
import {
  addFrame,
  addLot,
  countBreaksByHour,
  countBreaksByPosition,
  countByFrame,
  countCases,
  countFrameDays,
  findCase,
  findFrameHistory,
  findRepeatOffenders,
  JOURNAL_FILE,
  type Journal,
  measureCalibration,
  measureDurations,
  measureHits,
  openCase,
  openJournal,
  rankRootCauses,
  recordBreaks,
  recordRuns,
  recordStep,
  searchCases,
} from '../../src/journal/index.js';
import { storeOf } from '../../src/journal/store.js';
import { putRows, type Row, type TableName } from '../../src/journal/upkeep/row-pages.js';
import { createRandom } from '../../src/statistics/random.js';
import { startPostgres } from '../journal/postgres.js';

const FRAMES = 12;
const POSITIONS = 240;
const DAYS = 365;
const START = Date.parse('2025-11-25T00:00:00Z');
const MODELS = 60;
const random = createRandom(1);
const whole = (n: number) => Math.floor(random() * n);
const instant = (day: number) => new Date(START + day * 86_400_000).toISOString();
const causes = Array.from({ length: 60 }, (_, n) => `cause-${n}`);
/** Few causes are common and most are rare. */
const cause = () => causes[Math.floor(60 * random() ** 2.5)] ?? 'cause-0';

const scale = Number(process.argv[2] ?? 1);
const engine = process.argv[3] ?? 'sqlite';
const eventScale = Number(process.argv[4] ?? scale);
const seconds = (from: number) => `${((performance.now() - from) / 1000).toFixed(1)} s`;

const folder = mkdtempSync(join(tmpdir(), 'journal-bench-'));
const postgres = engine === 'postgresql' ? await startPostgres({ durable: true }) : undefined;
const journal = await openJournal(
  postgres === undefined ? { folder } : { url: await postgres.newDatabase() },
);
try {
  await fill();
  await settle();
  await measure();
} finally {
  await journal.close();
  await postgres?.stop();
  rmSync(folder, { recursive: true, force: true });
}

async function fill(): Promise<void> {
  const who = { who: 'bench' };
  for (let n = 1; n <= FRAMES; n++)
    await addFrame(journal, { id: `frame-${n}`, name: `Frame ${n}`, positions: POSITIONS }, who);
  for (let n = 1; n <= 40; n++) await addLot(journal, { id: `lot-${n}`, name: `Lot ${n}` }, who);
  let from = performance.now();
  const cases = Math.round(100_000 * scale);
  await recordModels(journal);
  await copyCases(cases - MODELS);
  console.log(`${cases} cases put in: ${seconds(from)}`);

  from = performance.now();
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
      who,
    );
  const events = Math.round(10_000_000 * eventScale);
  const batch = 20_000;
  const batches = Math.max(1, Math.round(events / batch));
  // As it comes in: all frames, a stretch of time each batch.
  for (let n = 0; n < batches; n++)
    await recordBreaks(
      journal,
      `batch-${n}`,
      Array.from({ length: batch }, () => ({
        frame: `frame-${1 + whole(FRAMES)}`,
        position: 1 + whole(POSITIONS),
        at: instant(((n + random()) / batches) * DAYS),
      })),
      who,
    );
  const rate = Math.round(events / ((performance.now() - from) / 1000));
  console.log(`${events} break events taken in: ${seconds(from)} (${rate} a second)`);
  if (postgres === undefined)
    console.log(`size on the disk: ${(statSync(join(folder, JOURNAL_FILE)).size / 1e9).toFixed(2)} GB`);
}

/** Cases recorded as people would, to be copied. */
async function recordModels(into: Journal): Promise<void> {
  const who = (day: number) => ({ who: 'bench', at: instant(day) });
  for (let n = 0; n < MODELS; n++) {
    const weights = causes.map(() => random());
    const sum = weights.reduce((total, weight) => total + weight, 0);
    let record = await openCase(
      into,
      {
        title: `More end breaks while running, ${n}`,
        frame: 'frame-1',
        lot: 'lot-1',
        note: 'Since the new lot came in, mostly on the left side of the frame.',
        diagnosis: {
          input: { setup: { fibre: 'cotton', count: '20 Ne' }, observations: { 'end-breaks': 'marked' } },
          diagnosis: {
            knowledgeVersion: 'bench',
            causes: causes.map((id, c) => ({ id, probability: (weights[c] ?? 0) / sum })),
          },
        },
      },
      who(1),
    );
    const take = async (step: Parameters<typeof recordStep>[2]) => {
      record = await recordStep(into, { id: record.id, seen: record.version }, step, who(1.2));
    };
    await take({ step: 'check-made', check: 'nozzle-look', outcomes: ['polished'], minutes: 10 });
    await take({ step: 'action-taken', action: 'replace-nozzle', minutes: 30 });
    await take({ step: 'closed', cause: 'cause-0', how: 'by-part', cost: { rotorHours: 20, wasteKg: 3 } });
  }
}

async function copyCases(count: number): Promise<void> {
  const { db } = storeOf(journal);
  const all = async (table: TableName) =>
    (await db
      .selectFrom(table as 'frames')
      .selectAll()
      .execute()) as unknown as Row[];
  const models = await all('cases');
  const parts = new Map<TableName, Row[]>();
  for (const table of ['entries', 'case_causes', 'case_checks', 'diagnoses'] as const)
    parts.set(table, await all(table));
  const idColumn = (table: TableName) => (table === 'entries' ? 'subject' : 'case_id');
  for (let start = 0; start < count; start += 1000) {
    const rows = new Map<TableName, Row[]>([['cases', []]]);
    for (let n = start; n < Math.min(count, start + 1000); n++) {
      const model = models[n % models.length] as Row;
      const number = MODELS + n + 1;
      const id = `case-${number}`;
      // In the order of time, as a journal fills.
      const day = ((n + random()) / count) * DAYS;
      const root = cause();
      const open = n % 200 === 0;
      rows.get('cases')?.push({
        ...model,
        id,
        number,
        opened_at: instant(day),
        changed_at: instant(day + 0.2),
        frame: `frame-${1 + whole(FRAMES)}`,
        position: random() < 0.3 ? 1 + whole(POSITIONS) : null,
        lot: `lot-${1 + whole(40)}`,
        nozzle_hours: whole(25_000),
        minutes: 10 + whole(100),
        rotor_hours: whole(200),
        waste_kg: whole(30),
        search: `${id} \n${String(model.search).slice(String(model.search).indexOf('\n') + 1)} ${n % 97 === 0 ? 'moiré' : ''}`,
        ...(open
          ? {
              state: 'acting',
              closed_at: null,
              outcome: null,
              cause: null,
              how: null,
              first_given: null,
              first_place: null,
            }
          : {
              closed_at: instant(day + 0.2),
              cause: root,
              find_minutes: whole(300),
              fix_minutes: whole(3000),
            }),
      });
      for (const [table, all] of parts)
        for (const row of all.filter((one) => one[idColumn(table)] === model.id)) {
          const copy: Row = { ...row, [idColumn(table)]: id };
          if (table === 'case_causes') {
            if (open) continue;
            copy.cause = root;
          }
          rows.set(table, [...(rows.get(table) ?? []), copy]);
        }
    }
    await db.transaction().execute(async (trx) => {
      for (const [table, list] of rows) await putRows(trx, table, list);
    });
  }
}

/** What PostgreSQL does by itself within minutes of such a load, done now: row counts and visibility are brought up to date. */
async function settle(): Promise<void> {
  if (postgres !== undefined) await sql`vacuum analyze`.execute(storeOf(journal).db);
}

/** Median time of one plain pass over all cases by the engine itself, ms: what the questions are held against. */
async function timePass(): Promise<number> {
  const { db } = storeOf(journal);
  const times: number[] = [];
  for (let n = 0; n < 20; n++) {
    const from = performance.now();
    await sql`select count(*), sum(length(search)) from cases`.execute(db);
    times.push(performance.now() - from);
  }
  return times.sort((a, b) => a - b)[10] ?? 0;
}

async function measure(): Promise<void> {
  const pass = await timePass();
  console.log(`peer: the engine's own pass over all cases  median ${pass.toFixed(1)} ms`);
  const slow: string[] = [];
  const frame = () => `frame-${1 + whole(FRAMES)}`;
  const year = { from: instant(0), until: instant(DAYS) };
  const month = () => {
    const day = whole(DAYS - 30);
    return { from: instant(day + 0.25), until: instant(day + 30.25) };
  };
  const lastYear = { closedFrom: instant(0) };
  // As the quality desk asks: by when cases were opened.
  const opened = { openedFrom: instant(DAYS / 2) };
  const halfYear = { closedFrom: instant(DAYS / 2) };
  const questions: Readonly<Record<string, () => Promise<unknown>>> = {
    'case list, newest 50': () => searchCases(journal),
    'case list, open ones': () =>
      searchCases(journal, { state: ['open', 'checking', 'acting', 'on-trial', 'tried'] }),
    'case list, one frame': () => searchCases(journal, { frame: frame() }),
    'case list, frame, cause and month': () => {
      const { from, until } = month();
      return searchCases(journal, { frame: frame(), cause: cause(), openedFrom: from, openedUntil: until });
    },
    'case list, a common word': () => searchCases(journal, { text: 'breaks' }),
    'case list, a rare word': () => searchCases(journal, { text: 'moiré' }),
    'case list, a word that is nowhere': () => searchCases(journal, { text: 'zzz' }),
    'count of cases, all': () => countCases(journal),
    'count of cases, by a word': () => countCases(journal, { text: 'moiré' }),
    'one case with its steps': () => findCase(journal, `case-${1 + whole(100_000 * scale)}`),
    'Pareto by number, year': () => rankRootCauses(journal, 'number', lastYear),
    'Pareto by rotor-hours, year': () => rankRootCauses(journal, 'rotor-hours', lastYear),
    'Pareto by waste, half a year, one frame': () =>
      rankRootCauses(journal, 'waste', { ...halfYear, frame: frame() }),
    'frame history, month': () => findFrameHistory(journal, frame(), month()),
    'frame history, year': () => findFrameHistory(journal, frame(), year),
    'breaks by position, month with edges': () => countBreaksByPosition(journal, frame(), month()),
    'breaks by position, year': () => countBreaksByPosition(journal, frame(), year),
    'breaks by hour, month': () => countBreaksByHour(journal, frame(), month()),
    'breaks and hours by day, year': () => countFrameDays(journal, frame(), year),
    'rates of all frames, year': () => countByFrame(journal, year),
    'repeat offenders, positions': () =>
      findRepeatOffenders(journal, 'position', { openedFrom: instant(DAYS / 2) }),
    'Pareto by minutes, opened in half a year': () => rankRootCauses(journal, 'minutes', opened),
    'times to find and fix, year': () => measureDurations(journal, lastYear),
    'times to find and fix, opened in half a year': () => measureDurations(journal, opened),
    'first-ranked was right, year': () => measureHits(journal, 'first', lastYear),
    'calibration, first-ranked, year': () => measureCalibration(journal, { filter: lastYear }),
    'calibration, opened in half a year': () => measureCalibration(journal, { filter: opened }),
    'calibration, one frame': () => measureCalibration(journal, { filter: { frame: frame() } }),
    'repeat offenders, frames, half a year': () => findRepeatOffenders(journal, 'frame', opened),
    'repeat offenders, part ages, half a year': () => findRepeatOffenders(journal, 'part-age', opened),
  };
  for (const [name, ask] of Object.entries(questions)) {
    await ask();
    const times: number[] = [];
    for (let n = 0; n < 40; n++) {
      const from = performance.now();
      await ask();
      times.push(performance.now() - from);
    }
    times.sort((a, b) => a - b);
    const at = (share: number) => (times[Math.ceil(share * times.length) - 1] ?? 0).toFixed(1).padStart(8);
    const ratio = ((times[20] ?? 0) / pass).toFixed(2).padStart(6);
    console.log(`${name.padEnd(46)} median ${at(0.5)} ms   p95 ${at(0.95)} ms   ${ratio} of a pass`);
    if (Number(at(0.95)) > 100) slow.push(name);
  }
  console.log(slow.length === 0 ? 'all within 100 ms at p95' : `over 100 ms at p95: ${slow.join('; ')}`);
}
