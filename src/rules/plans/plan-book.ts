import { KnowledgeError } from '../knowledge/errors.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { KnowledgeFiles } from '../knowledge/knowledge-files.js';
import { openReader, readOne } from '../knowledge/load.js';
import { defaultKnowledgeFolder } from '../knowledge/load-knowledge.js';
import { type PlanBook, planBookSchema } from '../knowledge/plan-schema.js';
import { crossCheckPlans } from './plan-book-check.js';

let kept: PlanBook | undefined;

/** The one supplied, read once. */
function shipped(): PlanBook {
  kept ??= readPlanBook(defaultKnowledgeFolder());
  return kept;
}

/**
 * The numbers and steps of plans, `plans.yaml` of a knowledge base; those supplied are read once.
 *
 * @param book when given, the actions named must be in it
 * @throws KnowledgeError with file, line and field of every problem
 */
export function loadPlanBook(root?: KnowledgeFiles, book?: RuleBook): PlanBook {
  const plans = root === undefined ? shipped() : readPlanBook(root);
  const problems = book === undefined ? [] : crossCheckPlans(plans, book);
  if (problems.length > 0) throw new KnowledgeError(problems);
  return plans;
}

function readPlanBook(root: KnowledgeFiles): PlanBook {
  const reader = openReader(root);
  const plans = readOne(reader, 'plans.yaml', planBookSchema);
  if (plans === undefined) throw new KnowledgeError(reader.problems);
  return plans;
}
