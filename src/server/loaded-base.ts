import { createHash } from 'node:crypto';
import { type Books, loadBooks } from '../rules/books.js';
import { vocabularyOf } from '../rules/diagnosis/diagnose.js';
import type { Knowledge } from '../rules/knowledge/knowledge.js';
import { isThere, type KnowledgeFiles, readAllTexts } from '../rules/knowledge/knowledge-files.js';
import { loadKnowledge } from '../rules/knowledge/load-knowledge.js';
import { loadMill, type Mill } from '../rules/knowledge/load-mill.js';
import { loadVignettes, type Vignette } from '../rules/knowledge/load-vignettes.js';

/** Everything the pages read from a knowledge base, at one moment. */
export interface LoadedBase {
  /** Changes whenever anything read here changes; the knowledge's own version leaves out mill and situations. */
  readonly version: string;
  readonly knowledge: Knowledge;
  readonly books: Books;
  readonly mill: Mill;
  /** Situations to try the knowledge on, by id; a base of one's own need not have any. */
  readonly vignettes: ReadonlyMap<string, Vignette>;
  /** The files as they were read, by path. */
  readonly texts: ReadonlyMap<string, string>;
}

/**
 * Reads the knowledge base with its plans, places, card, training material, situations and demonstration mill.
 * @param files its folder, or the texts of its files
 * @throws KnowledgeError when any of them cannot be used
 */
export function loadBase(files: KnowledgeFiles): LoadedBase {
  // Read once, so that all of it is of one moment.
  const texts = typeof files === 'string' ? readAllTexts(files) : files;
  const knowledge = loadKnowledge(texts);
  const vocabulary = vocabularyOf(knowledge);
  const books = loadBooks(texts, knowledge, vocabulary);
  const mill = loadMill(texts, vocabulary);
  const vignettes = isThere(texts, 'cases')
    ? loadVignettes(texts, knowledge.book, vocabulary)
    : new Map<string, Vignette>();
  const version = createHash('sha256')
    .update(knowledge.version)
    .update(JSON.stringify([[...mill], [...vignettes]]))
    .digest('hex')
    .slice(0, 12);
  return { version, knowledge, books, mill, vignettes, texts };
}
