import type { CaseRecord, ComplaintDetail, ComplaintStepInput } from '../../../journal/index.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { FormField } from '../../../templates/journal-models.js';
import type { Names } from '../../journal/names.js';
import { causeChoices } from './case-filter.js';
import type { Fields, FormReader } from './form.js';
import { sayDay, typedDay } from './moments.js';
import { causeName, sayOutcome } from './words.js';

/** What a complaint's forms are made from. */
export interface ComplaintContext {
  readonly record: ComplaintDetail;
  /** Cases that are linked or could be: what was open on its frames while it was spun. */
  readonly cases: readonly CaseRecord[];
  readonly knowledge: Knowledge;
  readonly names: Names;
}

export interface ComplaintForm {
  readonly heading: string;
  readonly submit: string;
  readonly lead: string;
  fields(make: Fields): FormField[];
  read(reader: FormReader): ComplaintStepInput;
}

/** The form of a step on a complaint; undefined for a name that is no step. */
export function complaintForm(step: string, context: ComplaintContext): ComplaintForm | undefined {
  const { record, names } = context;
  switch (step) {
    case 'containment':
      return textForm(
        'containment',
        'Containment',
        'What was held back, sorted out or warned of?',
        record.containment,
      );
    case 'corrective':
      return textForm('corrective', 'Corrective action', 'What put it right?', record.corrective);
    case 'preventive':
      return textForm(
        'preventive',
        'Preventive action',
        'What keeps it from coming back?',
        record.preventive,
      );
    case 'root-cause':
      return rootCauseForm(context);
    case 'verified':
      return {
        heading: 'Verification',
        submit: 'Keep it',
        lead: 'Was it seen to work?',
        fields: (make) => [
          make.radios(
            'fixed',
            'Fixed?',
            [
              ['yes', 'Yes'],
              ['partly', 'Partly'],
              ['no', 'No'],
            ],
            {
              chosen: [record.verification?.fixed ?? 'unanswered'],
            },
          ),
          make.area('text', 'How was that seen?', { value: record.verification?.text ?? '' }),
        ],
        read: (reader) => {
          const fixed = (['yes', 'partly', 'no'] as const).find((one) => one === reader.text('fixed'));
          if (fixed === undefined)
            reader.problems.push({ name: 'fixed', message: '“Fixed?” needs an answer.', allowed: '' });
          return {
            step: 'verified',
            fixed: fixed ?? 'no',
            text: reader.needed('text', 'How was that seen?'),
          };
        },
      };
    case 'linked':
      return {
        heading: 'Link frames and cases',
        submit: 'Keep the links',
        lead: 'Found from the setup history: the frames that spun the lot (or the yarn) in its window, and the cases that were open on them then.',
        fields: (make) => [
          make.checkboxes('frames', 'Frames', names.frames, { chosen: record.frames }),
          make.checkboxes(
            'cases',
            'Cases',
            context.cases.map((one) => [one.id, caseChoice(one, context.knowledge)] as const),
            { chosen: record.cases },
          ),
          make.text('more', 'Further cases', { hint: 'Their numbers, parted by commas.' }),
        ],
        read: (reader) => {
          const more = reader
            .text('more')
            .split(/[,;\s]+/)
            .filter((one) => one !== '');
          if (more.some((one) => !/^(case-)?\d{1,9}$/.test(one)))
            reader.problems.push({
              name: 'more',
              message: 'Further cases: these are not numbers of cases.',
              allowed: 'for example 12, 31',
            });
          return {
            step: 'linked',
            frames: reader.all('frames'),
            cases: [
              ...new Set([...reader.all('cases'), ...more.map((one) => `case-${one.replace('case-', '')}`)]),
            ],
          };
        },
      };
    case 'closed':
      return {
        heading: 'Close the complaint',
        submit: 'Close it',
        lead: 'Closing needs a root cause, a corrective action and a verification, or the reason why one is missing.',
        fields: (make) => [
          make.area('missing', 'Why something is missing', {
            hint: 'Only where root cause, corrective action or verification was not recorded.',
          }),
          make.area('note', 'Note'),
        ],
        read: (reader) => ({ step: 'closed', missing: reader.text('missing'), note: reader.text('note') }),
      };
    case 'reopened':
      return {
        heading: 'Open the complaint again',
        submit: 'Open it again',
        lead: '',
        fields: (make) => [make.text('why', 'Why')],
        read: (reader) => ({ step: 'reopened', why: reader.needed('why', 'Why') }),
      };
    case 'noted':
      return {
        heading: 'Write a note',
        submit: 'Keep the note',
        lead: '',
        fields: (make) => [make.area('note', 'Note')],
        read: (reader) => ({ step: 'noted', note: reader.needed('note', 'Note') }),
      };
    case 'changed':
      return changeForm(context);
    default:
      return undefined;
  }
}

const textForm = (
  step: 'containment' | 'corrective' | 'preventive',
  heading: string,
  lead: string,
  value: string,
): ComplaintForm => ({
  heading,
  submit: 'Keep it',
  lead,
  fields: (make) => [
    make.area('text', heading, {
      value,
      hint: value === '' ? '' : 'The text as it was stays in the history.',
    }),
  ],
  read: (reader) => ({ step, text: reader.needed('text', heading) }),
});

const caseChoice = (record: CaseRecord, knowledge: Knowledge) => {
  const outcome = sayOutcome(record, knowledge);
  return `Case ${record.number}, ${sayDay(record.openedAt)}: ${record.title}${outcome === '' ? '' : ` – ${outcome}`}`;
};

function rootCauseForm({ record, cases, knowledge }: ComplaintContext): ComplaintForm {
  const linked = cases.filter((one) => record.cases.includes(one.id));
  const found = [...new Set(linked.map((one) => one.closure?.cause ?? '').filter((id) => id !== ''))];
  return {
    heading: 'Root cause',
    submit: 'Keep the root cause',
    lead: 'Causes found in the linked cases stand first.',
    fields: (make) => [
      make.select(
        'cause',
        'Cause',
        [
          ['', 'None of the known ones, or not found'],
          ...found.map((id) => [id, `${causeName(knowledge, id)} (found in a linked case)`] as const),
          ...causeChoices(knowledge).filter(([id]) => !found.includes(id)),
        ],
        { chosen: [record.rootCause?.cause ?? ''] },
      ),
      make.select(
        'case',
        'Found in case',
        [['', '–'], ...linked.map((one) => [one.id, caseChoice(one, knowledge)] as const)],
        { chosen: [record.rootCause?.case ?? ''] },
      ),
      make.area('text', 'In words', {
        value: record.rootCause?.text ?? '',
        hint: 'As it will stand in the letter to the customer.',
      }),
    ],
    read: (reader) => ({
      step: 'root-cause',
      cause: reader.optional('cause'),
      case: reader.optional('case'),
      text: reader.needed('text', 'In words'),
    }),
  };
}

/** Controls for who complains of what; shared with logging. */
export function complaintFields(make: Fields, names: Names, old?: ComplaintDetail): FormField[] {
  return [
    make.text('customer', 'Customer', { value: old?.customer ?? '' }),
    make.text('fabricFault', 'Fault in the fabric', {
      value: old?.fabricFault ?? '',
      hint: 'In the words of the trade: barré in single jersey, weak places in the warp.',
    }),
    make.number('claimedKg', 'Claimed', {
      unit: 'kg',
      value: old?.claimedKg == null ? '' : String(old.claimedKg),
    }),
    make.select('yarn', 'Yarn', [['', '–'], ...names.yarns], { chosen: [old?.yarn ?? ''] }),
    make.select('lot', 'Lot', [['', '–'], ...names.lots], {
      chosen: [old?.lot ?? ''],
      hint: 'With the lot, the days and frames on which it was spun are found from the setup history.',
    }),
    make.day('spunFrom', 'Spun from', {
      value: old?.spunFrom == null ? '' : typedDay(old.spunFrom),
      hint: 'Empty: from the history.',
    }),
    make.day('spunUntil', 'Spun until', { value: old?.spunUntil == null ? '' : typedDay(old.spunUntil) }),
  ];
}

/** What those controls hold. */
export const readComplaint = (reader: FormReader) => ({
  customer: reader.needed('customer', 'Customer'),
  fabricFault: reader.needed('fabricFault', 'Fault in the fabric'),
  claimedKg: reader.amount('claimedKg', 'Claimed'),
  yarn: reader.optional('yarn'),
  lot: reader.optional('lot'),
  spunFrom: reader.moment('spunFrom', 'Spun from') ?? null,
  spunUntil: reader.dayEnd('spunUntil', 'Spun until') ?? null,
});

function changeForm({ record, names }: ComplaintContext): ComplaintForm {
  return {
    heading: 'Correct what was logged',
    submit: 'Keep the correction',
    lead: 'What stood there before stays in the history.',
    fields: (make) => complaintFields(make, names, record),
    read: (reader) => {
      const now = readComplaint(reader);
      // Days are typed without a time; what was not touched keeps its own.
      const kept = (typed: string | null, old: string | null) =>
        typed !== null && old !== null && typedDay(typed) === typedDay(old) ? old : typed;
      return {
        step: 'changed',
        ...now,
        spunFrom: kept(now.spunFrom, record.spunFrom),
        spunUntil: kept(now.spunUntil, record.spunUntil),
      };
    },
  };
}
