import type { KnowledgeProblem } from '../knowledge/errors.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { PlanBook } from '../knowledge/plan-schema.js';

/** Problems between `plans.yaml` and the rule book: actions or symptoms that do not exist. */
export function crossCheckPlans(plans: PlanBook, book: RuleBook): KnowledgeProblem[] {
  const actions = Object.entries(plans.steps).flatMap(([setting, ways]) =>
    Object.entries(ways)
      .filter(([, step]) => !book.actions.has(step.do))
      .map(([way, step]) => ({
        file: 'plans.yaml',
        line: undefined,
        field: `steps.${setting}.${way}.do`,
        message: `there is no action "${step.do}"`,
      })),
  );
  const symptoms = Object.entries(plans.complaints).flatMap(([quality, ids]) =>
    ids
      .filter((id) => !book.symptoms.has(id))
      .map((id) => ({
        file: 'plans.yaml',
        line: undefined,
        field: `complaints.${quality}`,
        message: `there is no symptom "${id}"`,
      })),
  );
  return [...actions, ...symptoms];
}
