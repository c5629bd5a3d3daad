import {
  type CaseDetail,
  type CaseStepName,
  CONFIRMATIONS,
  type StepInput,
  TRIAL_VERDICTS,
} from '../../../journal/index.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import { PARTS } from '../../../rules/knowledge/vocabulary.js';
import { PART_RESULT_WORDS, PART_WORDS, STOP_WORDS, sentenceCase } from '../../../rules/words.js';
import type { FactView, FormField } from '../../../templates/journal-models.js';
import { sayMinutes, WHO_WORDS } from '../../words.js';
import type { Fields, FormReader } from './form.js';
import { typedMoment } from './moments.js';
import { HOW_WORDS, VERDICT_WORDS } from './words.js';

/** Steps that a person records with a form; `opened` can only be corrected. */
export type FormStep = Exclude<CaseStepName, 'diagnosed'>;

/** What a step's form is made from. */
export interface StepContext {
  readonly record: CaseDetail;
  readonly knowledge: Knowledge;
  /** Check or action that is recorded; empty: not chosen yet. */
  readonly subject: string;
  /** Choices for selects: id and name. */
  readonly frames: readonly (readonly [string, string])[];
  readonly yarns: readonly (readonly [string, string])[];
  readonly lots: readonly (readonly [string, string])[];
  /** Causes, the likeliest by the last diagnosis first. */
  readonly causes: readonly (readonly [string, string])[];
  /** The step as it stands, when it is corrected. */
  readonly old?: StepInput | ({ readonly step: 'opened' } & Record<string, unknown>);
}

/** A step's form: what it is about, its controls, and how what is typed becomes the step. */
export interface StepForm {
  readonly heading: string;
  readonly submit: string;
  readonly lead: string;
  readonly cautions: readonly string[];
  readonly how: readonly string[];
  readonly facts: readonly FactView[];
  fields(make: Fields): FormField[];
  read(reader: FormReader): StepInput | ({ readonly step: 'opened' } & Record<string, unknown>);
}

const NOTHING: readonly [string, string] = ['', '–'];
const fact = (term: string, text: string): FactView => ({ term, text, href: '' });
const plain = (value: unknown): string => (value === null || value === undefined ? '' : String(value));
const note = (make: Fields, old: unknown, hint = '') =>
  make.area('note', 'Note', { value: plain(old), hint });
const minutes = (make: Fields, old: unknown) =>
  make.number('minutes', 'Working time', { unit: 'min', value: plain(old) });

/** The form of a step; undefined for a name that is no step. */
export function stepForm(step: string, context: StepContext): StepForm | undefined {
  const make = FORMS[step as FormStep];
  return make?.(context);
}

const bare = { cautions: [], how: [], facts: [], lead: '' } as const;
const cautionsOf = (knowledge: Knowledge, ids: readonly string[] | undefined) =>
  (ids ?? []).flatMap((id) => knowledge.book.cautions.get(id)?.text ?? []);

type Old = Record<string, unknown>;

const FORMS: Readonly<Record<FormStep, (context: StepContext) => StepForm>> = {
  opened: (context) => {
    const old = (context.old ?? {}) as Old;
    return {
      ...bare,
      heading: 'Correct how the case was opened',
      submit: 'Correct it',
      fields: (make) => [
        make.text('title', 'What is wrong', { value: plain(old.title) }),
        ...placeFields(make, context, old),
        note(make, old.note),
      ],
      read: (reader) => ({
        ...old,
        step: 'opened',
        title: reader.needed('title', 'What is wrong'),
        note: reader.text('note'),
        ...readPlace(reader),
      }),
    };
  },
  'check-made': (context) => checkForm(context),
  'action-taken': (context) => actionForm(context),
  'trial-started': ({ old: given }) => {
    const old = (given ?? {}) as Old;
    return {
      ...bare,
      heading: 'Begin a trial',
      submit: 'Begin the trial',
      lead: 'Change some positions and leave others as they are; count both over the same hours. Nothing else is changed while it runs.',
      fields: (make) => [
        make.text('what', 'What is tried', {
          value: plain(old.what),
          hint: 'For example: 4-notch nozzles on eight positions.',
        }),
        make.text('positions', 'Positions with the change', {
          value: ((old.positions ?? []) as number[]).join(', '),
          hint: 'Numbers parted by commas; a run as 12-19.',
        }),
        make.number('plannedRotorHours', 'Planned for', {
          unit: 'rotor-hours',
          value: plain(old.plannedRotorHours),
        }),
        note(make, old.note),
      ],
      read: (reader) => ({
        step: 'trial-started',
        what: reader.needed('what', 'What is tried'),
        positions: readPositions(reader, 'positions'),
        plannedRotorHours: reader.amount('plannedRotorHours', 'Planned for'),
        note: reader.text('note'),
      }),
    };
  },
  'trial-finished': ({ old: given }) => {
    const old = (given ?? {}) as Old;
    const counts = (old.counts ?? {}) as Record<string, { count: number; rotorHours: number }>;
    return {
      ...bare,
      heading: 'Finish the trial',
      submit: 'Record the result',
      lead: 'With counts of both sides the page says whether the difference is more than chance.',
      fields: (make) => [
        make.radios(
          'verdict',
          'How did it go?',
          TRIAL_VERDICTS.map((one) => [one, sentenceCase(VERDICT_WORDS[one])] as const),
          { chosen: [plain(old.verdict)] },
        ),
        make.number('without.count', 'Without the change: breaks', { value: plain(counts.without?.count) }),
        make.number('without.hours', 'Without the change', {
          unit: 'rotor-hours',
          value: plain(counts.without?.rotorHours),
        }),
        make.number('with.count', 'With the change: breaks', { value: plain(counts.with?.count) }),
        make.number('with.hours', 'With the change', {
          unit: 'rotor-hours',
          value: plain(counts.with?.rotorHours),
        }),
        note(make, old.note),
      ],
      read: (reader) => {
        const counted = {
          without: {
            count: reader.whole('without.count', 'Without the change: breaks'),
            rotorHours: reader.amount('without.hours', 'Without the change'),
          },
          with: {
            count: reader.whole('with.count', 'With the change: breaks'),
            rotorHours: reader.amount('with.hours', 'With the change'),
          },
        };
        const all = [counted.without, counted.with].flatMap(({ count, rotorHours }) => [count, rotorHours]);
        const some = all.some((one) => one !== null);
        if (some && all.some((one) => one === null) && reader.problems.length === 0)
          reader.problems.push({
            name: 'without.count',
            message: 'Counts need breaks and rotor-hours of both sides, or none of the four.',
            allowed: '',
          });
        if (
          some &&
          all.every((one) => one !== null) &&
          (counted.without.rotorHours === 0 || counted.with.rotorHours === 0)
        )
          reader.problems.push({
            name: 'without.hours',
            message: 'Rotor-hours must be more than 0.',
            allowed: '',
          });
        return {
          step: 'trial-finished',
          verdict: readChoice(reader, 'verdict', 'How did it go?', TRIAL_VERDICTS),
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
  },
  closed: (context) => closeForm(context),
  reopened: ({ old }) => ({
    ...bare,
    heading: 'Open the case again',
    submit: 'Open it again',
    fields: (make) => [make.text('why', 'Why', { value: plain((old as Old | undefined)?.why) })],
    read: (reader) => ({ step: 'reopened', why: reader.needed('why', 'Why') }),
  }),
  noted: ({ old }) => ({
    ...bare,
    heading: 'Write a note',
    submit: 'Keep the note',
    fields: (make) => [make.area('note', 'Note', { value: plain((old as Old | undefined)?.note) })],
    read: (reader) => ({ step: 'noted', note: reader.needed('note', 'Note') }),
  }),
  assigned: ({ record, old }) => ({
    ...bare,
    heading: 'Who is in charge?',
    submit: 'Keep it',
    fields: (make) => [
      make.text('assignee', 'In charge', {
        value: plain((old as Old | undefined)?.assignee ?? record.assignee),
        hint: 'A name or a shift; empty: nobody.',
      }),
    ],
    read: (reader) => ({ step: 'assigned', assignee: reader.text('assignee') }),
  }),
  renamed: ({ record, old }) => ({
    ...bare,
    heading: 'Another title',
    submit: 'Keep it',
    fields: (make) => [
      make.text('title', 'Title', { value: plain((old as Old | undefined)?.title ?? record.title) }),
    ],
    read: (reader) => ({ step: 'renamed', title: reader.needed('title', 'Title') }),
  }),
  placed: (context) => ({
    ...bare,
    heading: 'Where is it?',
    submit: 'Keep the place',
    fields: (make) => placeFields(make, context, (context.old as Old | undefined) ?? { ...context.record }),
    read: (reader) => ({
      step: 'placed',
      ...readPlace(reader),
      partHours: context.record.partHours,
    }),
  }),
  'cost-stated': ({ record, old }) => ({
    ...bare,
    heading: 'What has it cost?',
    submit: 'Keep the cost',
    lead: 'All of the case so far. What is left empty stays as it was.',
    fields: (make) => costFields(make, ((old as Old | undefined)?.cost as Old | undefined) ?? record.cost),
    read: (reader) => ({ step: 'cost-stated', cost: readCost(reader) }),
  }),
};

function checkForm({ knowledge, subject, record, old: given }: StepContext): StepForm {
  const old = (given ?? {}) as Old;
  const id = plain(old.check ?? subject);
  const check = knowledge.book.checks.get(id);
  const seen = (old.outcomes ?? []) as string[];
  const exchange = id === 'part-exchange';
  const [part = '', result = ''] = (seen[0] ?? '').split('.');
  return {
    heading: check?.label ?? 'A check of your own',
    submit: 'Record the check',
    lead: check?.ask ?? '',
    cautions: cautionsOf(knowledge, check?.cautions),
    how: check?.how ?? [],
    facts:
      check === undefined
        ? []
        : [
            fact('Time', sayMinutes(check.minutes)),
            fact('Who', sentenceCase(WHO_WORDS[check.who] ?? check.who)),
            fact('Stops', sentenceCase(STOP_WORDS[check.stops])),
          ],
    fields: (make) => [
      make.hidden('check', id),
      ...(exchange
        ? [
            make.select(
              'part',
              'Which part?',
              PARTS.map((one) => [one, sentenceCase(PART_WORDS[one])] as const),
              {
                chosen: [part],
              },
            ),
            make.radios(
              'result',
              'What happened?',
              Object.entries(PART_RESULT_WORDS).map(([value, text]) => [value, sentenceCase(text)] as const),
              { chosen: [result] },
            ),
          ]
        : [
            make.checkboxes(
              'outcomes',
              'What was seen?',
              Object.entries(check?.outcomes ?? {}).map(([value, { label }]) => [value, label] as const),
              { chosen: seen, hint: 'Leave all empty when nothing of it was seen.' },
            ),
          ]),
      minutes(make, old.minutes),
      note(make, old.note),
      make.moment('at', 'When', { hint: 'Empty: now.' }),
    ],
    read: (reader) => ({
      step: 'check-made',
      check: reader.text('check') || record.checks[0] || '',
      outcomes: exchange
        ? [
            `${reader.text('part')}.${readChoice(reader, 'result', 'What happened?', Object.keys(PART_RESULT_WORDS))}`,
          ]
        : reader.all('outcomes'),
      minutes: reader.amount('minutes', 'Working time'),
      note: reader.text('note'),
    }),
  };
}

function actionForm({ knowledge, subject, old: given }: StepContext): StepForm {
  const old = (given ?? {}) as Old;
  const id = plain(old.action ?? subject);
  const action = knowledge.book.actions.get(id);
  return {
    heading: action?.label ?? 'An action',
    submit: 'Record the action',
    lead: action === undefined ? '' : `It worked when: ${action.proof}`,
    cautions: cautionsOf(knowledge, action?.cautions),
    how: action?.steps ?? [],
    facts:
      action === undefined
        ? []
        : [
            fact('Who', sentenceCase(WHO_WORDS[action.who] ?? action.who)),
            fact('Going back', action['go-back']),
          ],
    fields: (make) => [
      make.hidden('action', id),
      make.area('done', 'What was changed', {
        value: ((old.done ?? []) as string[]).join('\n'),
        hint: 'One change a line, with the value before and after.',
      }),
      minutes(make, old.minutes),
      note(make, old.note),
      make.moment('at', 'When', { hint: 'Empty: now.' }),
    ],
    read: (reader) => ({
      step: 'action-taken',
      action: reader.text('action'),
      done: reader
        .text('done')
        .split('\n')
        .map((line) => line.trim())
        .filter((line) => line !== ''),
      setup: (old.setup as string | null | undefined) ?? null,
      minutes: reader.amount('minutes', 'Working time'),
      note: reader.text('note'),
    }),
  };
}

function closeForm({ record, causes, old: given }: StepContext): StepForm {
  const old = (given ?? {}) as Old;
  const cost = (old.cost ?? record.cost) as Old;
  const suggested = given === undefined ? '' : plain(old.cause);
  const zero = (value: unknown) => (value === 0 ? '' : plain(value));
  return {
    ...bare,
    heading: 'Close the case',
    submit: 'Close the case',
    lead: 'Only a root cause that was proved or seen teaches the bench; one that is only suspected may be kept as such.',
    fields: (make) => [
      make.select('cause', 'Root cause', [['', 'Not found'], ...causes], {
        chosen: [suggested],
        hint: 'The likeliest stand first.',
      }),
      make.radios(
        'how',
        'How do you know?',
        CONFIRMATIONS.map((one) => [one, sentenceCase(HOW_WORDS[one])] as const),
        { chosen: [plain(old.how)], hint: 'A trial or a check must be on record for the first three.' },
      ),
      make.select('contributing', 'A cause beside it', [NOTHING, ...causes], {
        chosen: ((old.contributing ?? []) as string[]).slice(0, 1),
      }),
      make.radios(
        'symptomGone',
        'Is the trouble gone?',
        [
          ['yes', 'Yes'],
          ['no', 'No'],
          ['', 'Not known'],
        ],
        { chosen: [old.symptomGone === true ? 'yes' : old.symptomGone === false ? 'no' : ''] },
      ),
      make.moment('foundAt', 'Cause known since', {
        value: old.foundAt === null || old.foundAt === undefined ? '' : typedMoment(plain(old.foundAt)),
        hint: 'Empty: when the first action was taken.',
      }),
      make.moment('fixedAt', 'Runs well since', {
        value: old.fixedAt === null || old.fixedAt === undefined ? '' : typedMoment(plain(old.fixedAt)),
        hint: 'Empty: now.',
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
        how: cause === null ? null : (readChoice(reader, 'how', 'How do you know?', CONFIRMATIONS) ?? null),
        symptomGone: gone === 'yes' ? true : gone === 'no' ? false : null,
        foundAt: reader.moment('foundAt', 'Cause known since') ?? null,
        fixedAt: reader.moment('fixedAt', 'Runs well since') ?? null,
        cost: readCost(reader),
        note: reader.text('note'),
      };
    },
  };
}

/** Frame, position, section, lot and yarn of a case. */
export function placeFields(
  make: Fields,
  { frames, yarns, lots }: Pick<StepContext, 'frames' | 'yarns' | 'lots'>,
  old: Old,
): FormField[] {
  return [
    make.select('frame', 'Frame', [NOTHING, ...frames], { chosen: [plain(old.frame)] }),
    make.number('position', 'Position', {
      value: plain(old.position),
      hint: 'Its number, when it is one position.',
    }),
    make.text('section', 'Section', { value: plain(old.section) }),
    make.select('yarn', 'Yarn', [NOTHING, ...yarns], { chosen: [plain(old.yarn)] }),
    make.select('lot', 'Lot', [NOTHING, ...lots], { chosen: [plain(old.lot)] }),
  ];
}

/** What such controls hold. */
export const readPlace = (reader: FormReader) => ({
  frame: reader.optional('frame'),
  position: reader.whole('position', 'Position'),
  section: reader.optional('section'),
  lot: reader.optional('lot'),
  yarn: reader.optional('yarn'),
});

const costFields = (make: Fields, cost: Old): FormField[] => [
  make.number('cost.minutes', 'Working time in all', { unit: 'min', value: plain(cost.minutes) }),
  make.number('cost.rotorHours', 'Rotor-hours not run', {
    unit: 'h',
    value: plain(cost.rotorHours),
    hint: 'Positions × hours.',
  }),
  make.number('cost.wasteKg', 'Waste', { unit: 'kg', value: plain(cost.wasteKg) }),
];

const readCost = (reader: FormReader) => ({
  minutes: reader.amount('cost.minutes', 'Working time in all'),
  rotorHours: reader.amount('cost.rotorHours', 'Rotor-hours not run'),
  wasteKg: reader.amount('cost.wasteKg', 'Waste'),
});

/** One of some words; a missing answer is a problem at its control. */
function readChoice<W extends string>(
  reader: FormReader,
  name: string,
  label: string,
  words: readonly W[],
): W {
  const value = reader.text(name);
  const found = words.find((word) => word === value);
  if (found === undefined)
    reader.problems.push({ name, message: `“${label}” needs an answer.`, allowed: '' });
  return found ?? (words[0] as W);
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
        message: `Positions: “${part.slice(0, 20)}” is neither a number nor a run of numbers.`,
        allowed: 'for example 3, 12-19',
      });
      return [];
    }
    for (let n = from; n <= until; n++) numbers.add(n);
  }
  return [...numbers].sort((a, b) => a - b);
}
