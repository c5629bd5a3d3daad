import { markAsDemo } from '../meta.js';
import { addFrame } from '../mill/frames.js';
import { addLot } from '../mill/lots.js';
import { addYarn } from '../mill/yarns.js';
import { inOneTransaction, type Journal, read } from '../store.js';
import { presentInstant } from '../time.js';
import { requireEmpty } from '../upkeep/make-room.js';
import { startOfDay } from '../zone/mill-time.js';
import { readMillZone } from '../zone/mill-zone.js';
import { drawsFrom } from './draws.js';
import type { DemoEngine } from './engine.js';
import { type PlannedCase, planCases } from './plan-cases.js';
import { instantOn, type PlannedMill, planMill } from './plan-mill.js';
import { type PlannedRankings, writeCase } from './write-case.js';
import { writeComplaints } from './write-complaints.js';
import { writeMachineData } from './write-machine-data.js';
import { writeSetups } from './write-setups.js';

export interface DemoOptions {
  /** Default 20261125. The same seed, end and engine give the same mill. */
  readonly seed?: number;
  /** The day on which the year ends; default now. */
  readonly until?: string;
  readonly days?: number;
  /** Default 300. */
  readonly cases?: number;
  /**
   * How many diagnoses the engine is asked for, the most recent cases first; default 100. Cases before that carry none,
   * as in a mill that took the program up in the course of the year. A diagnosis takes about a tenth of a second.
   */
  readonly rankings?: number;
  /** Days at the end of which single break events are kept; default 21. */
  readonly eventDays?: number;
}

/** What the invented mill holds. */
export interface DemoReport {
  readonly frames: number;
  readonly cases: number;
  readonly rankings: number;
  readonly setups: number;
  readonly complaints: number;
  readonly breakEvents: number;
}

/**
 * Fills an empty journal with an invented mill: a dozen frames, a year of cases, counts, setups and complaints. True
 * causes are drawn by the expert's base rates, what was seen of them comes from the causes' examples with signs
 * overlooked now and then, and what the assistant said comes from the engine handed in, so that every page shows the
 * product's own work. The journal is marked as demo. All of it or nothing.
 * @throws JournalError `refused` when the journal is not empty
 */
export async function buildDemoMill(
  journal: Journal,
  engine: DemoEngine,
  options: DemoOptions = {},
): Promise<DemoReport> {
  const { seed = 20_261_125, days = 365, cases: count = 300, rankings: most = 100, eventDays = 21 } = options;
  await read(journal, (db) => requireEmpty(db, journal.place));
  // Whole days of the mill, so that the days of the plan are those of its pages.
  const zone = await readMillZone(journal);
  const until = Date.parse(startOfDay(options.until ?? presentInstant(), zone));
  const draws = drawsFrom(seed);
  const mill = planMill(engine, draws, until, days);
  const cases = planCases(engine, mill, draws, count);
  const rankings = await rankCases(engine, cases, most);
  return inOneTransaction(journal, async (inner) => {
    // Diagnosing takes a while, in which another server or a person may have begun.
    await read(inner, (db) => requireEmpty(db, journal.place));
    await writeMill(inner, mill);
    let setups = 0;
    let breakEvents = 0;
    for (const frame of mill.frames) setups += await writeSetups(inner, engine, mill, frame, cases);
    const written = [];
    for (const planned of cases)
      written.push({
        planned,
        record: await writeCase(inner, mill, planned, rankings.get(planned) ?? {}, draws),
      });
    const complaints = await writeComplaints(inner, mill, written, draws);
    for (const frame of mill.frames)
      breakEvents += await writeMachineData(inner, mill, frame, cases, eventDays, draws);
    await markAsDemo(inner, {
      madeAt: presentInstant(),
      seed,
      note: 'An invented mill. No frame, person, customer, case or complaint in it is real.',
    });
    const said = [...rankings.values()].flatMap((one) => [one.opening, one.complete]);
    return {
      frames: mill.frames.length,
      cases: cases.length,
      rankings: said.filter((one) => one !== undefined).length,
      setups,
      complaints,
      breakEvents,
    };
  });
}

/** Asks the engine for the most recent cases at opening, and for every third of them again with everything found. */
async function rankCases(
  engine: DemoEngine,
  cases: readonly PlannedCase[],
  most: number,
): Promise<Map<PlannedCase, PlannedRankings>> {
  const rankings = new Map<PlannedCase, PlannedRankings>();
  let asked = 0;
  for (const [n, planned] of [...cases].reverse().entries()) {
    if (asked >= most) break;
    const opening = await engine.rank(planned.opening);
    asked++;
    const again = n % 3 === 0 && planned.end !== 'unfinished' && planned.checks.length > 0 && asked < most;
    const complete = again ? await engine.rank(planned.complete) : undefined;
    if (again) asked++;
    rankings.set(planned, { opening, complete });
  }
  return rankings;
}

async function writeMill(journal: Journal, mill: PlannedMill): Promise<void> {
  const by = { who: 'Dalia, technologist', at: instantOn(mill, 0) };
  for (const frame of mill.frames) {
    const half = Math.floor(frame.positions / 2);
    await addFrame(
      journal,
      {
        id: frame.id,
        name: frame.name,
        place: frame.place,
        positions: frame.positions,
        sections:
          half === 0
            ? []
            : [
                { name: 'Left side', first: 1, last: half },
                { name: 'Right side', first: half + 1, last: frame.positions },
              ],
        note: frame.note,
      },
      by,
    );
  }
  for (const [id, name] of mill.yarns) {
    const norms = mill.frames.filter((frame) => frame.yarnId === id).map((frame) => frame.norm);
    const norm = Math.round(norms.reduce((sum, one) => sum + one, 0) / Math.max(1, norms.length));
    await addYarn(journal, { id, name, targets: { breaksPer1000: norm } }, by);
  }
  for (const { id, name, yarn, material, from } of mill.lots)
    await addLot(journal, { id, name, yarn, material, receivedAt: instantOn(mill, from) }, by);
}
