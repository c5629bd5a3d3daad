import { readCaseObject } from '../case/case-file.js';
import type { CaseInput, CaseVocabulary } from '../case/types.js';
import { KnowledgeError, type KnowledgeProblem } from './errors.js';
import type { RuleBook } from './knowledge-base.js';
import type { KnowledgeFiles } from './knowledge-files.js';
import { openReader, readById } from './load.js';
import { type VignetteFile, vignetteSchema } from './vignette-schema.js';

/** A situation whose case has been read. */
export interface Vignette extends VignetteFile {
  readonly case: CaseInput;
}

const FOLDER = 'cases';
const CASE_FIELDS = [
  'title',
  'setup',
  'before',
  'observations',
  'scope',
  'onset',
  'changed',
  'findings',
  'measurements',
] as const;

/**
 * Reads the situations in `cases` below `root`, each checked as a case file and against the ids of the knowledge base.
 *
 * @param root the knowledge-base folder
 * @throws KnowledgeError listing every problem of every file
 */
export function loadVignettes(
  root: KnowledgeFiles,
  book: Pick<RuleBook, 'causes' | 'actions' | 'checks'>,
  vocabulary: CaseVocabulary,
): ReadonlyMap<string, Vignette> {
  const reader = openReader(root);
  const files = readById(reader, FOLDER, vignetteSchema);
  const problems: KnowledgeProblem[] = [...reader.problems];
  const vignettes = new Map<string, Vignette>();
  for (const [id, file] of files) {
    const at = { file: `${FOLDER}/${id}.yaml`, line: undefined };
    for (const [field, message] of unknownIds(file, book)) problems.push({ ...at, field, message });
    const given = Object.fromEntries(
      CASE_FIELDS.filter((field) => file[field] !== undefined).map((field) => [field, file[field]]),
    );
    const reading = readCaseObject(given, vocabulary);
    if (reading.ok) vignettes.set(id, { ...file, case: reading.case });
    else
      for (const problem of reading.problems)
        problems.push({
          ...at,
          field: problem.field,
          message: `${problem.message}; allowed: ${problem.allowed.join(', ')}`,
        });
  }
  if (problems.length > 0) throw new KnowledgeError(problems);
  return vignettes;
}

function unknownIds(
  file: VignetteFile,
  book: Pick<RuleBook, 'causes' | 'actions' | 'checks'>,
): [string, string][] {
  const unknown: [string, string][] = [];
  const seen = new Set<string>();
  file.expect.forEach(({ cause }, n) => {
    if (!book.causes.has(cause)) unknown.push([`expect.${n}.cause`, `there is no cause "${cause}"`]);
    if (seen.has(cause)) unknown.push([`expect.${n}.cause`, `"${cause}" is named twice`]);
    seen.add(cause);
  });
  if (file.action !== undefined && !book.actions.has(file.action.id))
    unknown.push(['action.id', `there is no action "${file.action.id}"`]);
  if (file.check !== undefined && !book.checks.has(file.check.id))
    unknown.push(['check.id', `there is no check "${file.check.id}"`]);
  return unknown;
}
