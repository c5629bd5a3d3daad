import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { vocabularyOf } from '../rules/diagnosis/diagnose.js';
import type { Knowledge } from '../rules/knowledge/knowledge.js';
import { loadKnowledge } from '../rules/knowledge/load-knowledge.js';
import { loadMill, type Mill } from '../rules/knowledge/load-mill.js';
import { loadVignettes, type Vignette } from '../rules/knowledge/load-vignettes.js';

/** Everything the pages read from a knowledge-base folder, at one moment. */
export interface LoadedBase {
  /** Changes whenever anything read here changes; the knowledge's own version leaves out mill and situations. */
  readonly version: string;
  readonly knowledge: Knowledge;
  readonly mill: Mill;
  /** Situations to try the knowledge on, by id; a base of one's own need not have any. */
  readonly vignettes: ReadonlyMap<string, Vignette>;
}

/**
 * Reads the knowledge base with its situations and its demonstration mill.
 * @throws KnowledgeError when any of them cannot be used
 */
export function loadBase(root: string): LoadedBase {
  const knowledge = loadKnowledge(root);
  const vocabulary = vocabularyOf(knowledge);
  const mill = loadMill(root, vocabulary);
  const vignettes = existsSync(join(root, 'cases'))
    ? loadVignettes(root, knowledge.book, vocabulary)
    : new Map<string, Vignette>();
  const version = createHash('sha256')
    .update(knowledge.version)
    .update(JSON.stringify([[...mill], [...vignettes]]))
    .digest('hex')
    .slice(0, 12);
  return { version, knowledge, mill, vignettes };
}
