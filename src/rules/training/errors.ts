import type { CaseProblem } from '../case/types.js';

/** A training file, an attempt or a deal that cannot be used. */
export class TrainingError extends Error {
  /** One for each thing wrong; empty where the message says all. */
  readonly problems: readonly CaseProblem[];

  constructor(message: string, problems: readonly CaseProblem[] = []) {
    super(message);
    this.name = 'TrainingError';
    this.problems = problems;
  }
}
