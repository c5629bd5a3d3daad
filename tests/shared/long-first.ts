import { statSync } from 'node:fs';
import { relative } from 'node:path';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/**
 * Files that take longest, the longest first (seconds on two cores, as measured): what begins late must be short, or one
 * worker works alone at the end. A file that is not named here counts by its size.
 */
export const LONGEST: Readonly<Record<string, number>> = {
  'fuzz/routes.test.ts': 35,
  'browser/journal.test.ts': 35,
  'browser/accessibility.test.ts': 25,
  'knowledge/vignettes.test.ts': 24,
  'knowledge/examples.test.ts': 23,
  'browser/courses.test.ts': 22,
  'statistics/analysis/analyse-counts.test.ts': 20,
  'fuzz/parsers.test.ts': 20,
  'server/knowledge-pages.test.ts': 20,
  'rules/training/policy.test.ts': 18,
  'statistics/tables/read-table.test.ts': 17,
  'browser/journeys.test.ts': 17,
  'journal/kill.test.ts': 16,
  'faults/knowledge-trial-killed.test.ts': 16,
  'faults/stop.test.ts': 16,
  'journal/upkeep.test.ts': 15,
  'browser/training.test.ts': 15,
  'browser/counts.test.ts': 15,
  'rules/diagnosis/diagnose.test.ts': 14,
  'server/journal/pages-postgresql.test.ts': 14,
  'browser/planning.test.ts': 14,
  'browser/languages.test.ts': 14,
  'browser/requests.test.ts': 13,
  'server/journal/pages.test.ts': 13,
  'server/journal/knowledge-gate.test.ts': 12,
  'cli/bin.test.ts': 12,
  'server/planning-pages.test.ts': 12,
  'server/live-app.test.ts': 12,
  'browser/accounts.test.ts': 12,
  'cli/knowledge-commands.test.ts': 10,
  'rules/plans/make-plans.test.ts': 10,
  'fuzz/exports.test.ts': 10,
  'rules/training/deal.test.ts': 9,
  'journal/accounts.test.ts': 9,
  'rules/training/marking.test.ts': 9,
  'rules/workshop/condition-logic.test.ts': 9,
  'server/counts-pages.test.ts': 8,
  'server/engine-pool.test.ts': 8,
  'browser/knowledge.test.ts': 8,
  'rules/case/case-file.test.ts': 7,
  'server/journal/courses.test.ts': 7,
  'cli/practice-commands.test.ts': 7,
  'server/journal/api.test.ts': 6,
  'server/access/access.test.ts': 6,
  'rules/workshop/lint-knowledge.test.ts': 6,
  'server/templates.test.ts': 6,
  'server/training-pages.test.ts': 6,
  'rules/plans/search.test.ts': 6,
  'journal/demo.test.ts': 6,
  'journal/clients.test.ts': 6,
};
/** Bytes of a test file that take about a second. */
const BYTES_A_SECOND = 10_000;

/** The longest files first. Those of a project that isolates them come before the others, as the pool wants it. */
export default class LongFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const weight = (file: TestSpecification): number =>
      LONGEST[relative(`${file.project.config.root}/tests`, file.moduleId)] ??
      statSync(file.moduleId).size / BYTES_A_SECOND;
    const alone = (file: TestSpecification): number => (file.project.config.isolate ? 1 : 0);
    return [...files].sort((a, b) => alone(b) - alone(a) || weight(b) - weight(a));
  }
}
