import { say } from '../../../language/say.js';
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
    frame: viewFrame(say('card.heading'), '/card', state, form, query),
    title: card.title,
    yarn: card.yarn,
    note: assumed === 0 ? '' : say('card.assumed', { n: assumed }),
    rows: card.rows.map((row) => ({ ...row, was: row.was ?? '' })),
    cautions: card.cautions.map((caution) => caution.text),
    otherHref: withParams('/card', writeQuery(state), other),
    otherText: planned ? say('card.as-is') : say('card.of-plan'),
    version,
  };
}
