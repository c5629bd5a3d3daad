import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Journal, JournalError } from '../../journal/index.js';
import { type Given, type OptionSpec, optionText } from '../command.js';
import { argumentError, InputError } from '../errors.js';

/** Where the journal lies, for every command that opens one. */
export const DATA_OPTION: Readonly<Record<string, OptionSpec>> = {
  data: {
    value: 'DIR',
    help: 'the data folder; left out: the database of DATABASE_URL where that is set, else the folder data',
  },
};

/** The name under which stands what the command line does. */
export const COMMAND_LINE = 'command line';

export interface Place {
  readonly folder?: string;
  readonly url?: string;
}

/** The place a command names: `--data` goes before DATABASE_URL, since it was typed. */
export function placeOf(given: Given): Place {
  const folder = optionText(given, 'data');
  if (folder !== undefined) return { folder };
  const url = process.env.DATABASE_URL ?? '';
  return url === '' ? { folder: 'data' } : { url };
}

/**
 * Opens the journal, works with it and closes it; it is made where there is none.
 * @throws InputError for whatever the journal refuses
 */
export async function withJournal<T>(place: Place, work: (journal: Journal) => Promise<T>): Promise<T> {
  const { actAs, openJournal } = await import('../../journal/index.js');
  return tellFaults(async () => {
    const journal = await openJournal(place);
    try {
      return await actAs({ via: 'command', account: null, address: '' }, () => work(journal));
    } finally {
      await journal.close();
    }
  });
}

/**
 * The same for what only makes sense on a journal that is there: a mistyped folder would else look like an empty one.
 * @throws InputError also where a data folder holds no journal
 */
export async function withPresentJournal<T>(
  place: Place,
  work: (journal: Journal) => Promise<T>,
): Promise<T> {
  const { JOURNAL_FILE } = await import('../../journal/index.js');
  if (place.folder !== undefined && !existsSync(join(place.folder, JOURNAL_FILE)))
    throw argumentError('--data', place.folder, 'holds no journal', [
      'the data folder that the server is started with',
    ]);
  return withJournal(place, work);
}

/** Turns what the journal says into a plain refusal of the command. */
export async function tellFaults<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (!isJournalError(error)) throw error;
    throw new InputError(error.message.replace(/\.$/, ''), []);
  }
}

const isJournalError = (error: unknown): error is JournalError =>
  error instanceof Error && error.name.startsWith('Journal');
