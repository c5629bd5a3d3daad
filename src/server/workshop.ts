import { language } from '../language/scope.js';
import type { CaseInput } from '../rules/case/types.js';
import type { Knowledge } from '../rules/knowledge/knowledge.js';
import { localise } from '../rules/knowledge/localise.js';
import type { PlanBook } from '../rules/knowledge/plan-schema.js';
import { makePlans, type PlanRequest } from '../rules/plans/make-plans.js';
import type { PlanReport } from '../rules/plans/types.js';
import type { Finding } from '../rules/workshop/finding.js';
import { lintKnowledge } from '../rules/workshop/lint-knowledge.js';
import { findSensitivities, type SensitivityReport } from '../rules/workshop/sensitivity.js';
import { judgeTable, type TableJudgement, type TableQuestion } from './counts/judge-table.js';

/** What a keeper of the knowledge asks beside the cases themselves. */
export interface Workshop {
  /**
   * Which numbers of the knowledge an answer hangs on.
   * @param also ids of causes looked at besides the leading three
   */
  sensitivities(input: CaseInput, also?: readonly string[]): Promise<SensitivityReport>;
  /** What is to be said of the files as they are now; they need not be the ones in use. */
  lint(): Promise<readonly Finding[]>;
  /** Which settings to change together. */
  plan(input: CaseInput, request: PlanRequest): Promise<PlanReport>;
  /** What a table of breaks says. */
  judgeTable(question: TableQuestion): Promise<TableJudgement>;
}

/**
 * A workshop that works on this thread.
 * @param knowledgeRoot folder of the files that `lint` looks at
 * @param plans numbers and steps of plans; those supplied when left out
 */
export function openWorkshop(knowledge: Knowledge, knowledgeRoot: string, plans?: PlanBook): Workshop {
  return {
    sensitivities: (input, also = []) => findSensitivities(localise(knowledge, language()), input, { also }),
    lint: async () => lintKnowledge(knowledgeRoot),
    plan: async (input, request) =>
      makePlans(
        localise(knowledge, language()),
        input,
        plans === undefined ? request : { ...request, plans },
      ),
    judgeTable,
  };
}
