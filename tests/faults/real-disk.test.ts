import { existsSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import {
  backUpJournal,
  checkJournal,
  countCases,
  exportJournal,
  findCase,
  type Journal,
  openCase,
  openJournal,
  restoreJournal,
} from '../../src/journal/index.js';
import { diagnosis } from '../journal/fixtures.js';
import { canMount, makeSmallDisk, type SmallDisk } from './small-disk.js';

let disk: SmallDisk | undefined;
const journals: Journal[] = [];
afterEach(async () => {
  for (const journal of journals.splice(0)) await journal.close();
  disk?.remove();
});

const who = { who: 'Ruth' };
const faultOf = (work: Promise<unknown>): Promise<string> =>
  work.then(
    () => 'none',
    (error: unknown) =>
      error instanceof Error && 'fault' in error ? String(error.fault) : `unforeseen: ${String(error)}`,
  );

// It takes the right to mount a disk; elsewhere the tests of journal-faults stand in, which bound SQLite itself.
describe.skipIf(!canMount())('on a real disk in memory', () => {
  const made = (megabytes: number): SmallDisk => {
    disk = makeSmallDisk(megabytes);
    if (disk === undefined) throw new Error('no disk');
    return disk;
  };

  it('that is full, nothing acknowledged is lost, the fault is named, and writing goes on once there is room', async () => {
    const { folder, remount } = made(3);
    const journal = await openJournal({ folder: join(folder, 'data') });
    journals.push(journal);
    const acknowledged: string[] = [];
    const work = async () => {
      for (let n = 0; n < 2000; n++)
        acknowledged.push(
          (await openCase(journal, { title: `Case ${n}`, diagnosis: diagnosis(0.2, 0.3, 0.5) }, who)).id,
        );
    };
    expect(await faultOf(work())).toBe('full');
    expect(acknowledged.length).toBeGreaterThan(10);
    for (const id of acknowledged) expect((await findCase(journal, id)).id).toBe(id);
    expect(await countCases(journal, {})).toBe(acknowledged.length);
    // Nor are backup and export left by half.
    expect(await faultOf(backUpJournal(journal, join(folder, 'backup')))).toBe('full');
    expect(await faultOf(exportJournal(journal, join(folder, 'export')))).toBe('full');
    expect(readdirSync(folder)).toEqual(['data']);
    remount(40);
    await openCase(journal, { title: 'Room again' }, who);
    expect((await checkJournal(journal, 10_000)).findings).toEqual([]);
    await backUpJournal(journal, join(folder, 'backup'));
    // Restoring where there is no room leaves nothing behind either.
    remount(5);
    writeFileSync(join(folder, 'filler'), '');
    const restored = await faultOf(
      restoreJournal(join(folder, 'backup'), { folder: join(folder, 'back') }).then(({ journal: one }) =>
        one.close(),
      ),
    );
    expect(['full', 'none']).toContain(restored);
    if (restored === 'full') expect(existsSync(join(folder, 'back', 'journal.sqlite'))).toBe(false);
  });

  it('that is read-only, an existing journal is read, and a write is refused by name', async () => {
    const { folder, remount } = made(10);
    const first = await openJournal({ folder });
    const { id } = await openCase(first, { title: 'Before' }, who);
    await first.close();
    remount(10, 'ro');
    const opened = await openJournal({ folder }).then(
      (journal) => {
        journals.push(journal);
        return journal;
      },
      (error: { fault: string }) => error.fault,
    );
    if (typeof opened === 'string') expect(['read-only', 'missing']).toContain(opened);
    else {
      expect((await findCase(opened, id)).title).toBe('Before');
      expect(await faultOf(openCase(opened, { title: 'After' }, who))).toBe('read-only');
    }
    for (const journal of journals.splice(0)) await journal.close();
    remount(10, 'rw');
    const again = await openJournal({ folder });
    journals.push(again);
    await openCase(again, { title: 'After' }, who);
  });

  it('that is full, an older journal is not brought up to date, and stays as it was', async () => {
    const { folder, remount } = made(20);
    const old = await openJournal({ folder, schemaStep: '0005-clients' });
    await old.close();
    // Room for the write-ahead log, but not for a copy.
    writeFileSync(join(folder, 'filler'), Buffer.alloc(20 * 1024 * 1024 - 500_000));
    const outcome = await openJournal({ folder }).then(
      (journal) => {
        journals.push(journal);
        return 'brought up to date';
      },
      (error: unknown) => String(error),
    );
    expect(outcome).toMatch(/is older than the program.*copy.*nothing was changed|is full/);
    remount(60);
    const journal = await openJournal({ folder });
    journals.push(journal);
    expect(journal.copyBefore).toMatch(/before-upgrade-from-0005\.sqlite$/);
    expect(existsSync(journal.copyBefore ?? '')).toBe(true);
    const again = await openJournal({ folder });
    journals.push(again);
    expect(again.copyBefore).toBeUndefined();
  });
});
