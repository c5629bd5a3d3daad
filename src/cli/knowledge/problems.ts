import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readCaseObject } from '../../rules/case/case-file.js';
import { readCaseText } from '../../rules/case/case-text.js';
import { vocabularyOf } from '../../rules/diagnosis/diagnose.js';
import { crossCheck } from '../../rules/knowledge/cross-check.js';
import { KnowledgeError, type KnowledgeProblem } from '../../rules/knowledge/errors.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import { openReader, readRuleBook } from '../../rules/knowledge/load.js';
import { loadKnowledge } from '../../rules/knowledge/load-knowledge.js';

/** The knowledge base where it can be used, and everything that is wrong with it. */
export interface KnowledgeState {
  readonly knowledge: Knowledge | undefined;
  readonly problems: readonly KnowledgeProblem[];
}

/**
 * Checks a knowledge base: every file against its shape, the files against one another, and the cases of all
 * examples. Problems carry the line wherever the file can be read that far.
 */
export function inspectKnowledge(root: string): KnowledgeState {
  let knowledge: Knowledge | undefined;
  let problems: readonly KnowledgeProblem[] = [];
  try {
    knowledge = loadKnowledge(root);
    problems = exampleProblems(knowledge);
  } catch (error) {
    if (!(error instanceof KnowledgeError)) throw error;
    problems = withCrossChecks(root, error.problems);
  }
  const placed = problems.map((problem) => placeProblem(root, problem));
  placed.sort((a, b) => a.file.localeCompare(b.file) || (a.line ?? 0) - (b.line ?? 0));
  return { knowledge, problems: placed };
}

/**
 * Loading stops before the cross-checks when a file has a wrong shape; here both are wanted. What is missing only
 * because its own file could not be read is left out.
 */
function withCrossChecks(root: string, problems: readonly KnowledgeProblem[]): readonly KnowledgeProblem[] {
  const broken = new Set(problems.map((problem) => problem.file));
  const told = new Set(problems.map((problem) => JSON.stringify(problem)));
  const crossed = crossCheck(readRuleBook(openReader(root))).filter(
    (problem) => !told.has(JSON.stringify(problem)) && !isEcho(problem.message, broken),
  );
  return [...problems, ...crossed];
}

/** Whether a missing id is missing because of a file already reported. */
function isEcho(message: string, broken: ReadonlySet<string>): boolean {
  const id = /"([a-z0-9-]+)/.exec(message)?.[1] ?? '';
  const folders = ['causes', 'symptoms', 'checks', 'actions', 'mechanisms'];
  if (folders.some((folder) => broken.has(`${folder}/${id}.yaml`) || broken.has(folder))) return true;
  if (message.startsWith('caution ')) return broken.has('cautions.yaml');
  if (message.startsWith('source '))
    return [...broken].some((file) => file === 'sources' || file.startsWith('sources/'));
  const observed = /"(?:observed|found)\.([a-z0-9-]+)"/.exec(message)?.[1];
  return observed !== undefined && folders.some((folder) => broken.has(`${folder}/${observed}.yaml`));
}

function exampleProblems(knowledge: Knowledge): KnowledgeProblem[] {
  const vocabulary = vocabularyOf(knowledge);
  return [...knowledge.book.causes.values()].flatMap((cause) =>
    (cause.examples ?? []).flatMap((example, index) => {
      const reading = readCaseObject(example.given, vocabulary, { partial: true });
      if (reading.ok) return [];
      return reading.problems.map((problem) => ({
        file: `causes/${cause.id}.yaml`,
        line: undefined,
        field: ['examples', index, 'given', problem.field].filter((part) => part !== '').join('.'),
        message: `${problem.message}${problem.allowed.length === 0 ? '' : `; allowed: ${problem.allowed.join(', ')}`}`,
      }));
    }),
  );
}

/** Finds the line of a field whose problem came without one. */
function placeProblem(root: string, problem: KnowledgeProblem): KnowledgeProblem {
  if (problem.line !== undefined || !problem.file.endsWith('.yaml')) return problem;
  try {
    const text = readCaseText(readFileSync(join(root, problem.file), 'utf8'));
    return text.ok ? { ...problem, line: text.lineOf(problem.field.split('.')) } : problem;
  } catch {
    // The file itself is what is missing; the problem says so.
    return problem;
  }
}
