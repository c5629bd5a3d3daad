import { say } from '../../../language/say.js';
import type { CaseInput } from '../../../rules/case/types.js';
import type { HiddenField } from '../../../templates/models.js';
import type { PlanFrame } from '../../../templates/plan-models.js';
import { type BenchState, writeQuery } from '../../bench-state.js';
import type { CaseForm } from '../../case-form.js';
import { PLAN_STYLES } from '../../plans/plan-assets.js';
import { type PlanQuery, planParams, withParams } from '../../plans/plan-query.js';
import { describeSetup } from '../setup-line.js';

/** The pages on plans and where they lead, in their order. */
const PAGES = [
  ['/plan', 'what-if.plan'],
  ['/what-if', 'bench.what-if'],
  ['/compare', 'setup.side-by-side'],
  ['/drawing', 'bench.drawing'],
  ['/card', 'setup.card'],
] as const;

/** What stands at the top of each of these pages. */
export function viewFrame(
  heading: string,
  path: string,
  state: BenchState,
  form: CaseForm,
  query: PlanQuery | undefined,
): PlanFrame {
  const caseQuery = writeQuery(state);
  const more = query === undefined ? [] : planParams(query);
  return {
    styles: PLAN_STYLES,
    heading,
    setupLine: describeSetup(form.case.given),
    links: [
      { href: `/bench${caseQuery}`, text: say('setup.back') },
      ...PAGES.filter(([href]) => href !== path).map(([href, text]) => ({
        href: withParams(href, caseQuery, more),
        text: say(text),
      })),
    ],
    leftOut: form.problems.map((problem) => `${problem.field}: ${problem.message}`),
  };
}

/** The case as hidden fields, so that a form keeps it. */
export function caseFields(state: BenchState): HiddenField[] {
  return [...new URLSearchParams(writeQuery(state))].map(([name, value]) => ({ name, value }));
}

/** The plan's query as hidden fields. */
export const queryFields = (query: PlanQuery): HiddenField[] =>
  planParams(query).map(([name, value]) => ({ name, value }));

/** A heading for the case: its frame, its title, or the page's own. */
export function headingOf(text: string, state: BenchState, input: CaseInput): string {
  if (state.frame !== undefined) return `${text}: ${state.frame.name}`;
  return input.title === undefined ? text : `${text}: ${input.title}`;
}
