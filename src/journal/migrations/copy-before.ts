import { open, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Kysely } from 'kysely';
import { say } from '../../language/say.js';
import { openSqliteFile } from '../engines/sqlite.js';
import { codeOf, translateError } from '../engines/translate-error.js';
import { JournalError, wordsOf } from '../errors.js';
import type { Tables } from '../tables.js';
import { presentInstant } from '../time.js';
import { takenSteps } from './migrate.js';
import { SCHEMA_STEPS } from './steps.js';

/**
 * Copies a SQLite journal that is about to be brought up to date, beside itself and under the date and the step it is at,
 * so that there is a way back to the older program even where nobody thought of a backup. A new journal, and one that is
 * up to date, is not copied.
 * @returns the copy; undefined when none was needed
 * @throws JournalError when it cannot be made: then nothing is brought up to date
 */
export async function copyBeforeUpgrade(
  db: Kysely<Tables>,
  file: string,
  until: string | undefined,
): Promise<string | undefined> {
  const taken = await takenSteps(db, 'sqlite');
  const last = taken.at(-1);
  const known = Object.keys(SCHEMA_STEPS);
  const wanted = until === undefined ? known : known.slice(0, known.indexOf(until) + 1);
  if (last === undefined || wanted.every((step) => taken.includes(step))) return undefined;
  const moment = presentInstant().replace(/[-:]|\.\d+/g, '');
  const copy = join(dirname(file), `journal.${moment}.before-upgrade-from-${last.slice(0, 4)}.sqlite`);
  const draft = `${copy}.${process.pid}.part`;
  try {
    const source = openSqliteFile(file, { readOnly: true });
    try {
      await source.backup(draft);
    } finally {
      source.close();
    }
    await onDisk(draft);
    await rename(draft, copy);
    await onDisk(dirname(copy));
    return copy;
  } catch (error) {
    await rm(draft, { force: true });
    const told = translateError(error, copy);
    throw told instanceof JournalError || codeOf(told) !== ''
      ? new JournalError(
          told instanceof JournalError ? told.fault : 'disk',
          () => say('away.no-copy', { file, why: wordsOf(told) }),
          { cause: error },
        )
      : told;
  }
}

async function onDisk(path: string): Promise<void> {
  const handle = await open(path, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
