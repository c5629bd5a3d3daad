import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { MODEL_PARAMETERS } from '../../spinning/parameters.js';
import { crossCheck } from './cross-check.js';
import { crossCheckSetup } from './cross-check-setup.js';
import { endUseSchema } from './end-use-schema.js';
import { KnowledgeError } from './errors.js';
import { judgementsSchema, judgementValues } from './judgement-schema.js';
import type { Knowledge } from './knowledge.js';
import { type KnowledgeFiles, readText, yamlNames } from './knowledge-files.js';
import { type FolderReader, openReader, readById, readMerged, readOne, readRuleBook } from './load.js';
import { readTranslations } from './load-translations.js';
import { fibreSchema, modelParameterFileSchema } from './parameter-schema.js';

/**
 * Reads and checks the whole knowledge base.
 * @throws KnowledgeError with every problem: file, line, field and what is allowed
 */
export function loadKnowledge(root: KnowledgeFiles = defaultKnowledgeFolder()): Knowledge {
  const reader = openReader(root);
  const book = readRuleBook(reader);
  const judgements = readOne(reader, 'judgements.yaml', judgementsSchema);
  const endUses = readById(reader, 'end-uses', endUseSchema);
  const fibres = readById(reader, 'fibres', fibreSchema);
  const model = Object.fromEntries(readMerged(reader, 'model', modelParameterFileSchema));
  for (const name of MODEL_PARAMETERS)
    if (model[name] === undefined && reader.problems.length === 0)
      reader.problems.push({ file: 'model', line: undefined, field: name, message: 'is missing' });
  const reasoning = reader.digest.copy().digest('hex').slice(0, 12);
  const translations = reader.problems.length > 0 ? new Map() : readTranslations(reader, { book, endUses });
  const problems =
    reader.problems.length > 0
      ? reader.problems
      : [...crossCheck(book), ...crossCheckSetup({ book, endUses, fibres, model })];
  if (problems.length > 0 || judgements === undefined) throw new KnowledgeError(problems);
  digestBooks(reader);
  return {
    version: reader.digest.digest('hex').slice(0, 12),
    reasoning,
    book,
    judgements: judgementValues(judgements),
    fibres,
    endUses,
    parameters: { model, fibres: Object.fromEntries(fibres) } as Knowledge['parameters'],
    translations,
  };
}

/** Files that no ranking rests on, but that answers are made from all the same; a base need not have them. */
const BOOK_FILES = ['plans.yaml', 'places.yaml', 'card.yaml', 'practice.yaml', 'glossary.yaml'] as const;
const BOOK_FOLDER = 'lessons';

/** Takes the texts of plans, places, card and training material into the version; `loadBooks` reads them. */
function digestBooks({ root, digest }: FolderReader): void {
  const lessons = (yamlNames(root, BOOK_FOLDER) ?? []).map((name) => `${BOOK_FOLDER}/${name}`);
  for (const file of [...BOOK_FILES, ...lessons]) {
    const text = readText(root, file);
    if (text !== undefined) digest.update(file).update('\0').update(text).update('\0');
  }
}

/** The knowledge base that comes with the product, found from where this file runs (`src` or `dist`). */
export function defaultKnowledgeFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, 'knowledge-base')) && dirname(folder) !== folder) folder = dirname(folder);
  return join(folder, 'knowledge-base');
}
