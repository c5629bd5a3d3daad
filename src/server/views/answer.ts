import { say } from '../../language/say.js';
import { sayProbability } from '../../rules/diagnosis/decibans.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import { joinWords } from '../../rules/words.js';
import type { AnswerView, CauseRow, NextView } from '../../templates/models.js';
import { type BenchState, writeQuery } from '../bench-state.js';
import type { CaseForm } from '../case-form.js';
import { sayPercent } from '../words.js';
import { labelOf } from './bench.js';
import { type AnswerInBrief, type CauseInBrief, MOST_LISTED, MOST_SHOWN } from './brief-answer.js';
import { setupLabelOf } from './setup-labels.js';
import { sayUndecided } from './tried.js';

/** Below this probability a cause is not shown but folded away, and not listed at all below the next. */
const WORTH_SHOWING = 0.02;
const WORTH_LISTING = 0.01;
/** So many less likely causes are listed however unlikely they are. */
const LEAST_LISTED = 6;

/** Whether the case says anything that a cause could explain. */
export function asksSomething(form: CaseForm): boolean {
  const { observations, measurements, findings, partExchange } = form.case;
  return (
    Object.values(observations).some((level) => level !== 'absent') ||
    measurements.endBreaks !== undefined ||
    Object.keys(measurements.values).length > 0 ||
    Object.keys(findings).length > 0 ||
    Object.keys(partExchange).length > 0
  );
}

/**
 * The answer: what is probably wrong, and once it is worked out, what to look at and what to do.
 *
 * @param ranking undefined as long as the case asks nothing
 * @param next undefined as long as it is not worked out
 */
export function viewAnswer(
  state: BenchState,
  form: CaseForm,
  knowledge: Knowledge,
  ranking: AnswerInBrief | undefined,
  next?: NextView,
): AnswerView {
  const query = writeQuery(state);
  const shown = ranking?.causes ?? [];
  const first = shown
    .filter((cause, i) => i === 0 || cause.probability >= WORTH_SHOWING)
    .slice(0, MOST_SHOWN);
  const more = shown
    .slice(first.length)
    .filter((cause, i) => i < LEAST_LISTED || cause.probability >= WORTH_LISTING)
    .slice(0, MOST_LISTED);
  const top = first[0];
  return {
    asked: ranking !== undefined,
    summary: ranking?.summary ?? '',
    strip: top?.label ?? '',
    stripFigure: top === undefined ? '' : sayPercent(top.probability),
    leftOut: sayLeftOut(form, knowledge),
    causes: first.map((cause) => viewCauseRow(cause, query)),
    more: more.map((cause) => viewCauseRow(cause, query)),
    notes: ranking === undefined ? [] : sayNotes(ranking, sayUndecided(form.case, knowledge.book)),
    answered: viewAnswered(form, knowledge),
    later: state.later.flatMap((id) => {
      const check = knowledge.book.checks.get(id);
      return check === undefined ? [] : [{ id, label: check.label }];
    }),
    warnings: [
      ...new Set(
        [...form.case.warnings, ...(ranking?.warnings ?? [])]
          // Said in the notes, with the names of the actions.
          .filter((one) => !one.field.startsWith('tried.'))
          .map((one) => one.message),
      ),
    ].filter((text) => text !== say('case-file.no-symptom')),
    assumed: ranking?.assumed.map(({ label, value, why }) => ({ label, value, why })) ?? [],
    caseHref: `/case.yaml${query}`,
    openHref: state.caseId === undefined ? `/cases/new${query}` : `/cases/${state.caseId}/keep${query}`,
    openText:
      state.caseId === undefined
        ? say('answer.open-case')
        : say('answer.keep-with', { number: state.caseId.replace('case-', '') }),
    replayHref: ranking === undefined ? '' : `/training/replay${query}`,
    sensitivityHref: ranking === undefined ? '' : `/sensitivity${query}`,
    next,
    nextHref: `/bench/next${query}`,
  };
}

function viewCauseRow(cause: CauseInBrief, query: string): CauseRow {
  return {
    href: `/cause/${cause.id}${query}`,
    label: cause.label,
    family: cause.familyLabel,
    probability: cause.probability,
    percent: sayPercent(cause.probability),
    words: sayProbability(cause.probability),
    reason: cause.reason,
  };
}

function sayNotes(ranking: AnswerInBrief, undecided: string | undefined): string[] {
  const notes: string[] = [];
  if (ranking.severalCauses >= 0.2)
    notes.push(say('answer.several', { percent: sayPercent(ranking.severalCauses) }));
  for (const sign of ranking.unexplained)
    notes.push(say('answer.unexplained', { sign: sign.label, percent: sayPercent(sign.probability) }));
  if (undecided !== undefined) notes.push(undecided);
  return notes;
}

/** Parts of the case that could not be read and are therefore not in the answer: a setting, a measurement, a sign. */
export function sayLeftOut(form: CaseForm, knowledge: Knowledge): string[] {
  const parts = form.problems.map(({ name }) =>
    name.startsWith('measurements.') ? name.split('.').slice(0, 2).join('.') : name,
  );
  return [...new Set(parts)].map((name) => setupLabelOf(name) ?? labelOf(name, knowledge));
}

function viewAnswered(form: CaseForm, knowledge: Knowledge): AnswerView['answered'] {
  return Object.entries(form.case.findings).map(([id, outcomes]) => {
    const check = knowledge.book.checks.get(id);
    const name = `findings.${id}`;
    return {
      name,
      ask: check?.ask ?? id,
      outcome: joinWords(outcomes.map((outcome) => check?.outcomes[outcome]?.label ?? outcome)),
      hidden: outcomes.map((value) => ({ name, value })),
    };
  });
}
