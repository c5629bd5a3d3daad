import { say } from '../../language/say.js';
import { compareTexts } from '../../language/words.js';
import { actionsOfKey, NOT_CHOSEN } from '../../rules/case/read-tried.js';
import type { CaseInput } from '../../rules/case/types.js';
import { sayActions } from '../../rules/diagnosis/say-tried.js';
import type { RuleBook } from '../../rules/knowledge/knowledge-base.js';
import type { TrialResult } from '../../rules/knowledge/vocabulary.js';
import { joinWords, sentenceCase, TRIAL_RESULT_WORDS } from '../../rules/words.js';
import type { TriedRowView } from '../../templates/models.js';
import type { BenchState } from '../bench-state.js';
import type { FieldProblem } from '../case-form.js';
import { viewOptions } from './choices.js';
import { controlId, errorText } from './errors.js';

const FIELD = /^tried\.(.*)$/s;
/** Empty rows below those that are filled. */
const EMPTY_ROWS = 2;
/** Not known yet stands first, so that an action alone says what it must. */
const RESULTS: readonly TrialResult[] = ['undecided', 'helped', 'no-change'];

/** What was tried already, a row for each, and some empty ones. */
export function viewTried(
  state: BenchState,
  problems: readonly FieldProblem[],
  book: RuleBook,
): TriedRowView[] {
  const filled = [...state.fields].flatMap(([name, results]) => {
    const key = FIELD.exec(name)?.[1];
    return key === undefined ? [] : results.map((result) => ({ key, result }));
  });
  const rows = [...filled, ...Array.from({ length: EMPTY_ROWS }, () => undefined)];
  const actions = [...book.actions.values()]
    .map(({ id, label }): [string, string] => [id, label])
    .sort(([, a], [, b]) => compareTexts(a, b));
  const results = RESULTS.map((one): [string, string] => [one, sentenceCase(TRIAL_RESULT_WORDS[one])]);
  return rows.map((row, n): TriedRowView => {
    const key = row === undefined || row.key === NOT_CHOSEN ? '' : row.key;
    const own = key !== '' && !book.actions.has(key) ? [[key, sayKey(key, book)] as const] : [];
    const field = row === undefined ? `tried.${n + 1}` : `tried.${row.key}`;
    return {
      id: controlId(field),
      name: `tried.${n + 1}`,
      legend: say('bench.tried-n', { n: n + 1 }),
      error: row === undefined ? '' : errorText(problems, field),
      actions: viewOptions(field, [['', say('bench.nothing-chosen')], ...own, ...actions], [key]),
      results: viewOptions(`${field}.result`, results, [row?.result ?? 'undecided']),
    };
  });
}

/** What was tried, in the line that stands above the closed group; empty when nothing was. */
export const sayTriedCount = (input: CaseInput): string =>
  say('bench.tried-count', { n: input.tried?.length ?? 0 });

/** What was tried without a result yet, in words; undefined where there is none. */
export function sayUndecided(input: CaseInput, book: RuleBook): string | undefined {
  const open = (input.tried ?? []).filter(({ result }) => result === 'undecided');
  return open.length === 0
    ? undefined
    : say('answer.tried-undecided', {
        what: joinWords(open.map(({ actions }) => sayActions(actions, book))),
      });
}

/** The label of what was tried; an action that is not known stands for itself. */
export const sayKey = (key: string, book: RuleBook): string =>
  sentenceCase(sayActions(actionsOfKey(key), book));
