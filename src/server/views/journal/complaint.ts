import type { CaseRecord, ComplaintDetail, Entry } from '../../../journal/index.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import { joinWords, sentenceCase } from '../../../rules/words.js';
import type {
  ComplaintPage,
  FactView,
  FormView,
  JournalHead,
  StepView,
} from '../../../templates/journal-models.js';
import type { Names } from '../../journal/names.js';
import { sayRough } from '../../words.js';
import { sayDay, sayMoment } from './moments.js';
import { casesTable } from './rows.js';
import { COMPLAINT_STATE_WORDS, causeName, FIXED_WORDS } from './words.js';

const BUTTONS: readonly (readonly [string, string])[] = [
  ['noted', 'Write a note'],
  ['changed', 'Correct what was logged'],
];

/** The page of one complaint. */
export function viewComplaint(
  record: ComplaintDetail,
  cases: readonly CaseRecord[],
  photoForm: FormView,
  knowledge: Knowledge,
  names: Names,
  head: JournalHead,
): ComplaintPage {
  const base = `/complaints/${record.id}`;
  const step = (name: string) => `${base}/record/${name}`;
  const open = record.closedAt === null;
  const { rootCause, verification } = record;
  return {
    head,
    heading: sentenceCase(record.fabricFault),
    id: record.id,
    state: record.state,
    stateWords: `Complaint ${record.number}: ${COMPLAINT_STATE_WORDS[record.state]}`,
    facts: complaintFacts(record, names),
    parts: [
      {
        title: 'Containment',
        text: record.containment,
        href: step('containment'),
        todo: 'What was held back, sorted out or warned of, so that no more of it goes out.',
      },
      {
        title: 'Root cause',
        text:
          rootCause === null
            ? ''
            : `${rootCause.cause === null ? '' : `${causeName(knowledge, rootCause.cause)}.\n`}${rootCause.text}`,
        href: step('root-cause'),
        todo: 'The cases below were open on the frames while the yarn was spun.',
      },
      {
        title: 'Corrective action',
        text: record.corrective,
        href: step('corrective'),
        todo: 'What put it right.',
      },
      {
        title: 'Preventive action',
        text: record.preventive,
        href: step('preventive'),
        todo: 'What keeps it from coming back, here and on other frames.',
      },
      {
        title: 'Verification',
        text:
          verification === null
            ? ''
            : `Fixed: ${FIXED_WORDS[verification.fixed]}, ${sayDay(verification.at)}.\n${verification.text}`,
        href: step('verified'),
        todo: 'Whether it worked, and how that was seen.',
      },
    ],
    cases: casesTable('linked-cases', cases, knowledge, names, 'No case is linked.'),
    photos: record.photos
      .filter((photo) => !photo.withdrawn)
      .map((photo, n) => ({
        href: `/photos/${photo.id}`,
        alt: photo.caption === '' ? `Photo ${n + 1} of the fault` : photo.caption,
        caption: `${photo.caption === '' ? '' : `${photo.caption} `}${sayMoment(photo.at)}, ${photo.who}`,
        withdrawHref: `/photos/${photo.id}/withdraw`,
      })),
    photoForm,
    steps: open
      ? [
          { href: step('linked'), text: 'Link frames and cases' },
          ...BUTTONS.map(([name, text]) => ({ href: step(name), text })),
          { href: step('closed'), text: 'Close the complaint' },
        ]
      : [{ href: step('reopened'), text: 'Open it again' }],
    history: record.entries.map((entry) => viewEntry(entry, knowledge)).reverse(),
    letterHref: `${base}/letter`,
  };
}

/** Customer, goods, window and place of a complaint. */
export function complaintFacts(record: ComplaintDetail, names: Names): FactView[] {
  const facts: FactView[] = [];
  const add = (term: string, text: string, href = '') => {
    if (text !== '') facts.push({ term, text, href });
  };
  add('Customer', record.customer, `/complaints?customer=${encodeURIComponent(record.customer)}`);
  add('Received', sayDay(record.receivedAt));
  add('Claimed', record.claimedKg === null ? '' : `${sayRough(record.claimedKg)}\u00a0kg`);
  add(
    'Yarn',
    record.yarn === null ? '' : (names.yarns.get(record.yarn) ?? record.yarn),
    record.yarn === null ? '' : `/quality?yarn=${record.yarn}&months=6`,
  );
  add('Lot', record.lot === null ? '' : (names.lots.get(record.lot) ?? record.lot));
  add(
    'Spun',
    record.spunFrom === null
      ? ''
      : `${sayDay(record.spunFrom)} to ${record.spunUntil === null ? 'now' : sayDay(record.spunUntil)}`,
  );
  add('On', joinWords(record.frames.map((id) => names.frames.get(id) ?? id)));
  return facts;
}

const TITLES: Readonly<Record<string, string>> = {
  logged: 'Complaint logged',
  changed: 'What was logged was corrected',
  linked: 'Linked',
  'root-cause': 'Root cause',
  containment: 'Containment',
  corrective: 'Corrective action',
  preventive: 'Preventive action',
  verified: 'Verification',
  closed: 'Closed',
  reopened: 'Opened again',
  noted: 'Note',
  'photo-added': 'Photo added',
  'photo-withdrawn': 'Photo withdrawn',
};

function viewEntry(entry: Entry, knowledge: Knowledge): StepView {
  const { title, lines } = describeEntry(entry, knowledge);
  return {
    id: `step-${entry.version}`,
    when: sayMoment(entry.at),
    who: entry.who,
    title,
    lines,
    kind: entry.step,
    href: '',
    correctHref: '',
    correctText: '',
    corrections: [],
  };
}

function describeEntry(
  entry: Pick<Entry, 'step' | 'data'>,
  knowledge: Knowledge,
): { readonly title: string; readonly lines: readonly string[] } {
  const data = (entry.data ?? {}) as Record<string, unknown>;
  const text = (key: string) => (typeof data[key] === 'string' ? (data[key] as string) : '');
  const lines: string[] = [];
  if (entry.step === 'root-cause' && text('cause') !== '')
    lines.push(`${causeName(knowledge, text('cause'))}.`);
  if (entry.step === 'verified') lines.push(`Fixed: ${text('fixed')}.`);
  if (entry.step === 'linked') {
    const frames = (data.frames ?? []) as string[];
    const cases = (data.cases ?? []) as string[];
    lines.push(`${frames.length} frames, ${cases.length} cases.`);
  }
  if (entry.step === 'changed')
    lines.push(
      Object.entries(data)
        .filter(([key, value]) => key !== 'step' && value !== undefined)
        .map(([key, value]) => `${key}: ${value === null ? 'none' : String(value)}`)
        .join('; '),
    );
  for (const key of ['text', 'note', 'why', 'missing']) if (text(key) !== '') lines.push(text(key));
  return { title: TITLES[entry.step] ?? entry.step, lines };
}

/** An entry in one sentence, for telling what somebody else did meanwhile. */
export function sayComplaintEntry(
  entry: Pick<Entry, 'step' | 'data' | 'who' | 'at'>,
  knowledge: Knowledge,
): string {
  const { title, lines } = describeEntry(entry, knowledge);
  return `${entry.who}, ${sayMoment(entry.at)}: ${[title, ...lines].join(' – ')}`;
}
