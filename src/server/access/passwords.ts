import { type Algorithm, hash, verify } from '@node-rs/argon2';
import { JournalInputError } from '../../journal/index.js';
import { say } from '../../language/say.js';
import { whyTooCommon } from './common-passwords.js';
import { isSoonGuessed } from './guessable.js';

/** The number of argon2id; the package's own constant cannot be used file by file. */
const ARGON2ID = 2 as Algorithm;
/** argon2id with 19 MiB, two passes, one lane: a setting that OWASP's password storage advice lists. */
const OPTIONS = { algorithm: ARGON2ID, memoryCost: 19_456, timeCost: 2, parallelism: 1 };

export const LEAST_LENGTH = 12;
export const MOST_LENGTH = 256;

/** Hashing takes tens of milliseconds of a core and 19 MiB, on threads that files need too; so few at a time. */
const AT_ONCE = 2;
const MOST_WAITING = 40;
let busy = 0;
const waiting: (() => void)[] = [];

/** Too many sign-ins at once. */
export class TooBusyError extends Error {
  constructor() {
    super(say('access.too-busy'));
    this.name = 'TooBusyError';
  }
}

async function inTurn<T>(work: () => Promise<T>): Promise<T> {
  if (busy >= AT_ONCE) {
    if (waiting.length >= MOST_WAITING) throw new TooBusyError();
    await new Promise<void>((resolve) => waiting.push(resolve));
  } else busy++;
  try {
    return await work();
  } finally {
    // The place is handed on, so that nobody slips in between.
    const next = waiting.shift();
    if (next === undefined) busy--;
    else next();
  }
}

/** Looks the same for the same text however it was typed (composed or not), as people see no difference. */
const plain = (password: string) => password.normalize('NFKC');

/** The hash of a password with its salt and parameters. Computed off the main thread. @throws TooBusyError */
export const hashPassword = (password: string): Promise<string> =>
  inTurn(() => hash(plain(password), OPTIONS));

let decoy: Promise<string> | undefined;

/**
 * Whether a password is the one of a hash. Without a hash (no such account, or none set) the same work is done for nothing,
 * so that the time tells nothing. @throws TooBusyError
 */
export async function checkPassword(kept: string | null | undefined, password: string): Promise<boolean> {
  decoy ??= hash('nobody has this password', OPTIONS);
  // Awaited in any case: its first computing must not tell an unknown name from a known one.
  const nobodys = await decoy;
  const against = kept ?? nobodys;
  const right = await inTurn(() => verify(against, plain(password).slice(0, MOST_LENGTH * 4)));
  return right && kept !== null && kept !== undefined;
}

/**
 * Checks that a new password will do: long enough and not one of those that are tried first. Nothing is asked of its
 * signs; length is what counts.
 * @param own words that belong to the person, such as the name
 * @throws JournalInputError on `password`
 */
export async function requireGoodPassword(password: string, own: readonly string[]): Promise<void> {
  const refuse = (value: string, allowed: string): never => {
    throw new JournalInputError([{ field: 'password', value, allowed }]);
  };
  const length = [...plain(password)].length;
  if (length < LEAST_LENGTH)
    refuse(
      length === 0 ? say('access.password-nothing') : say('access.password-of', { n: length }),
      say('access.password-least', { n: LEAST_LENGTH }),
    );
  if (length > MOST_LENGTH)
    refuse(say('access.password-of', { n: length }), say('access.password-most', { n: MOST_LENGTH }));
  const why = whyTooCommon(plain(password), own);
  if (why !== undefined) refuse(say('access.password-this'), why);
  if (await isSoonGuessed(plain(password), own))
    refuse(say('access.password-this'), say('access.password-guessed'));
}
