import type { CheckResult } from '../../rules/index.js';
import { STOP_WORDS } from '../../rules/words.js';
import { minutes, percent } from '../layout/figures.js';
import type { Page } from '../layout/page.js';
import { cautionNames } from './cautions.js';

/** Answers rarer than this are not listed. */
const RAREST = 0.02;

/**
 * One check: what to ask, what it takes, what it saves and where its answers lead.
 * @param how whether to list its steps
 */
export function writeCheck(page: Page, check: CheckResult, lead: string, how: boolean): void {
  page.strong(check.label, lead);
  page.text(check.ask, '    ');
  const waiting = check.waitingMinutes > 0 ? ` and ${minutes(check.waitingMinutes)} of waiting` : '';
  const saves =
    check.saves < 0.5 ? 'hardly shortens the search' : `saves about ${minutes(check.saves)} of search`;
  page.text(
    `Takes ${minutes(check.minutes)}${waiting}; ${STOP_WORDS[check.stops]}; by: ${check.who}; ${saves}.`,
    '    ',
  );
  if (check.cautions.length > 0) page.text(`Take care: ${cautionNames(check.cautions)}.`, '    ');
  if (how) page.steps(check.how, '    ');
  for (const outcome of check.outcomes) {
    if (outcome.probability < RAREST) continue;
    const [first] = outcome.leads;
    const leads = first === undefined ? '' : ` → ${first.label} ${percent(first.probability)}`;
    page.text(`${outcome.label} (${percent(outcome.probability)})${leads}`, {
      first: '    · ',
      rest: '      ',
    });
  }
}
