import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { readCaseObject } from '../case/case-file.js';
import type { CaseProblem } from '../case/types.js';
import { vocabularyOf } from '../diagnosis/diagnose.js';
import { KnowledgeError } from '../knowledge/errors.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import { loadVignettes } from '../knowledge/load-vignettes.js';
import type { Draft } from './finding.js';

/** Examples beside causes and situations in `cases` that cannot be read as case files. */
export function lintCases(root: string, knowledge: Knowledge): Draft[] {
  const vocabulary = vocabularyOf(knowledge);
  const examples = [...knowledge.book.causes.values()].flatMap((cause) =>
    (cause.examples ?? []).flatMap((example, i): Draft[] => {
      const reading = readCaseObject(example.given, vocabulary, { partial: true });
      if (reading.ok) return [];
      return reading.problems.map((problem) => ({
        code: 'unreadable-case',
        file: `causes/${cause.id}.yaml`,
        path: ['examples', i, 'given', ...problem.field.split('.')],
        message: `example "${example.name}", ${describe(problem)}`,
        hint: hintOf(problem),
      }));
    }),
  );
  return [...examples, ...situationFaults(root, knowledge)];
}

function situationFaults(root: string, knowledge: Knowledge): Draft[] {
  if (!existsSync(join(root, 'cases'))) return [];
  try {
    loadVignettes(root, knowledge.book, vocabularyOf(knowledge));
    return [];
  } catch (error) {
    if (!(error instanceof KnowledgeError)) throw error;
    return error.problems.map((problem) => ({
      code: 'unreadable-case',
      file: problem.file,
      path: problem.field.split('.'),
      message: `${problem.field} ${problem.message}`.trim(),
      hint: 'Write the case as "peelpoint diagnose" reads it.',
    }));
  }
}

const describe = (problem: CaseProblem) =>
  `${problem.field === '' ? 'the case' : problem.field} ${problem.message}`;

const hintOf = (problem: CaseProblem) =>
  problem.allowed.length === 0
    ? 'Write it as "peelpoint diagnose" reads it.'
    : `Allowed: ${problem.allowed.join(', ')}.`;
