import { language } from '../../language/scope.js';
import type { CaseInput } from '../../rules/case/types.js';
import { PLAN_SETTINGS } from '../../rules/knowledge/plan-schema.js';
import { isComplaint, type PlanRequest } from '../../rules/plans/make-plans.js';
import type { PlanReport } from '../../rules/plans/types.js';
import { needBook } from '../need-book.js';
import type { Site } from '../site.js';
import type { PlanQuery } from './plan-query.js';

const MOST_KEPT = 30;
const kept = new WeakMap<Site, Map<string, Promise<PlanReport>>>();

/**
 * The plan for a case, on another thread where there is one. The last answers are kept, since drawing, card and
 * what-if of the same case ask again.
 */
export async function planFor(site: Site, input: CaseInput, query: PlanQuery): Promise<PlanReport> {
  needBook(site, 'plans');
  const reports = kept.get(site) ?? new Map<string, Promise<PlanReport>>();
  kept.set(site, reports);
  const { limits, fixed, stock, positions } = query;
  const key = JSON.stringify([language(), input, limits, fixed, stock, positions]);
  const known = reports.get(key);
  if (known !== undefined) return known;
  const request: PlanRequest = {
    limits,
    move: PLAN_SETTINGS.filter((setting) => !fixed.includes(setting)),
    ...(stock === undefined ? {} : { stock }),
    ...(positions === undefined ? {} : { positions }),
    ...(isComplaint(input) ? { ranking: await site.diagnostician.rank(input) } : {}),
  };
  const report = site.workshop.plan(input, request);
  reports.set(key, report);
  report.catch(() => reports.delete(key));
  for (const oldest of reports.keys()) {
    if (reports.size <= MOST_KEPT) break;
    reports.delete(oldest);
  }
  return report;
}
