import { crossCheck } from '../knowledge/cross-check.js';
import { KnowledgeError, type KnowledgeProblem } from '../knowledge/errors.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import { openReader, readRuleBook } from '../knowledge/load.js';
import { loadKnowledge } from '../knowledge/load-knowledge.js';

/** The knowledge base, or everything that keeps it from loading. */
export type LoadResult =
  | { readonly knowledge: Knowledge }
  | { readonly knowledge: undefined; readonly problems: readonly KnowledgeProblem[] };

/**
 * Loads a knowledge base, or collects what is wrong with it. Loading stops before the files are checked against one
 * another when one has a wrong shape; here both are told, but for what is only missing because its file is broken.
 */
export function tryLoading(root: string): LoadResult {
  try {
    return { knowledge: loadKnowledge(root) };
  } catch (error) {
    if (!(error instanceof KnowledgeError)) throw error;
    return { knowledge: undefined, problems: withCrossChecks(root, error.problems) };
  }
}

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
