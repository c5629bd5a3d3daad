import { loadBooks } from '../books.js';
import { vocabularyOf } from '../diagnosis/diagnose.js';
import { KnowledgeError, type KnowledgeProblem } from '../knowledge/errors.js';
import type { Knowledge } from '../knowledge/knowledge.js';

/** What is wrong with plans, places, card and training material of a knowledge base whose rules load. */
export function lintBooks(root: string, knowledge: Knowledge): readonly KnowledgeProblem[] {
  try {
    loadBooks(root, knowledge, vocabularyOf(knowledge));
    return [];
  } catch (error) {
    if (!(error instanceof KnowledgeError)) throw error;
    return error.problems;
  }
}
