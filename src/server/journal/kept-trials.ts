import type { CaseDetail, TRIAL_VERDICTS } from '../../journal/index.js';
import { actionsOfKey, triedKey } from '../../rules/case/read-tried.js';
import type { TrialResult } from '../../rules/knowledge/vocabulary.js';

/** What a trial says of the actions that were tried. One that made it worse did not take the cause away either. */
const RESULT_OF: Readonly<Record<(typeof TRIAL_VERDICTS)[number], TrialResult>> = {
  better: 'helped',
  'no-change': 'no-change',
  worse: 'no-change',
  undecided: 'undecided',
};

/**
 * What the steps of a case say was tried, as `tried` of a case file. A trial goes before what was said of an action
 * when it was taken; an action of which nothing is known yet is undecided. Only steps since the case was last opened
 * count: what helped then did not last.
 */
export function triedOf(record: Pick<CaseDetail, 'steps'>): Record<string, TrialResult> {
  const tried = new Map<string, TrialResult>();
  let last: string | undefined;
  let running: readonly string[] = [];
  for (const { data } of record.steps) {
    if (data.step === 'reopened') {
      tried.clear();
      last = undefined;
      running = [];
    } else if (data.step === 'action-taken') {
      last = data.action;
      const before: TrialResult | undefined = tried.get(data.action);
      tried.set(data.action, data.result ?? before ?? 'undecided');
    } else if (data.step === 'trial-started') {
      running = data.actions ?? (last === undefined ? [] : [last]);
    } else if (data.step === 'trial-finished' && running.length > 0) {
      // Tried together they are judged together: nothing is left to say of each by itself.
      for (const action of running) if (tried.get(action) === 'undecided') tried.delete(action);
      tried.set(triedKey(running), RESULT_OF[data.verdict]);
      running = [];
    }
  }
  return Object.fromEntries(tried);
}

/** What was tried by the kept case and by its steps: these go before, but what they leave undecided may be known. */
export function mergeTried(kept: unknown, record: Pick<CaseDetail, 'steps'>): Record<string, unknown> {
  const recorded = Object.entries(triedOf(record));
  const steps = new Set(recorded.flatMap(([key]) => actionsOfKey(key)));
  // What was not known yet when the case was kept is for the steps to say.
  const merged = new Map(
    [...flatTried(kept)].filter(
      ([key, result]) => result !== 'undecided' || !actionsOfKey(key).some((action) => steps.has(action)),
    ),
  );
  for (const [key, result] of recorded)
    if (result !== 'undecided' || !merged.has(key)) merged.set(key, result);
  return Object.fromEntries(merged);
}

/** How many results of trials and actions the kept case did not know, or knew otherwise; undecided ones tell nothing. */
export function unweighedTrials(kept: unknown, record: Pick<CaseDetail, 'steps'>): number {
  const known = flatTried(kept);
  return Object.entries(triedOf(record)).filter(
    ([key, result]) => result !== 'undecided' && known.get(key) !== result,
  ).length;
}

/** `tried` of a kept case, however its keys were written. */
function flatTried(tried: unknown): Map<string, unknown> {
  if (typeof tried !== 'object' || tried === null) return new Map();
  return new Map(Object.entries(tried).map(([key, result]) => [triedKey(actionsOfKey(key)), result]));
}
