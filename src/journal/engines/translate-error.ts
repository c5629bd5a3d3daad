import { say } from '../../language/say.js';
import { sourceText } from '../../language/source-text.js';
import { JournalError } from '../errors.js';

/** Faults of the two engines; what is said of them, and what to do, is in the catalogue. */
type Told = 'locked' | 'corrupt' | 'read-only' | 'missing' | 'full' | 'disk' | 'unreachable';

/** SQLite result codes (with their extensions) and PostgreSQL SQLSTATEs (or socket errors), by how they begin. */
const CODES: readonly (readonly [string, Told])[] = [
  ['SQLITE_BUSY', 'locked'],
  ['SQLITE_LOCKED', 'locked'],
  ['SQLITE_CORRUPT', 'corrupt'],
  ['SQLITE_NOTADB', 'corrupt'],
  ['Z_DATA_ERROR', 'corrupt'],
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
  const { message } = error;
  return new JournalError(fault, () => `${say(`away.${fault}`, { place })} (${sourceText(message)})`, {
    cause: error,
  });
}

function faultOf(error: Error): Told | undefined {
  // What the journal wrote was JSON, and packed where it is large: if it cannot be read, its bytes were changed.
  if (error instanceof SyntaxError && error.message.includes('JSON')) return 'corrupt';
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
