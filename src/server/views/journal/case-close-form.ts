import { CONFIRMATIONS } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { sentenceCase } from '../../../rules/words.js';
import type { FormField } from '../../../templates/journal-models.js';
import {
  bare,
  NOTHING,
  note,
  type Old,
  plain,
  readChoice,
  type StepContext,
  type StepForm,
} from './case-step-form.js';
import type { Fields, FormReader } from './form.js';
import { typedMoment } from './moments.js';
import { HOW_WORDS } from './words.js';

/** The close of a case: root cause, how it is known, what it cost. */
export function closeForm({ record, causes, old: given }: StepContext): StepForm {
  const old = (given ?? {}) as Old;
  const cost = (old.cost ?? record.cost) as Old;
  const suggested = given === undefined ? '' : plain(old.cause);
  const zero = (value: unknown) => (value === 0 ? '' : plain(value));
  return {
    ...bare,
    heading: say('record.close-case'),
    submit: say('record.close-case'),
    lead: say('record.close-lead'),
    fields: (make) => [
      make.select('cause', say('record.root-cause'), [['', say('record.not-found')], ...causes], {
        chosen: [suggested],
        hint: say('record.likeliest-first'),
      }),
      make.radios(
        'how',
        say('record.how-know'),
        CONFIRMATIONS.map((one) => [one, sentenceCase(HOW_WORDS[one])] as const),
        { chosen: [plain(old.how)], hint: say('record.how-hint') },
      ),
      make.select('contributing', say('record.cause-beside'), [NOTHING, ...causes], {
        chosen: ((old.contributing ?? []) as string[]).slice(0, 1),
      }),
      make.radios(
        'symptomGone',
        say('record.trouble-gone'),
        [
          ['yes', say('record.yes')],
          ['no', say('record.no')],
          ['', say('record.not-known')],
        ],
        { chosen: [old.symptomGone === true ? 'yes' : old.symptomGone === false ? 'no' : ''] },
      ),
      make.moment('foundAt', say('record.cause-since'), {
        value: old.foundAt === null || old.foundAt === undefined ? '' : typedMoment(plain(old.foundAt)),
        hint: say('record.cause-since-hint'),
      }),
      make.moment('fixedAt', say('record.well-since'), {
        value: old.fixedAt === null || old.fixedAt === undefined ? '' : typedMoment(plain(old.fixedAt)),
        hint: say('record.empty-now'),
      }),
      ...costFields(make, {
        minutes: zero(cost.minutes),
        rotorHours: zero(cost.rotorHours),
        wasteKg: zero(cost.wasteKg),
      }),
      note(make, old.note),
    ],
    read: (reader) => {
      const cause = reader.optional('cause');
      const gone = reader.text('symptomGone');
      return {
        step: 'closed',
        cause,
        contributing: reader.all('contributing'),
        how:
          cause === null ? null : (readChoice(reader, 'how', say('record.how-know'), CONFIRMATIONS) ?? null),
        symptomGone: gone === 'yes' ? true : gone === 'no' ? false : null,
        foundAt: reader.moment('foundAt', say('record.cause-since')) ?? null,
        fixedAt: reader.moment('fixedAt', say('record.well-since')) ?? null,
        cost: readCost(reader),
        note: reader.text('note'),
      };
    },
  };
}

/** What a case cost. */
export const costFields = (make: Fields, cost: Old): FormField[] => [
  make.number('cost.minutes', say('record.time-in-all'), { unit: 'min', value: plain(cost.minutes) }),
  make.number('cost.rotorHours', say('record.hours-not-run'), {
    unit: 'h',
    value: plain(cost.rotorHours),
    hint: say('record.hours-hint'),
  }),
  make.number('cost.wasteKg', say('record.waste'), { unit: 'kg', value: plain(cost.wasteKg) }),
];

/** What such controls hold. */
export const readCost = (reader: FormReader) => ({
  minutes: reader.amount('cost.minutes', say('record.time-in-all')),
  rotorHours: reader.amount('cost.rotorHours', say('record.hours-not-run')),
  wasteKg: reader.amount('cost.wasteKg', say('record.waste')),
});
