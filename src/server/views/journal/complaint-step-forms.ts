import type { CaseRecord, ComplaintDetail, ComplaintStepInput } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
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
        say('complaint.containment'),
        say('complaint.held-back'),
        record.containment,
      );
    case 'corrective':
      return textForm(
        'corrective',
        say('complaint.corrective'),
        say('complaint.put-right'),
        record.corrective,
      );
    case 'preventive':
      return textForm(
        'preventive',
        say('complaint.preventive'),
        say('complaint.keeps-away'),
        record.preventive,
      );
    case 'root-cause':
      return rootCauseForm(context);
    case 'verified':
      return {
        heading: say('complaint.verification'),
        submit: say('record.keep-it'),
        lead: say('complaint.seen-to-work'),
        fields: (make) => [
          make.radios(
            'fixed',
            say('complaint.fixed-ask'),
            [
              ['yes', say('record.yes')],
              ['partly', say('complaint.partly')],
              ['no', say('record.no')],
            ],
            {
              chosen: [record.verification?.fixed ?? 'unanswered'],
            },
          ),
          make.area('text', say('complaint.how-seen'), { value: record.verification?.text ?? '' }),
        ],
        read: (reader) => {
          const fixed = (['yes', 'partly', 'no'] as const).find((one) => one === reader.text('fixed'));
          if (fixed === undefined)
            reader.problems.push({
              name: 'fixed',
              message: say('record.needs-answer', { label: say('complaint.fixed-ask') }),
              allowed: '',
            });
          return {
            step: 'verified',
            fixed: fixed ?? 'no',
            text: reader.needed('text', say('complaint.how-seen')),
          };
        },
      };
    case 'linked':
      return {
        heading: say('complaint.link-heading'),
        submit: say('complaint.keep-links'),
        lead: say('complaint.link-lead'),
        fields: (make) => [
          make.checkboxes('frames', say('complaint.frames'), names.frames, { chosen: record.frames }),
          make.checkboxes(
            'cases',
            say('complaint.cases'),
            context.cases.map((one) => [one.id, caseChoice(one, context.knowledge)] as const),
            { chosen: record.cases },
          ),
          make.text('more', say('complaint.more-cases'), { hint: say('complaint.more-hint') }),
        ],
        read: (reader) => {
          const more = reader
            .text('more')
            .split(/[,;\s]+/)
            .filter((one) => one !== '');
          if (more.some((one) => !/^(case-)?\d{1,9}$/.test(one)))
            reader.problems.push({
              name: 'more',
              message: say('complaint.more-wrong'),
              allowed: say('complaint.more-example'),
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
        heading: say('complaint.close-heading'),
        submit: say('complaint.close'),
        lead: say('complaint.close-lead'),
        fields: (make) => [
          make.area('missing', say('complaint.why-missing'), {
            hint: say('complaint.why-missing-hint'),
          }),
          make.area('note', say('record.note')),
        ],
        read: (reader) => ({ step: 'closed', missing: reader.text('missing'), note: reader.text('note') }),
      };
    case 'reopened':
      return {
        heading: say('complaint.reopen-heading'),
        submit: say('record.open-it-again'),
        lead: '',
        fields: (make) => [make.text('why', say('record.why'))],
        read: (reader) => ({ step: 'reopened', why: reader.needed('why', say('record.why')) }),
      };
    case 'noted':
      return {
        heading: say('record.write-note'),
        submit: say('record.keep-note'),
        lead: '',
        fields: (make) => [make.area('note', say('record.note'))],
        read: (reader) => ({ step: 'noted', note: reader.needed('note', say('record.note')) }),
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
  submit: say('record.keep-it'),
  lead,
  fields: (make) => [
    make.area('text', heading, {
      value,
      hint: value === '' ? '' : say('complaint.text-stays'),
    }),
  ],
  read: (reader) => ({ step, text: reader.needed('text', heading) }),
});

const caseChoice = (record: CaseRecord, knowledge: Knowledge) => {
  const outcome = sayOutcome(record, knowledge);
  return say('complaint.case-choice', {
    number: record.number,
    day: sayDay(record.openedAt),
    title: `${record.title}${outcome === '' ? '' : ` – ${outcome}`}`,
  });
};

function rootCauseForm({ record, cases, knowledge }: ComplaintContext): ComplaintForm {
  const linked = cases.filter((one) => record.cases.includes(one.id));
  const found = [...new Set(linked.map((one) => one.closure?.cause ?? '').filter((id) => id !== ''))];
  return {
    heading: say('record.root-cause'),
    submit: say('complaint.keep-root'),
    lead: say('complaint.found-first'),
    fields: (make) => [
      make.select(
        'cause',
        say('complaint.cause'),
        [
          ['', say('complaint.none-known')],
          ...found.map(
            (id) => [id, say('complaint.found-linked', { cause: causeName(knowledge, id) })] as const,
          ),
          ...causeChoices(knowledge).filter(([id]) => !found.includes(id)),
        ],
        { chosen: [record.rootCause?.cause ?? ''] },
      ),
      make.select(
        'case',
        say('complaint.found-in'),
        [['', '–'], ...linked.map((one) => [one.id, caseChoice(one, knowledge)] as const)],
        { chosen: [record.rootCause?.case ?? ''] },
      ),
      make.area('text', say('complaint.in-words'), {
        value: record.rootCause?.text ?? '',
        hint: say('complaint.in-words-hint'),
      }),
    ],
    read: (reader) => ({
      step: 'root-cause',
      cause: reader.optional('cause'),
      case: reader.optional('case'),
      text: reader.needed('text', say('complaint.in-words')),
    }),
  };
}

/** Controls for who complains of what; shared with logging. */
export function complaintFields(make: Fields, names: Names, old?: ComplaintDetail): FormField[] {
  return [
    make.text('customer', say('complaint.customer'), { value: old?.customer ?? '' }),
    make.text('fabricFault', say('complaint.fabric-fault'), {
      value: old?.fabricFault ?? '',
      hint: say('complaint.fault-hint'),
    }),
    make.number('claimedKg', say('complaint.claimed'), {
      unit: 'kg',
      value: old?.claimedKg == null ? '' : String(old.claimedKg),
    }),
    make.select('yarn', say('record.yarn'), [['', '–'], ...names.yarns], { chosen: [old?.yarn ?? ''] }),
    make.select('lot', say('record.lot'), [['', '–'], ...names.lots], {
      chosen: [old?.lot ?? ''],
      hint: say('complaint.lot-hint'),
    }),
    make.day('spunFrom', say('complaint.spun-from'), {
      value: old?.spunFrom == null ? '' : typedDay(old.spunFrom),
      hint: say('complaint.from-history'),
    }),
    make.day('spunUntil', say('complaint.spun-until'), {
      value: old?.spunUntil == null ? '' : typedDay(old.spunUntil),
    }),
  ];
}

/** What those controls hold. */
export const readComplaint = (reader: FormReader) => ({
  customer: reader.needed('customer', say('complaint.customer')),
  fabricFault: reader.needed('fabricFault', say('complaint.fabric-fault')),
  claimedKg: reader.amount('claimedKg', say('complaint.claimed')),
  yarn: reader.optional('yarn'),
  lot: reader.optional('lot'),
  spunFrom: reader.moment('spunFrom', say('complaint.spun-from')) ?? null,
  spunUntil: reader.dayEnd('spunUntil', say('complaint.spun-until')) ?? null,
});

function changeForm({ record, names }: ComplaintContext): ComplaintForm {
  return {
    heading: say('complaint.change-heading'),
    submit: say('record.keep-correction'),
    lead: say('complaint.before-stays'),
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
