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
import { openReader, readById, readMerged, readOne, readRuleBook } from './load.js';
import { fibreSchema, modelParameterFileSchema } from './parameter-schema.js';

/**
 * Reads and checks the whole knowledge base.
 * @throws KnowledgeError with every problem: file, line, field and what is allowed
 */
export function loadKnowledge(root: string = defaultKnowledgeFolder()): Knowledge {
  const reader = openReader(root);
  const book = readRuleBook(reader);
  const judgements = readOne(reader, 'judgements.yaml', judgementsSchema);
  const endUses = readById(reader, 'end-uses', endUseSchema);
  const fibres = readById(reader, 'fibres', fibreSchema);
  const model = Object.fromEntries(readMerged(reader, 'model', modelParameterFileSchema));
  for (const name of MODEL_PARAMETERS)
    if (model[name] === undefined && reader.problems.length === 0)
      reader.problems.push({ file: 'model', line: undefined, field: name, message: 'is missing' });
  const problems =
    reader.problems.length > 0
      ? reader.problems
      : [...crossCheck(book), ...crossCheckSetup({ book, endUses, fibres, model })];
  if (problems.length > 0 || judgements === undefined) throw new KnowledgeError(problems);
  return {
    version: reader.digest.digest('hex').slice(0, 12),
    book,
    judgements: judgementValues(judgements),
    fibres,
    endUses,
    parameters: { model, fibres: Object.fromEntries(fibres) } as Knowledge['parameters'],
  };
}

/** The knowledge base that comes with the product, found from where this file runs (`src` or `dist`). */
export function defaultKnowledgeFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, 'knowledge-base')) && dirname(folder) !== folder) folder = dirname(folder);
  return join(folder, 'knowledge-base');
}
