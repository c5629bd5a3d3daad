import { ACTION_RESULTS } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { PARTS } from '../../../rules/knowledge/vocabulary.js';
import {
  PART_RESULT_WORDS,
  PART_WORDS,
  STOP_WORDS,
  sentenceCase,
  TRIAL_RESULT_WORDS,
} from '../../../rules/words.js';
import { sayMinutes, WHO_WORDS } from '../../words.js';
import {
  cautionsOf,
  fact,
  minutes,
  note,
  type Old,
  plain,
  readChoice,
  type StepContext,
  type StepForm,
} from './case-step-form.js';

/** A check that was made: how it is made, what was seen. */
export function checkForm({ knowledge, subject, record, old: given }: StepContext): StepForm {
  const old = (given ?? {}) as Old;
  const id = plain(old.check ?? subject);
  const check = knowledge.book.checks.get(id);
  const seen = (old.outcomes ?? []) as string[];
  const exchange = id === 'part-exchange';
  const [part = '', result = ''] = (seen[0] ?? '').split('.');
  return {
    heading: check?.label ?? say('record.own-check'),
    submit: say('record.record-check'),
    lead: check?.ask ?? '',
    cautions: cautionsOf(knowledge, check?.cautions),
    how: check?.how ?? [],
    facts:
      check === undefined
        ? []
        : [
            fact(say('record.time'), sayMinutes(check.minutes)),
            fact(say('record.who'), sentenceCase(WHO_WORDS[check.who] ?? check.who)),
            fact(say('record.stops'), sentenceCase(STOP_WORDS[check.stops])),
          ],
    fields: (make) => [
      make.hidden('check', id),
      ...(exchange
        ? [
            make.select(
              'part',
              say('record.which-part'),
              PARTS.map((one) => [one, sentenceCase(PART_WORDS[one])] as const),
              {
                chosen: [part],
              },
            ),
            make.radios(
              'result',
              say('record.what-happened'),
              Object.entries(PART_RESULT_WORDS).map(([value, text]) => [value, sentenceCase(text)] as const),
              { chosen: [result] },
            ),
          ]
        : [
            make.checkboxes(
              'outcomes',
              say('record.what-seen'),
              Object.entries(check?.outcomes ?? {}).map(([value, { label }]) => [value, label] as const),
              { chosen: seen, hint: say('record.seen-hint') },
            ),
          ]),
      minutes(make, old.minutes),
      note(make, old.note),
      make.moment('at', say('record.when'), { hint: say('record.empty-now') }),
    ],
    read: (reader) => ({
      step: 'check-made',
      check: reader.text('check') || record.checks[0] || '',
      outcomes: exchange
        ? [
            `${reader.text('part')}.${readChoice(reader, 'result', say('record.what-happened'), Object.keys(PART_RESULT_WORDS))}`,
          ]
        : reader.all('outcomes'),
      minutes: reader.amount('minutes', say('record.work-time')),
      note: reader.text('note'),
    }),
  };
}

/** An action that was taken: its steps, what was changed. */
export function actionForm({ knowledge, subject, old: given }: StepContext): StepForm {
  const old = (given ?? {}) as Old;
  const id = plain(old.action ?? subject);
  const action = knowledge.book.actions.get(id);
  return {
    heading: action?.label ?? say('record.an-action'),
    submit: say('record.record-action'),
    lead: action === undefined ? '' : say('record.worked-when', { proof: action.proof }),
    cautions: cautionsOf(knowledge, action?.cautions),
    how: action?.steps ?? [],
    facts:
      action === undefined
        ? []
        : [
            fact(say('record.who'), sentenceCase(WHO_WORDS[action.who] ?? action.who)),
            fact(say('record.going-back'), action['go-back']),
          ],
    fields: (make) => [
      make.hidden('action', id),
      make.area('done', say('record.what-changed'), {
        value: ((old.done ?? []) as string[]).join('\n'),
        hint: say('record.changed-hint'),
      }),
      make.radios('result', say('record.what-came'), resultWords(), {
        chosen: [plain(old.result)],
        hint: say('record.came-hint'),
      }),
      minutes(make, old.minutes),
      note(make, old.note),
      make.moment('at', say('record.when'), { hint: say('record.empty-now') }),
    ],
    read: (reader) => ({
      step: 'action-taken',
      action: reader.text('action'),
      done: reader
        .text('done')
        .split('\n')
        .map((line) => line.trim())
        .filter((line) => line !== ''),
      result: ACTION_RESULTS.find((one) => one === reader.text('result')),
      setup: (old.setup as string | null | undefined) ?? null,
      minutes: reader.amount('minutes', say('record.work-time')),
      note: reader.text('note'),
    }),
  };
}

/** What can have come of an action; not known is the standing choice. */
const resultWords = (): (readonly [string, string])[] => [
  ['', sentenceCase(TRIAL_RESULT_WORDS.undecided)],
  ...ACTION_RESULTS.map((one) => [one, sentenceCase(TRIAL_RESULT_WORDS[one])] as const),
];
