import { SOURCE_LANGUAGE } from '../language/languages.js';
import { type KeysOf, say } from '../language/say.js';
import { inLanguage } from '../language/scope.js';
import { sourceText } from '../language/source-text.js';

/** What went wrong, for those who must tell cases apart (the server's status codes, the command line's exit codes). */
export type JournalFault =
  | 'input'
  | 'not-found'
  | 'stale'
  | 'refused'
  | 'reused-key'
  | 'locked'
  | 'corrupt'
  | 'read-only'
  | 'missing'
  | 'newer'
  | 'unreachable'
  | 'full'
  | 'disk'
  | 'closed';

/** Raised by the journal; the message says what happened, where, and what to do. */
export class JournalError extends Error {
  readonly fault: JournalFault;
  readonly #said: string | (() => string);

  /**
   * @param said what is to be said. Given as a function where it is logged or kept beyond the request: the message is
   *   then in English, and {@link words} in the language of whoever reads it.
   */
  constructor(fault: JournalFault, said: string | (() => string), options?: ErrorOptions) {
    super(typeof said === 'string' ? said : inLanguage(SOURCE_LANGUAGE, said), options);
    this.name = 'JournalError';
    this.fault = fault;
    this.#said = said;
  }

  /** What happened, in the language of the moment where it is given in several. */
  get words(): string {
    return typeof this.#said === 'string' ? this.#said : this.#said();
  }
}

/** What an error of any kind says, in the language of the moment where it can. */
export const wordsOf = (error: unknown): string =>
  error instanceof JournalError
    ? error.words
    : sourceText(error instanceof Error ? error.message : String(error));

/** Faults of the place where the journal lies rather than of what was asked. */
const PLACE_FAULTS: readonly JournalFault[] = [
  'locked',
  'corrupt',
  'read-only',
  'missing',
  'newer',
  'unreachable',
  'full',
  'disk',
  'closed',
];

/** Whether something thrown is a fault of the place where the journal lies. */
export const isPlaceFault = (error: unknown): error is JournalError =>
  error instanceof JournalError && PLACE_FAULTS.includes(error.fault);

/** Swallows such a fault where a note may be left out, so that a full or read-only disk leaves reading possible. */
export function unlessAway(error: unknown): void {
  if (!isPlaceFault(error)) throw error;
}

/** One field that cannot be used: its dotted name, what was given (shortened) and what is allowed. */
export interface InputProblem {
  readonly field: string;
  readonly value: string;
  readonly allowed: string;
}

/** Raised when something handed in cannot be used; lists every problem. */
export class JournalInputError extends JournalError {
  readonly problems: readonly InputProblem[];

  constructor(problems: readonly InputProblem[]) {
    super(
      'input',
      problems
        .map(({ field, value, allowed }) => say('input.unusable', { field, value, allowed }))
        .join('\n'),
    );
    this.name = 'JournalInputError';
    this.problems = problems;
  }
}

/** A step somebody else recorded in the meantime. */
export interface StepSince {
  readonly version: number;
  readonly at: string;
  readonly who: string;
  readonly step: string;
  readonly data: unknown;
}

/** Raised when a write rests on a version that is no longer the present one; nothing was written. */
export class StaleError extends JournalError {
  readonly seen: number;
  readonly present: number;
  /** What has happened since the version that was seen, oldest first. */
  readonly since: readonly StepSince[];

  constructor(
    kind: KeysOf<'kept-kind'>,
    id: string,
    seen: number,
    present: number,
    since: readonly StepSince[],
  ) {
    const who = [...new Set(since.map((step) => step.who))].join(', ');
    const values = { kind: say(`kept-kind.${kind}`), id, seen, present };
    super('stale', who === '' ? say('refused.stale', values) : say('refused.stale-by', { ...values, who }));
    this.name = 'StaleError';
    this.seen = seen;
    this.present = present;
    this.since = since;
  }
}
