import type { SetupCard } from '../../../rules/plans/card.js';
import type { CardPage } from '../../../templates/plan-models.js';
import { type BenchState, writeQuery } from '../../bench-state.js';
import type { CaseForm } from '../../case-form.js';
import { type PlanQuery, planParams, withParams } from '../../plans/plan-query.js';
import { viewFrame } from './frame.js';

/** The setup card: one page to print. */
export function viewCard(
  card: SetupCard,
  planned: boolean,
  version: string,
  state: BenchState,
  form: CaseForm,
  query: PlanQuery,
): CardPage {
  const other: [string, string][] = [
    ...planParams(query),
    ...(planned ? [] : [['planned', '1'] as [string, string]]),
  ];
  const assumed = card.rows.filter((row) => row.assumed).length;
  return {
    frame: viewFrame('Setup card', '/card', state, form, query),
    title: card.title,
    yarn: card.yarn,
    note:
      assumed === 0
        ? ''
        : `${assumed} ${assumed === 1 ? 'value was' : 'values were'} not given and ${assumed === 1 ? 'is' : 'are'} what is usual (marked “usual”): look at the frame before the card hangs there.`,
    rows: card.rows.map((row) => ({ ...row, was: row.was ?? '' })),
    cautions: card.cautions.map((caution) => caution.text),
    otherHref: withParams('/card', writeQuery(state), other),
    otherText: planned ? 'The card of the setup as it is' : 'The card of the recommended plan',
    version,
  };
}
