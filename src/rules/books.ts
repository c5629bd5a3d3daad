import type { CaseVocabulary } from './case/types.js';
import type { CardBook } from './knowledge/card-schema.js';
import { KnowledgeError, type KnowledgeProblem } from './knowledge/errors.js';
import type { Knowledge } from './knowledge/knowledge.js';
import { isThere, type KnowledgeFiles } from './knowledge/knowledge-files.js';
import type { Places } from './knowledge/place-schema.js';
import type { PlanBook } from './knowledge/plan-schema.js';
import { loadPlaces } from './places.js';
import { loadCardBook } from './plans/card.js';
import { loadPlanBook } from './plans/plan-book.js';
import { loadTraining, type TrainingMaterial } from './training/load-training.js';

/**
 * What plans, drawings, cards and the training room are made from, beside the knowledge itself. A knowledge base of
 * one's own need not have any of it; undefined then.
 */
export interface Books {
  readonly plans?: PlanBook;
  readonly places?: Places;
  readonly card?: CardBook;
  readonly training?: TrainingMaterial;
}

/** The files each book is read from; a book is there when one of its files is. */
const FILES = {
  plans: ['plans.yaml'],
  places: ['places.yaml'],
  card: ['card.yaml'],
  training: ['practice.yaml', 'glossary.yaml', 'lessons'],
} as const satisfies Record<keyof Books, readonly string[]>;

/** Files without which a page has nothing to show, for its message. */
export const filesOfBook = (book: keyof Books): string => FILES[book].join(', ');

/**
 * Reads plans, places, card and training material of a knowledge base, each checked against its rules.
 * @throws KnowledgeError with every problem of all of them: file, line, field and what is allowed
 */
export function loadBooks(root: KnowledgeFiles, knowledge: Knowledge, vocabulary: CaseVocabulary): Books {
  const problems: KnowledgeProblem[] = [];
  const read = <T>(name: keyof Books, load: () => T): T | undefined => {
    if (!FILES[name].some((file) => isThere(root, file))) return undefined;
    try {
      return load();
    } catch (error) {
      if (!(error instanceof KnowledgeError)) throw error;
      problems.push(...error.problems);
      return undefined;
    }
  };
  const plans = read('plans', () => loadPlanBook(root, knowledge.book));
  const places = read('places', () => loadPlaces(root, knowledge.book));
  const card = read('card', () => loadCardBook(root));
  const training = read('training', () => loadTraining(root, knowledge, vocabulary));
  if (problems.length > 0) throw new KnowledgeError(problems);
  return {
    ...(plans === undefined ? {} : { plans }),
    ...(places === undefined ? {} : { places }),
    ...(card === undefined ? {} : { card }),
    ...(training === undefined ? {} : { training }),
  };
}
