import { join } from 'node:path';
import { checkJournal, findCase, openCase, openJournal } from '../../src/journal/index.js';
import { makeSmallDisk } from '../faults/small-disk.js';
import { diagnosis } from '../journal/fixtures.js';
import type { KillReport } from './kill/rounds.js';

/** Fills a small disk again and again, makes room, and looks whether everything acknowledged is there. */
export async function fullDiskRounds(rounds: number): Promise<Omit<KillReport, 'kind'> | string> {
  const losses: string[] = [];
  const acknowledged: string[] = [];
  const disk = makeSmallDisk(3);
  if (disk === undefined) return 'this machine does not let one mount a disk';
  try {
    const journal = await openJournal({ folder: join(disk.folder, 'data') });
    for (let round = 0; round < rounds; round++) {
      disk.remount(3 + round);
      for (let n = 0; ; n++)
        try {
          const title = `Round ${round}, ${n} ${'x'.repeat(Math.floor(Math.random() * 150))}`;
          acknowledged.push(
            (await openCase(journal, { title, diagnosis: diagnosis(0.2, 0.3, 0.5) }, { who: 'writer' })).id,
          );
        } catch (error) {
          const fault = error instanceof Error && 'fault' in error ? error.fault : error;
          if (fault !== 'full') losses.push(`round ${round}: ${String(fault)} in place of “full”`);
          break;
        }
      for (const id of acknowledged)
        await findCase(journal, id).catch(() => losses.push(`round ${round}: ${id} is gone`));
    }
    disk.remount(200);
    losses.push(...(await checkJournal(journal, 100_000)).findings);
    await journal.close();
    return { rounds, acknowledged: acknowledged.length, losses };
  } finally {
    disk.remove();
  }
}
