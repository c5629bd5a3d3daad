import { cpSync, existsSync, mkdirSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import {
  backUpJournal,
  buildDemoMill,
  checkJournal,
  countJournal,
  type DemoEngine,
  exportJournal,
  importJournal,
  JOURNAL_FILE,
  type Journal,
  listFrames,
  moveJournal,
  openJournal,
  recordBreaks,
  restoreJournal,
} from '../../../src/journal/index.js';
import { addSmallMill, caseThrough, LOOKED } from '../../journal/fixtures.js';
import type { KillKind, KillPlace } from './kind.js';

/** Something that is done whole or not at all, each time into a new target. */
interface Whole {
  /** Made once from a filled journal. */
  prepare?(folder: string, source: Journal): Promise<void>;
  once(folder: string, target: string): Promise<void>;
  /** What is wrong with a target that was said to be done. */
  done(folder: string, target: string, expected: number): Promise<readonly string[]>;
  /** What is wrong with a target that was broken off: neither nothing nor everything, or it cannot be done again. */
  broken(folder: string, target: string, expected: number): Promise<readonly string[]>;
}

const sourceOf = (folder: string) => join(folder, 'source');

async function withOpen<T>(folder: string, work: (journal: Journal) => Promise<T>): Promise<T> {
  const journal = await openJournal({ folder });
  try {
    return await work(journal);
  } finally {
    await journal.close();
  }
}

/** Rows that a copy must hold: what opening a new journal writes by itself is not counted. */
const total = async (folder: string) =>
  withOpen(folder, async (journal) => (await countJournal(journal)).total);

function whole(steps: Whole): KillKind {
  const targets = (place: KillPlace) => join(place.folder, 'targets');
  return {
    async prepare({ folder }) {
      mkdirSync(sourceOf(folder));
      mkdirSync(join(folder, 'targets'));
      await withOpen(sourceOf(folder), async (journal) => {
        await addSmallMill(journal);
        for (let n = 0; n < 20; n++)
          await caseThrough(journal, { title: `Case ${n}` }, '2026-03-01T00:00:00Z', [LOOKED]);
        const events = Array.from({ length: 20_000 }, (_, k) => ({
          frame: 'frame-1',
          position: 1 + (k % 8),
          at: new Date(Date.parse('2026-01-01T00:00:00Z') + k * 1000).toISOString(),
        }));
        await recordBreaks(journal, 'batch-1', events, { who: 'writer' });
        await steps.prepare?.(folder, journal);
      });
    },
    async write(place, round, say) {
      for (let n = 0; ; n++) {
        const target = join(targets(place), `${round}-${n}`);
        say({ begun: target });
        await steps.once(place.folder, target);
        say({ done: target });
      }
    },
    async check(place, said) {
      const expected = await total(sourceOf(place.folder));
      const done = said.filter((one) => 'done' in one).map((one) => String(one.done));
      const begun = said.filter((one) => 'begun' in one).map((one) => String(one.begun));
      const findings: string[] = [];
      // Earlier ones are as good as the last.
      for (const target of done.slice(-2))
        findings.push(...(await steps.done(place.folder, target, expected)));
      for (const target of begun.filter((one) => !done.includes(one)))
        findings.push(...(await steps.broken(place.folder, target, expected)));
      for (const name of readdirSync(targets(place)))
        rmSync(join(targets(place), name), { recursive: true, force: true });
      return findings;
    },
  };
}

const counted = async (target: string, expected: number): Promise<readonly string[]> => {
  const found = await total(target);
  return found === expected ? [] : [`${target} holds ${found} of ${expected} rows`];
};

/** Whole, or empty so that it can be done again. */
const emptyOrWhole =
  (again: (folder: string, target: string) => Promise<void>) =>
  async (folder: string, target: string, expected: number): Promise<readonly string[]> => {
    const frames = await withOpen(target, async (journal) => (await listFrames(journal)).length);
    if (frames === 0) await again(folder, target);
    return counted(target, expected);
  };

const importOnce = async (folder: string, target: string): Promise<void> => {
  await withOpen(target, (journal) => importJournal(journal, join(folder, 'export')));
};
export const importing = whole({
  prepare: async (folder, source) => {
    await exportJournal(source, join(folder, 'export'));
  },
  once: importOnce,
  done: async (_, target, expected) => counted(target, expected),
  broken: emptyOrWhole(importOnce),
});

const moveOnce = async (folder: string, target: string): Promise<void> => {
  await withOpen(sourceOf(folder), (from) => withOpen(target, (to) => moveJournal(from, to)));
};
export const moving = whole({
  once: moveOnce,
  done: async (_, target, expected) => counted(target, expected),
  broken: emptyOrWhole(moveOnce),
});

const restoreOnce = async (folder: string, target: string): Promise<void> => {
  const { journal } = await restoreJournal(join(folder, 'backup'), { folder: target });
  await journal.close();
};
export const restoring = whole({
  prepare: async (folder, source) => {
    await backUpJournal(source, join(folder, 'backup'));
  },
  once: restoreOnce,
  done: async (_, target, expected) => counted(target, expected),
  broken: async (folder, target, expected) => {
    if (!existsSync(join(target, JOURNAL_FILE))) await restoreOnce(folder, target);
    return counted(target, expected);
  },
});

const backUpOnce = async (folder: string, target: string): Promise<void> => {
  await withOpen(sourceOf(folder), (journal) => backUpJournal(journal, target));
};
/** A backup holds what the journal does. */
const restored = async (_: string, target: string, expected: number): Promise<readonly string[]> => {
  const back = `${target}-back`;
  const { journal, moved } = await restoreJournal(target, { folder: back });
  await journal.close();
  return moved.total === expected ? [] : [`${target} holds ${moved.total} of ${expected} rows`];
};
export const backingUp = whole({
  once: backUpOnce,
  done: restored,
  broken: async (folder, target, expected) => {
    // Without its name it is not there, and a second try takes no notice of what the first left.
    if (!existsSync(target)) await backUpOnce(folder, target);
    return restored(folder, target, expected);
  },
});

const upgradeOnce = async (folder: string, target: string): Promise<void> => {
  cpSync(join(folder, 'old'), target, { recursive: true });
  await withOpen(target, async () => {});
};
const upgraded = async (_: string, target: string): Promise<readonly string[]> => {
  const findings = await withOpen(target, async (journal) => [
    ...(await checkJournal(journal)).findings,
    ...((await listFrames(journal)).length === 2 ? [] : [`${target} has lost its frames`]),
  ]);
  const copies = readdirSync(target).filter((name) => /before-upgrade-from-\d{4}\.sqlite$/.test(name));
  return copies.length > 0 ? findings : [...findings, `${target} was brought up to date without a copy`];
};
export const upgrading = whole({
  prepare: async (folder) => {
    const old = await openJournal({ folder: join(folder, 'old'), schemaStep: '0005-clients' });
    await old.close();
    const { default: Database } = await import('better-sqlite3');
    const database = new Database(join(folder, 'old', JOURNAL_FILE));
    for (const n of [1, 2])
      database
        .prepare('insert into frames values (?, 1, ?, ?, 8, ?, 0)')
        .run(`frame-${n}`, `Frame ${n}`, '', '');
    database.close();
  },
  once: upgradeOnce,
  done: upgraded,
  broken: async (folder, target) =>
    // Killed while the old folder was being copied: that is the test's own doing.
    existsSync(join(target, JOURNAL_FILE)) ? upgraded(folder, target) : [],
});

let engine: DemoEngine | undefined;
const demoOnce = async (_: string, target: string): Promise<void> => {
  // Only when it is wanted: it takes longer to start than all else.
  engine ??= (await import('../../journal/product-engine.js')).productEngine();
  const made = engine;
  await withOpen(target, (journal) =>
    buildDemoMill(journal, made, { cases: 20, rankings: 0, days: 60, eventDays: 1 }),
  );
};
const filled = async (_: string, target: string): Promise<readonly string[]> =>
  withOpen(target, async (journal) => {
    const { rows } = await countJournal(journal);
    const { findings } = await checkJournal(journal);
    return (rows.cases ?? 0) >= 20 ? findings : [...findings, `${target} has ${rows.cases} cases of 20`];
  });
export const demo = whole({
  once: demoOnce,
  done: filled,
  broken: async (folder, target) => {
    const frames = await withOpen(target, async (journal) => (await listFrames(journal)).length);
    if (frames === 0) await demoOnce(folder, target);
    return filled(folder, target);
  },
});
