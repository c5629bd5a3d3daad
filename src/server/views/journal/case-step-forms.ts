import type { CaseStepName } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { closeForm, costFields, readCost } from './case-close-form.js';
import { placeFields, readPlace } from './case-place-fields.js';
import { bare, note, type Old, plain, type StepContext, type StepForm } from './case-step-form.js';
import { trialResultForm, trialStartForm } from './case-trial-forms.js';
import { actionForm, checkForm } from './case-work-forms.js';

/** Steps that a person records with a form; `opened` can only be corrected. */
export type FormStep = Exclude<CaseStepName, 'diagnosed'>;

/** The form of a step; undefined for a name that is no step. */
export function stepForm(step: string, context: StepContext): StepForm | undefined {
  // The name comes from the address, and every object has a `toString`.
  return Object.hasOwn(FORMS, step) ? FORMS[step as FormStep](context) : undefined;
}

const FORMS: Readonly<Record<FormStep, (context: StepContext) => StepForm>> = {
  opened: (context) => {
    const old = (context.old ?? {}) as Old;
    return {
      ...bare,
      heading: say('record.correct-opened'),
      submit: say('record.correct-it'),
      fields: (make) => [
        make.line('title', say('record.what-wrong'), { value: plain(old.title) }),
        ...placeFields(make, context, old),
        note(make, old.note),
      ],
      read: (reader) => ({
        ...old,
        step: 'opened',
        title: reader.needed('title', say('record.what-wrong')),
        note: reader.text('note'),
        ...readPlace(reader),
      }),
    };
  },
  'check-made': checkForm,
  'action-taken': actionForm,
  'trial-started': trialStartForm,
  'trial-finished': trialResultForm,
  closed: closeForm,
  reopened: ({ old }) => ({
    ...bare,
    heading: say('record.open-again'),
    submit: say('record.open-it-again'),
    fields: (make) => [make.text('why', say('record.why'), { value: plain((old as Old | undefined)?.why) })],
    read: (reader) => ({ step: 'reopened', why: reader.needed('why', say('record.why')) }),
  }),
  noted: ({ old }) => ({
    ...bare,
    heading: say('record.write-note'),
    submit: say('record.keep-note'),
    fields: (make) => [
      make.area('note', say('record.note'), { value: plain((old as Old | undefined)?.note) }),
    ],
    read: (reader) => ({ step: 'noted', note: reader.needed('note', say('record.note')) }),
  }),
  assigned: ({ record, old }) => ({
    ...bare,
    heading: say('record.who-charge'),
    submit: say('record.keep-it'),
    fields: (make) => [
      make.text('assignee', say('record.in-charge'), {
        value: plain((old as Old | undefined)?.assignee ?? record.assignee),
        hint: say('record.charge-hint'),
      }),
    ],
    read: (reader) => ({ step: 'assigned', assignee: reader.text('assignee') }),
  }),
  renamed: ({ record, old }) => ({
    ...bare,
    heading: say('record.another-title'),
    submit: say('record.keep-it'),
    fields: (make) => [
      make.line('title', say('record.title'), {
        value: plain((old as Old | undefined)?.title ?? record.title),
      }),
    ],
    read: (reader) => ({ step: 'renamed', title: reader.needed('title', say('record.title')) }),
  }),
  placed: (context) => ({
    ...bare,
    heading: say('record.where-heading'),
    submit: say('record.keep-place'),
    fields: (make) => placeFields(make, context, (context.old as Old | undefined) ?? { ...context.record }),
    read: (reader) => ({
      step: 'placed',
      ...readPlace(reader),
      partHours: context.record.partHours,
    }),
  }),
  'cost-stated': ({ record, old }) => ({
    ...bare,
    heading: say('record.cost-heading'),
    submit: say('record.keep-cost'),
    lead: say('record.cost-lead'),
    fields: (make) => costFields(make, ((old as Old | undefined)?.cost as Old | undefined) ?? record.cost),
    read: (reader) => ({ step: 'cost-stated', cost: readCost(reader) }),
  }),
};
