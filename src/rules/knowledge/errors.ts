/** One thing wrong with a knowledge-base file. */
export interface KnowledgeProblem {
  /** Path below the knowledge-base folder. */
  readonly file: string;
  readonly line: number | undefined;
  /** Dotted path of the field, empty for the file as a whole. */
  readonly field: string;
  readonly message: string;
}

/** Thrown when the knowledge base cannot be used; lists every problem found, not the first alone. */
export class KnowledgeError extends Error {
  readonly problems: readonly KnowledgeProblem[];

  constructor(problems: readonly KnowledgeProblem[]) {
    super(
      `The knowledge base has ${problems.length} ${problems.length === 1 ? 'problem' : 'problems'}:\n${problems.map(describeProblem).join('\n')}`,
    );
    this.name = 'KnowledgeError';
    this.problems = problems;
  }
}

/** `causes/x.yaml:12 prior.base: must be above 0`. */
export function describeProblem(problem: KnowledgeProblem): string {
  const place = problem.line === undefined ? problem.file : `${problem.file}:${problem.line}`;
  return problem.field === ''
    ? `${place}: ${problem.message}`
    : `${place} ${problem.field}: ${problem.message}`;
}
