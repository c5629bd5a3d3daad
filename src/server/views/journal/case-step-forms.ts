import {
  type CaseDetail,
  type CaseStepName,
  CONFIRMATIONS,
  type StepInput,
  TRIAL_VERDICTS,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
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
  make.area('note', say('record.note'), { value: plain(old), hint });
const minutes = (make: Fields, old: unknown) =>
  make.number('minutes', say('record.work-time'), { unit: 'min', value: plain(old) });

/** The form of a step; undefined for a name that is no step. */
export function stepForm(step: string, context: StepContext): StepForm | undefined {
  // The name comes from the address, and every object has a `toString`.
  return Object.hasOwn(FORMS, step) ? FORMS[step as FormStep](context) : undefined;
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
      heading: say('record.correct-opened'),
      submit: say('record.correct-it'),
      fields: (make) => [
        make.text('title', say('record.what-wrong'), { value: plain(old.title) }),
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
  'check-made': (context) => checkForm(context),
  'action-taken': (context) => actionForm(context),
  'trial-started': ({ old: given }) => {
    const old = (given ?? {}) as Old;
    return {
      ...bare,
      heading: say('record.begin-trial-heading'),
      submit: say('record.begin-trial'),
      lead: say('record.trial-lead'),
      fields: (make) => [
        make.text('what', say('record.what-tried'), {
          value: plain(old.what),
          hint: say('record.tried-hint'),
        }),
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
        positions: readPositions(reader, 'positions'),
        plannedRotorHours: reader.amount('plannedRotorHours', say('record.planned')),
        note: reader.text('note'),
      }),
    };
  },
  'trial-finished': ({ old: given }) => {
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
  },
  closed: (context) => closeForm(context),
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
      make.text('title', say('record.title'), {
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

function checkForm({ knowledge, subject, record, old: given }: StepContext): StepForm {
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

function actionForm({ knowledge, subject, old: given }: StepContext): StepForm {
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
      setup: (old.setup as string | null | undefined) ?? null,
      minutes: reader.amount('minutes', say('record.work-time')),
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

/** Frame, position, section, lot and yarn of a case. */
export function placeFields(
  make: Fields,
  { frames, yarns, lots }: Pick<StepContext, 'frames' | 'yarns' | 'lots'>,
  old: Old,
): FormField[] {
  return [
    make.select('frame', say('record.frame'), [NOTHING, ...frames], { chosen: [plain(old.frame)] }),
    make.number('position', say('record.position'), {
      value: plain(old.position),
      hint: say('record.position-hint'),
    }),
    make.text('section', say('record.section'), { value: plain(old.section) }),
    make.select('yarn', say('record.yarn'), [NOTHING, ...yarns], { chosen: [plain(old.yarn)] }),
    make.select('lot', say('record.lot'), [NOTHING, ...lots], { chosen: [plain(old.lot)] }),
  ];
}

/** What such controls hold. */
export const readPlace = (reader: FormReader) => ({
  frame: reader.optional('frame'),
  position: reader.whole('position', say('record.position')),
  section: reader.optional('section'),
  lot: reader.optional('lot'),
  yarn: reader.optional('yarn'),
});

const costFields = (make: Fields, cost: Old): FormField[] => [
  make.number('cost.minutes', say('record.time-in-all'), { unit: 'min', value: plain(cost.minutes) }),
  make.number('cost.rotorHours', say('record.hours-not-run'), {
    unit: 'h',
    value: plain(cost.rotorHours),
    hint: say('record.hours-hint'),
  }),
  make.number('cost.wasteKg', say('record.waste'), { unit: 'kg', value: plain(cost.wasteKg) }),
];

const readCost = (reader: FormReader) => ({
  minutes: reader.amount('cost.minutes', say('record.time-in-all')),
  rotorHours: reader.amount('cost.rotorHours', say('record.hours-not-run')),
  wasteKg: reader.amount('cost.wasteKg', say('record.waste')),
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
    reader.problems.push({ name, message: say('record.needs-answer', { label }), allowed: '' });
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
        message: say('record.positions-wrong', { text: part.slice(0, 20) }),
        allowed: say('record.positions-example'),
      });
      return [];
    }
    for (let n = from; n <= until; n++) numbers.add(n);
  }
  return [...numbers].sort((a, b) => a - b);
}
