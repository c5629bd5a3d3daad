import {
  type FrameRecord,
  findPartHours,
  type Journal,
  listFrames,
  listYarns,
  readMillZone,
  type SetupRecord,
  setupAt,
} from '../../journal/index.js';
import type { CaseInput, GivenSetup } from '../../rules/case/types.js';
import type { Mill, ReadFrame } from '../../rules/knowledge/load-mill.js';
import type { JournalKeeper } from './keeper.js';

/** The frames that the pages offer, kept in step with the journal. */
export interface LiveFrames {
  /** Always the same map; what is in it changes. */
  readonly mill: Mill;
  /** The time zone of the mill as last read; undefined while there is no journal. */
  zone(): string | undefined;
  /** Brings the map up to date when it is older than half a minute or was called stale. */
  refresh(): Promise<void>;
  /** To be called when a frame or its setup was changed. */
  forget(): void;
}

const FRESH_MS = 30_000;
/** The bench does not wait longer than this for a journal that is slow to open. */
const PATIENCE_MS = 400;

/**
 * Frames of the journal with their present setup as the card. As long as there is no journal to ask, those of the
 * knowledge base's demonstration mill stand in.
 */
export function followFrames(keeper: JournalKeeper, shipped: Mill): LiveFrames {
  const mill = new Map(shipped);
  let zone: string | undefined;
  // By the steady clock: one that is set back would keep old frames for as long.
  let until = 0;
  let running: Promise<void> | undefined;
  const put = (frames: Mill): void => {
    mill.clear();
    for (const [id, frame] of frames) mill.set(id, frame);
  };
  const load = async (): Promise<void> => {
    try {
      const state = await keeper.state();
      if (state.kind === 'open') {
        zone = await readMillZone(state.journal);
        put(await framesOf(state.journal, state.demo ? shipped : new Map()));
      } else put(shipped);
      until = performance.now() + (state.kind === 'filling' ? 1000 : FRESH_MS);
    } catch {
      // The journal's own pages say what is wrong with it; the bench goes on with the frames it knew.
      until = performance.now() + FRESH_MS / 6;
    } finally {
      running = undefined;
    }
  };
  return {
    mill,
    zone: () => zone,
    async refresh() {
      if (performance.now() < until) return;
      running ??= load();
      let timer: NodeJS.Timeout | undefined;
      const patience = new Promise<void>((resolve) => {
        timer = setTimeout(resolve, PATIENCE_MS);
      });
      await Promise.race([running, patience]);
      clearTimeout(timer);
    },
    forget() {
      until = 0;
    },
  };
}

async function framesOf(journal: Journal, shipped: Mill): Promise<Mill> {
  const yarns = new Map((await listYarns(journal)).map((yarn) => [yarn.id, yarn.name]));
  const now = new Date().toISOString();
  const frames = new Map<string, ReadFrame>();
  const records = (await listFrames(journal)).filter((frame) => !frame.retired);
  for (const record of records.sort((a, b) => byName(a.name, b.name))) {
    const setup = await setupAt(journal, record.id, now);
    const given = setup === undefined ? NOTHING_GIVEN : await withHours(journal, setup);
    frames.set(record.id, readFrame(record, given, yarns.get(setup?.yarn ?? '') ?? '', shipped));
  }
  return frames;
}

/** "Frame 2" before "Frame 10". */
const byName = (a: string, b: string) => a.localeCompare(b, 'en', { numeric: true });

const NOTHING_GIVEN: GivenSetup = { values: {}, typed: {} };

/** A setup as a case that says nothing else. */
export const cardOf = (given: GivenSetup): CaseInput => ({
  given,
  before: undefined,
  observations: {},
  scope: [],
  onset: [],
  changed: [],
  findings: {},
  partExchange: {},
  measurements: { values: {} },
  warnings: [],
});

function readFrame(record: FrameRecord, given: GivenSetup, yarn: string, shipped: Mill): ReadFrame {
  const told = shipped.get(record.id);
  return {
    id: record.id,
    name: record.name,
    place: record.place,
    yarn,
    positions: record.positions,
    note: record.note,
    setup: {},
    card: cardOf(given),
    ...(told?.story === undefined ? {} : { story: told.story }),
    example: told?.example,
  };
}

/** The setup with the running hours of nozzles and tubes as they are today: those of the middle position. */
async function withHours(journal: Journal, setup: SetupRecord): Promise<GivenSetup> {
  const parts = await findPartHours(journal, setup.frame);
  const middle = (part: 'nozzle' | 'tube') => {
    const hours = parts
      .filter((one) => one.part === part)
      .map((one) => one.hours)
      .sort((a, b) => a - b);
    const value = hours[Math.floor(hours.length / 2)];
    // Nobody needs the last hour, and a case file with one would differ every day.
    return value === undefined ? undefined : Math.round(value / 100) * 100;
  };
  const nozzle = middle('nozzle');
  const tube = middle('tube');
  const { values, typed } = setup.given;
  return {
    ...setup.given,
    values: {
      ...values,
      ...(nozzle === undefined ? {} : { nozzleHours: nozzle }),
      ...(tube === undefined ? {} : { tubeHours: tube }),
    },
    typed: {
      ...typed,
      ...(nozzle === undefined ? {} : { 'nozzle.hours': `${nozzle} h` }),
      ...(tube === undefined ? {} : { 'tube.hours': `${tube} h` }),
    },
  };
}
