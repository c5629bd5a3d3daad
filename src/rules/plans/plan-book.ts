import { KnowledgeError } from '../knowledge/errors.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import { openReader, readOne } from '../knowledge/load.js';
import { defaultKnowledgeFolder } from '../knowledge/load-knowledge.js';
import { type PlanBook, planBookSchema } from '../knowledge/plan-schema.js';
import { crossCheckPlans } from './plan-book-check.js';

const kept = new Map<string, PlanBook>();

/**
 * The numbers and steps of plans, `plans.yaml` below the knowledge-base folder; read once for each folder.
 *
 * @param book when given, the actions named must be in it
 * @throws KnowledgeError with file, line and field of every problem
 */
export function loadPlanBook(root: string = defaultKnowledgeFolder(), book?: RuleBook): PlanBook {
  let plans = kept.get(root);
  if (plans === undefined) {
    const reader = openReader(root);
    plans = readOne(reader, 'plans.yaml', planBookSchema);
    if (plans === undefined) throw new KnowledgeError(reader.problems);
    kept.set(root, plans);
  }
  const problems = book === undefined ? [] : crossCheckPlans(plans, book);
  if (problems.length > 0) throw new KnowledgeError(problems);
  return plans;
}
