import { JournalError, type JournalFault } from '../errors.js';

/** Words for the faults of the two engines, with what to do. */
const WORDS: Partial<Record<JournalFault, (place: string) => string>> = {
  locked: (place) =>
    `The journal at ${place} is locked by another program. Close whatever else has it open (a copy tool, a database browser), then try again.`,
  corrupt: (place) =>
    `The journal at ${place} is damaged or is no journal. Do not write to it; move it aside and restore the last backup.`,
  'read-only': (place) =>
    `The journal at ${place} cannot be written. Give the user that runs Peelpoint the right to write to the file and its folder, or choose another data folder.`,
  missing: (place) =>
    `The journal at ${place} cannot be opened. Check that the folder exists, that it is a folder, and that the user that runs Peelpoint may read it and write in it.`,
  full: (place) =>
    `The disk that holds the journal at ${place} is full. Nothing was lost; make room and try again.`,
  disk: (place) =>
    `The disk that holds the journal at ${place} reported a fault. Nothing acknowledged was lost; see to the disk or network folder, then try again.`,
  unreachable: (place) =>
    `The database at ${place} cannot be reached. Check that the server runs, and the address, user and password in DATABASE_URL.`,
};

/** SQLite result codes (with their extensions) and PostgreSQL SQLSTATEs (or socket errors), by how they begin. */
const CODES: readonly (readonly [string, JournalFault])[] = [
  ['SQLITE_BUSY', 'locked'],
  ['SQLITE_LOCKED', 'locked'],
  ['SQLITE_CORRUPT', 'corrupt'],
  ['SQLITE_NOTADB', 'corrupt'],
  ['SQLITE_READONLY', 'read-only'],
  ['SQLITE_PERM', 'read-only'],
  ['SQLITE_CANTOPEN', 'missing'],
  ['SQLITE_FULL', 'full'],
  ['SQLITE_IOERR', 'disk'],
  ['EIO', 'disk'],
  ['EACCES', 'read-only'],
  ['EPERM', 'read-only'],
  ['EROFS', 'read-only'],
  ['ENOENT', 'missing'],
  ['ENOTDIR', 'missing'],
  ['EEXIST', 'missing'],
  ['ENOSPC', 'full'],
  ['ECONNREFUSED', 'unreachable'],
  ['ECONNRESET', 'unreachable'],
  ['ENOTFOUND', 'unreachable'],
  ['EAI_AGAIN', 'unreachable'],
  ['ETIMEDOUT', 'unreachable'],
  ['EPIPE', 'unreachable'],
  ['08', 'unreachable'],
  ['28', 'unreachable'],
  ['3D000', 'unreachable'],
  ['57P', 'unreachable'],
  ['53100', 'full'],
  ['53300', 'unreachable'],
  ['58030', 'disk'],
  ['25006', 'read-only'],
  ['XX001', 'corrupt'],
  ['XX002', 'corrupt'],
];

/** An engine's error in the journal's words; errors of any other kind come back unchanged. */
export function translateError(error: unknown, place: string): unknown {
  if (!(error instanceof Error) || error instanceof JournalError) return error;
  const fault = faultOf(error);
  if (fault === undefined) return error;
  return new JournalError(fault, `${WORDS[fault]?.(place) ?? ''} (${error.message})`, { cause: error });
}

function faultOf(error: Error): JournalFault | undefined {
  const code = codeOf(error);
  const known = CODES.find(([start]) => code.startsWith(start));
  if (known !== undefined) return known[1];
  return /Connection terminated|timeout exceeded when trying to connect|Client has encountered a connection error/.test(
    error.message,
  )
    ? 'unreachable'
    : undefined;
}

/** The engine's code of an error; an AggregateError (several addresses tried) gives that of its first. */
export function codeOf(error: unknown): string {
  if (error instanceof AggregateError && error.errors.length > 0) return codeOf(error.errors[0]);
  if (typeof error !== 'object' || error === null || !('code' in error)) return '';
  return typeof error.code === 'string' ? error.code : '';
}
