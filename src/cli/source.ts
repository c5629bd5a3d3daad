import { readFile, stat } from 'node:fs/promises';
import { argumentError, InputError } from './errors.js';
import type { Terminal } from './terminal.js';

/** Far above the longest case; keeps a wrong file (a film, a disk image) from being read into memory. */
const MOST_BYTES = 2_000_000;

/** What is read, for messages: the file as it was named, or `standard input`. */
export function sourceName(file: string): string {
  return file === '-' ? 'standard input' : file;
}

/**
 * The text of a file, or of standard input for `-`; a byte-order mark is dropped.
 * @throws InputError in plain words when it cannot be read or is no UTF-8 text
 */
export async function readSource(file: string, terminal: Terminal): Promise<string> {
  const refuse = (message: string, allowed: readonly string[]) =>
    argumentError('FILE', file, message, allowed);
  const readable = ['the name of a file that can be read, or - for standard input'];
  let bytes: Uint8Array;
  if (file === '-') {
    try {
      bytes = await terminal.readInput(MOST_BYTES);
    } catch (error) {
      throw refuse(sayFault(error), readable);
    }
  } else {
    try {
      const status = await stat(file);
      if (status.isDirectory()) throw refuse('is a folder, not a file', readable);
      if (status.size > MOST_BYTES)
        throw refuse('is too large to be a case file', [`at most ${MOST_BYTES / 1e6} MB`]);
      bytes = await readFile(file);
    } catch (error) {
      if (error instanceof InputError) throw error;
      throw refuse(sayFault(error), readable);
    }
  }
  if (bytes.length > MOST_BYTES)
    throw refuse('is too large to be a case file', [`at most ${MOST_BYTES / 1e6} MB`]);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw refuse('is not a text in UTF-8', ['a text file saved as UTF-8']);
  }
}

/** Why the system would not open something, in words. */
export function sayFault(error: unknown): string {
  const code = (error as NodeJS.ErrnoException | undefined)?.code;
  switch (code) {
    case 'ENOENT':
    case 'ENOTDIR':
      return 'does not exist';
    case 'EACCES':
    case 'EPERM':
      return 'may not be read by you';
    case 'EISDIR':
      return 'is a folder, not a file';
    case 'ENAMETOOLONG':
      return 'is too long for a name';
    case 'ERR_INVALID_ARG_VALUE':
      return 'is not a possible name';
    default:
      return `cannot be read${code === undefined ? '' : ` (${code})`}`;
  }
}
