import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe } from 'vitest';
import { type Journal, type OpenOptions, openJournal } from '../../src/journal/index.js';
import { sharedPostgres } from './postgres.js';

export { by } from './who-writes.js';

/** Makes journals on one engine; everything is closed and removed after the tests of the file. */
export interface TestEngine {
  readonly engine: 'sqlite' | 'postgresql';
  /** Where a new, empty journal may go. */
  newPlace(): Promise<Pick<OpenOptions, 'url' | 'folder'>>;
  /** A new, empty journal. */
  newJournal(): Promise<Journal>;
}

/** Describes the same tests on SQLite and on a real PostgreSQL. */
export function describeOnBothEngines(name: string, tests: (on: TestEngine) => void): void {
  for (const engine of ['sqlite', 'postgresql'] as const)
    describe(`${name}, ${engine}`, () => {
      const folders: string[] = [];
      const journals: Journal[] = [];
      beforeAll(async () => {
        if (engine === 'postgresql') await sharedPostgres();
      });
      afterAll(async () => {
        for (const journal of journals) await journal.close();
        for (const folder of folders) rmSync(folder, { recursive: true, force: true });
      });
      const newPlace = async () => {
        if (engine === 'postgresql') return { url: await (await sharedPostgres()).newDatabase() };
        const folder = mkdtempSync(join(tmpdir(), 'journal-'));
        folders.push(folder);
        return { folder };
      };
      tests({
        engine,
        newPlace,
        newJournal: async () => {
          const journal = await openJournal(await newPlace());
          journals.push(journal);
          return journal;
        },
      });
    });
}
