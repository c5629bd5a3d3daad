import { say, wordTable } from '../../../language/say.js';
import type { Mill } from '../../../rules/knowledge/load-mill.js';
import { type CountAnalysis, EXPORTS, type ExportName } from '../../../statistics/analysis/index.js';
import { COLUMN_ROLES, ROLE_WORDS } from '../../../statistics/tables/index.js';
import type { CountsAnswerPage } from '../../../templates/counts-models.js';
import type { HiddenField } from '../../../templates/models.js';
import type { TableQuery } from '../../counts/table-query.js';
import type { KeptTable } from '../../counts/table-store.js';
import { drawAnalysis } from '../../pictures/counts/pictures-of-analysis.js';
import { viewDiagnose, viewFigures, viewPicture, viewTabs } from './shared.js';

const EXPORT_WORDS: Readonly<Record<ExportName, string>> = wordTable('count-export', EXPORTS);
const MOST_REASONS = 20;

/** The answer: four short paragraphs, the way to the bench, pictures, and every figure behind them. */
export function viewCountsAnswer(
  table: KeptTable,
  query: TableQuery,
  params: URLSearchParams,
  analysis: CountAnalysis,
  mill: Mill,
): CountsAnswerPage {
  const { answer } = analysis;
  const part = (id: string, title: string, sentences: CountAnalysis['answer']['where']) => ({
    id,
    title,
    sentences: sentences.map((one) => one.text),
  });
  const address = `/counts/table/${table.id}`;
  const text = params.toString();
  const suffix = text === '' ? '' : `?${text}`;
  const read = COLUMN_ROLES.flatMap((role) => {
    const index = query.mapping.columns[role];
    return index === undefined
      ? []
      : [say('counts.from-column', { role: ROLE_WORDS[role], header: query.mapping.headers[index] ?? '' })];
  });
  return {
    tabs: viewTabs('/counts'),
    verdict: analysis.verdict,
    name: table.name,
    parts: [
      part('real', say('counts.real-or-chance'), answer.realOrChance),
      part('where', say('counts.where'), answer.where),
      part('since', say('counts.since'), answer.sinceWhen),
      part('next', say('counts.next'), answer.next),
    ],
    diagnose: viewDiagnose(analysis.implies, mill),
    pictures: drawAnalysis(analysis, query.options.normPer1000).map((one) => viewPicture(one)),
    reasons: viewReasons(analysis, query, params, address),
    figures: viewFigures(analysis.figures),
    taken: [say('counts.read', { columns: read.join(', ') }), ...analysis.assumed, ...analysis.notes],
    downloads: EXPORTS.filter((name) => hasRows(analysis, name)).map((name) => ({
      href: `${address}/${name}.csv${suffix}`,
      text: EXPORT_WORDS[name],
    })),
    backHref: `${address}${suffix}`,
  };
}

function hasRows(analysis: CountAnalysis, name: ExportName): boolean {
  switch (name) {
    case 'positions':
      return analysis.places.length > 0;
    case 'sections':
      return analysis.places.some((place) => place.sections.length > 0);
    case 'frames':
      return analysis.frames.length > 0;
    case 'periods':
      return analysis.time !== undefined || analysis.timeOfFlagged !== undefined;
    case 'day':
      return analysis.day !== undefined;
    case 'reasons':
      return analysis.reasons.length > 0;
    case 'figures':
      return true;
  }
}

/** Reasons can be left out, as a doff is no break. */
function viewReasons(
  analysis: CountAnalysis,
  query: TableQuery,
  params: URLSearchParams,
  address: string,
): CountsAnswerPage['reasons'] {
  const { reasons } = analysis;
  if (reasons.length + query.without.length < 2) return undefined;
  const hidden: HiddenField[] = [...params]
    .filter(([name]) => name !== 'without')
    .map(([name, value]) => ({ name, value }));
  const shown = [
    ...reasons
      .slice(0, MOST_REASONS)
      .map((one) => ({ value: one.reason, count: `${one.count}`, out: false })),
    ...query.without.map((value) => ({ value, count: say('counts.left-out'), out: true })),
  ];
  return {
    action: `${address}/answer`,
    hidden,
    options: shown.map((one, i) => ({
      id: `f-without-${i}`,
      name: 'without',
      value: one.value,
      label: one.value,
      count: one.count,
      chosen: one.out,
    })),
  };
}
