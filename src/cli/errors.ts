import type { CaseProblem } from '../rules/case/types.js';

/** Exit codes: done, found wanting (a check or test failed), bad input, fault of our own (as in sysexits.h). */
export const EXIT = { done: 0, failed: 1, badInput: 2, fault: 70 } as const;

/** Input that cannot be used: a wrong word on the command line, an unreadable file, a case with problems. */
export class InputError extends Error {
  /** One for each thing wrong; `field` is an argument's name or a field of the case file. */
  readonly problems: readonly CaseProblem[];
  /** What the user may do next. */
  readonly hint: string | undefined;

  /** @param title what has the problems, as one sentence without a full stop */
  constructor(title: string, problems: readonly CaseProblem[], hint?: string) {
    super(title);
    this.name = 'InputError';
    this.problems = problems;
    this.hint = hint;
  }
}

/** A wrong argument. */
export function argumentError(
  field: string,
  value: string,
  message: string,
  allowed: readonly string[],
  hint?: string,
): InputError {
  return new InputError(
    'this command cannot be carried out',
    [{ field, value: shorten(value), message, allowed }],
    hint,
  );
}

/** A value for a message: one line, never longer than 60 characters, control characters shown as blanks. */
export function shorten(text: string): string {
  const line = text.replace(/\p{Cc}+/gu, ' ');
  return line.length > 60 ? `${line.slice(0, 57)}...` : line;
}
