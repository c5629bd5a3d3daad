import type { CaseStep, CountedStep, Entry } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import { inSentence, joinWords, sentenceCase, TRIAL_RESULT_WORDS } from '../../../rules/words.js';
import type { StepView } from '../../../templates/journal-models.js';
import { sayMinutes, sayNumber, sayPercent } from '../../words.js';
import { sayMoment } from './moments.js';
import { sayTrial } from './trial.js';
import { actionName, causeName, checkName, HOW_WORDS, outcomeName, sayCost, VERDICT_WORDS } from './words.js';

/** A step of a case as a title and lines below it. */
export function describeStep(
  data: CaseStep,
  knowledge: Knowledge,
): { readonly title: string; readonly lines: readonly string[] } {
  const lines: string[] = [];
  const note = 'note' in data && data.step !== 'noted' && data.note !== '' ? [data.note] : [];
  const minutes =
    'minutes' in data && data.minutes !== null
      ? [say('record.took', { time: sayMinutes(data.minutes) })]
      : [];
  switch (data.step) {
    case 'opened':
      return { title: say('record.opened', { title: data.title }), lines: note };
    case 'diagnosed':
      return {
        title: say('record.diagnosis-kept'),
        lines:
          data.first === null
            ? []
            : [
                say('record.first-cause', {
                  cause: causeName(knowledge, data.first.cause),
                  percent: sayPercent(data.first.probability),
                }),
              ],
      };
    case 'check-made':
      lines.push(
        data.outcomes.length === 0
          ? say('record.nothing-seen')
          : `${sentenceCase(joinWords(data.outcomes.map((one) => outcomeName(knowledge, data.check, one))))}.`,
      );
      return {
        title: say('record.check', { check: checkName(knowledge, data.check) }),
        lines: [...lines, ...minutes, ...note],
      };
    case 'action-taken':
      return {
        title: say('record.action', { action: actionName(knowledge, data.action) }),
        lines: [
          ...(data.done.length > 0 ? [`${data.done.join('; ')}.`] : []),
          ...(data.result === undefined ? [] : [`${sentenceCase(TRIAL_RESULT_WORDS[data.result])}.`]),
          ...minutes,
          ...note,
        ],
      };
    case 'trial-started':
      if (data.actions !== undefined && data.actions.length > 0)
        lines.push(
          say('record.actions-tried', {
            actions: joinWords(data.actions.map((one) => inSentence(actionName(knowledge, one)))),
          }),
        );
      if (data.positions.length > 0)
        lines.push(say('record.positions-list', { list: data.positions.join(', ') }));
      if (data.plannedRotorHours !== null)
        lines.push(say('record.planned-for', { hours: sayNumber(data.plannedRotorHours) }));
      return { title: say('record.trial-begun', { what: data.what }), lines: [...lines, ...note] };
    case 'trial-finished':
      if (data.counts !== null) lines.push(...sayTrial(data.counts.without, data.counts.with));
      return {
        title: say('record.trial-finished', { verdict: VERDICT_WORDS[data.verdict] }),
        lines: [...lines, ...note],
      };
    case 'closed': {
      const cost = sayCost({
        minutes: data.cost.minutes ?? 0,
        rotorHours: data.cost.rotorHours ?? 0,
        wasteKg: data.cost.wasteKg ?? 0,
      });
      return {
        title:
          data.cause === null
            ? say('record.closed-none')
            : say('record.closed', { cause: causeName(knowledge, data.cause) }),
        lines: [
          ...(data.how === null ? [] : [`${sentenceCase(HOW_WORDS[data.how])}.`]),
          ...(data.contributing.length === 0
            ? []
            : [
                say('record.beside', {
                  causes: joinWords(data.contributing.map((one) => causeName(knowledge, one))),
                }),
              ]),
          ...(data.symptomGone === null
            ? []
            : [data.symptomGone ? say('record.gone') : say('record.still-there')]),
          ...(cost === '' ? [] : [say('record.cost', { cost })]),
          ...note,
        ],
      };
    }
    case 'reopened':
      return { title: say('record.reopened'), lines: [data.why] };
    case 'noted':
      return { title: say('record.note'), lines: [data.note] };
    case 'assigned':
      return {
        title: data.assignee === '' ? say('record.nobody') : say('record.charge', { name: data.assignee }),
        lines: [],
      };
    case 'renamed':
      return { title: say('record.renamed', { title: data.title }), lines: [] };
    case 'placed':
      return {
        title: say('record.place-stated'),
        lines: [
          [
            data.frame,
            data.position === null ? null : say('record.position-n', { n: data.position }),
            data.section,
            data.lot,
            data.yarn,
          ]
            .filter((one) => one !== null)
            .join(', '),
        ],
      };
    case 'cost-stated': {
      const cost = sayCost({
        minutes: data.cost.minutes ?? 0,
        rotorHours: data.cost.rotorHours ?? 0,
        wasteKg: data.cost.wasteKg ?? 0,
      });
      return { title: say('record.cost-stated'), lines: cost === '' ? [] : [`${sentenceCase(cost)}.`] };
    }
  }
}

/** An entry of a case's history in one sentence, for telling what somebody else did meanwhile. */
export function sayEntry(entry: Pick<Entry, 'step' | 'data' | 'who' | 'at'>, knowledge: Knowledge): string {
  const of = (data: unknown) => {
    const { title, lines } = describeStep(data as CaseStep, knowledge);
    return [title, ...lines].join(' – ');
  };
  const what =
    entry.step === 'withdrawn'
      ? say('record.withdrawn-because', {
          step: String((entry.data as { of: unknown }).of),
          why: String((entry.data as { why: unknown }).why),
        })
      : entry.step === 'corrected'
        ? say('record.corrected-what', {
            why: String((entry.data as { why: unknown }).why),
            what: of((entry.data as { replacement: unknown }).replacement),
          })
        : of(entry.data);
  return `${entry.who}, ${sayMoment(entry.at)}: ${what}`;
}

/** The steps of a case, newest first, with what was corrected and why; withdrawn ones are named too. */
export function viewHistory(
  id: string,
  steps: readonly CountedStep[],
  entries: readonly Entry[],
  knowledge: Knowledge,
): StepView[] {
  const byVersion = new Map(entries.map((entry) => [entry.version, entry]));
  const counted = new Set(steps.map((step) => step.version));
  const views = steps.map((step): StepView & { readonly order: number } => {
    const { title, lines } = describeStep(step.data, knowledge);
    return {
      order: step.version,
      id: `step-${step.version}`,
      when: sayMoment(step.at),
      who: step.who,
      title,
      lines,
      kind: step.data.step,
      href: step.data.step === 'diagnosed' ? `/cases/${id}/diagnoses/${step.data.diagnosis}` : '',
      correctHref: step.data.step === 'diagnosed' ? '' : `/cases/${id}/correct/${step.version}`,
      correctText: say('record.correct'),
      corrections: step.corrections.flatMap((version) => {
        const entry = byVersion.get(version);
        if (entry === undefined) return [];
        const { why } = entry.data as { readonly why: string };
        const before = byVersion.get(entry.supersedes ?? 0);
        const was =
          before === undefined
            ? ''
            : before.supersedes === null
              ? describeStep(before.data as CaseStep, knowledge)
              : describeStep((before.data as { replacement: CaseStep }).replacement, knowledge);
        const old =
          was === '' ? '' : ` ${say('record.before', { text: [was.title, ...was.lines].join(' – ') })}`;
        return [
          `${say('record.corrected-by', { who: entry.who, when: sayMoment(entry.recorded), why })}${old}`,
        ];
      }),
    };
  });
  const withdrawn = entries
    .filter((entry) => entry.step === 'withdrawn')
    .map((entry): StepView & { readonly order: number } => {
      const { of, why } = entry.data as { readonly of: string; readonly why: string };
      const old = byVersion.get(entry.supersedes ?? 0);
      const told =
        old === undefined || old.supersedes !== null
          ? of
          : describeStep(old.data as CaseStep, knowledge).title;
      return {
        order: entry.version,
        id: `step-${entry.version}`,
        when: sayMoment(entry.recorded),
        who: entry.who,
        title: say('record.withdrawn', { step: told }),
        lines: [why],
        kind: 'withdrawn',
        href: '',
        correctHref: '',
        correctText: '',
        corrections: [],
      };
    })
    .filter((view) => !counted.has(view.order));
  return [...views, ...withdrawn].sort((a, b) => b.order - a.order);
}
