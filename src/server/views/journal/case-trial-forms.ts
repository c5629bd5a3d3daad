import { TRIAL_VERDICTS } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { sentenceCase } from '../../../rules/words.js';
import {
  bare,
  cautionsOf,
  note,
  type Old,
  plain,
  readChoice,
  type StepContext,
  type StepForm,
} from './case-step-form.js';
import type { FormReader } from './form.js';
import { actionName, VERDICT_WORDS } from './words.js';

/** A trial that begins: what is tried, where and how long. What was done last is proposed, with its cautions. */
export function trialStartForm({ old: given, record, knowledge }: StepContext): StepForm {
  const old = (given ?? {}) as Old;
  const taken = record.steps.flatMap(({ data }) => (data.step === 'action-taken' ? [data] : []));
  const last = taken.at(-1);
  const choices = [...new Set(taken.map((one) => one.action))];
  const action = last === undefined ? undefined : knowledge.book.actions.get(last.action);
  return {
    ...bare,
    cautions: cautionsOf(knowledge, action?.cautions),
    facts: [
      { term: say('record.how-many-hours'), text: say('record.work-hours-out'), href: '/counts/trial-plan' },
      {
        term: say('record.which-positions'),
        text: say('record.choose-positions'),
        href: '/counts/trial-positions',
      },
    ],
    heading: say('record.begin-trial-heading'),
    submit: say('record.begin-trial'),
    lead: say('record.trial-lead'),
    fields: (make) => [
      make.line('what', say('record.what-tried'), {
        value: plain(old.what ?? last?.done[0] ?? action?.label),
        hint: say('record.tried-hint'),
      }),
      ...(choices.length < 2
        ? []
        : [
            make.checkboxes(
              'actions',
              say('record.which-actions'),
              choices.map((id) => [id, actionName(knowledge, id)] as const),
              {
                chosen: (old.actions as string[] | undefined) ?? [last?.action ?? ''],
                hint: say('record.actions-hint'),
              },
            ),
          ]),
      make.text('positions', say('record.positions-changed'), {
        value: ((old.positions ?? []) as number[]).join(', '),
        hint: say('record.positions-hint'),
      }),
      make.number('plannedRotorHours', say('record.planned'), {
        unit: say('record.rotor-hours'),
        value: plain(old.plannedRotorHours),
      }),
      note(make, old.note),
    ],
    read: (reader) => ({
      step: 'trial-started',
      what: reader.needed('what', say('record.what-tried')),
      actions: choices.length < 2 ? choices : reader.all('actions'),
      positions: readPositions(reader, 'positions'),
      plannedRotorHours: reader.amount('plannedRotorHours', say('record.planned')),
      note: reader.text('note'),
    }),
  };
}

/** The result of a trial, with the counts of both sides. */
export function trialResultForm({ old: given }: StepContext): StepForm {
  const old = (given ?? {}) as Old;
  const counts = (old.counts ?? {}) as Record<string, { count: number; rotorHours: number }>;
  return {
    ...bare,
    heading: say('record.finish-trial'),
    submit: say('record.record-result'),
    lead: say('record.finish-lead'),
    fields: (make) => [
      make.radios(
        'verdict',
        say('record.how-go'),
        TRIAL_VERDICTS.map((one) => [one, sentenceCase(VERDICT_WORDS[one])] as const),
        { chosen: [plain(old.verdict)] },
      ),
      make.number('without.count', say('record.without-breaks'), { value: plain(counts.without?.count) }),
      make.number('without.hours', say('record.without'), {
        unit: say('record.rotor-hours'),
        value: plain(counts.without?.rotorHours),
      }),
      make.number('with.count', say('record.with-breaks'), { value: plain(counts.with?.count) }),
      make.number('with.hours', say('record.with'), {
        unit: say('record.rotor-hours'),
        value: plain(counts.with?.rotorHours),
      }),
      note(make, old.note),
    ],
    read: (reader) => {
      const counted = {
        without: {
          count: reader.whole('without.count', say('record.without-breaks')),
          rotorHours: reader.amount('without.hours', say('record.without')),
        },
        with: {
          count: reader.whole('with.count', say('record.with-breaks')),
          rotorHours: reader.amount('with.hours', say('record.with')),
        },
      };
      const all = [counted.without, counted.with].flatMap(({ count, rotorHours }) => [count, rotorHours]);
      const some = all.some((one) => one !== null);
      if (some && all.some((one) => one === null) && reader.problems.length === 0)
        reader.problems.push({
          name: 'without.count',
          message: say('record.counts-both'),
          allowed: '',
        });
      if (
        some &&
        all.every((one) => one !== null) &&
        (counted.without.rotorHours === 0 || counted.with.rotorHours === 0)
      )
        reader.problems.push({
          name: 'without.hours',
          message: say('record.hours-above-0'),
          allowed: '',
        });
      return {
        step: 'trial-finished',
        verdict: readChoice(reader, 'verdict', say('record.how-go'), TRIAL_VERDICTS),
        counts: some
          ? (counted as {
              without: { count: number; rotorHours: number };
              with: { count: number; rotorHours: number };
            })
          : null,
        note: reader.text('note'),
      };
    },
  };
}

const MOST_POSITIONS = 2000;

/** "3, 12-19" as numbers. */
function readPositions(reader: FormReader, name: string): number[] {
  const text = reader.text(name);
  if (text === '') return [];
  const numbers = new Set<number>();
  for (const part of text.split(/[,;\s]+/).filter((one) => one !== '')) {
    const match = /^(\d{1,4})(?:[-–](\d{1,4}))?$/.exec(part);
    const from = Number(match?.[1] ?? Number.NaN);
    const until = Number(match?.[2] ?? from);
    if (!(from >= 1 && until >= from && until - from < MOST_POSITIONS)) {
      reader.problems.push({
        name,
        message: say('record.positions-wrong', { text: part.slice(0, 20) }),
        allowed: say('record.positions-example'),
      });
      return [];
    }
    for (let n = from; n <= until; n++) numbers.add(n);
  }
  return [...numbers].sort((a, b) => a - b);
}
