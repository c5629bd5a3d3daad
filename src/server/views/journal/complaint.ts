import type { CaseRecord, ComplaintDetail, Entry } from '../../../journal/index.js';
import { type MessageKey, say } from '../../../language/say.js';
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
import { COMPLAINT_STATE_WORDS, causeName, sayFixedWord } from './words.js';

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
    stateWords: say('complaint.state', {
      number: record.number,
      state: COMPLAINT_STATE_WORDS[record.state],
    }),
    facts: complaintFacts(record, names),
    parts: [
      {
        title: say('complaint.containment'),
        text: record.containment,
        href: step('containment'),
        todo: say('complaint.todo-containment'),
      },
      {
        title: say('record.root-cause'),
        text:
          rootCause === null
            ? ''
            : `${rootCause.cause === null ? '' : `${causeName(knowledge, rootCause.cause)}.\n`}${rootCause.text}`,
        href: step('root-cause'),
        todo: say('complaint.todo-root'),
      },
      {
        title: say('complaint.corrective'),
        text: record.corrective,
        href: step('corrective'),
        todo: say('complaint.todo-corrective'),
      },
      {
        title: say('complaint.preventive'),
        text: record.preventive,
        href: step('preventive'),
        todo: say('complaint.todo-preventive'),
      },
      {
        title: say('complaint.verification'),
        text:
          verification === null
            ? ''
            : `${say('complaint.fixed-on', { fixed: sayFixedWord(verification.fixed), day: sayDay(verification.at) })}\n${verification.text}`,
        href: step('verified'),
        todo: say('complaint.todo-verification'),
      },
    ],
    cases: casesTable('linked-cases', cases, knowledge, names, say('complaint.no-case-linked')),
    photos: record.photos
      .filter((photo) => !photo.withdrawn)
      .map((photo, n) => ({
        href: `/photos/${photo.id}`,
        alt: photo.caption === '' ? say('complaint.photo-alt', { n: n + 1 }) : photo.caption,
        caption: `${photo.caption === '' ? '' : `${photo.caption} `}${sayMoment(photo.at)}, ${photo.who}`,
        withdrawHref: `/photos/${photo.id}/withdraw`,
      })),
    photoForm,
    steps: open
      ? [
          ...(rootCause === null ? [{ href: benchFor(record), text: say('complaint.look-for-cause') }] : []),
          { href: step('linked'), text: say('complaint.link-heading') },
          { href: step('noted'), text: say('record.write-note') },
          { href: step('changed'), text: say('complaint.change-heading') },
          { href: step('closed'), text: say('complaint.close-heading') },
        ]
      : [{ href: step('reopened'), text: say('record.open-it-again') }],
    history: record.entries.map((entry) => viewEntry(entry, knowledge)).reverse(),
    letterHref: `${base}/letter`,
  };
}

/** The bench on the frame that spun it; where there were several, one of them has to be chosen first. */
const benchFor = ({ frames }: ComplaintDetail): string =>
  frames.length === 1 ? `/bench?frame=${frames[0]}` : '/';

/** Customer, goods, window and place of a complaint. */
export function complaintFacts(record: ComplaintDetail, names: Names): FactView[] {
  const facts: FactView[] = [];
  const add = (term: string, text: string, href = '') => {
    if (text !== '') facts.push({ term, text, href });
  };
  add(
    say('complaint.customer'),
    record.customer,
    `/complaints?customer=${encodeURIComponent(record.customer)}`,
  );
  add(say('complaint.received'), sayDay(record.receivedAt));
  add(say('complaint.claimed'), record.claimedKg === null ? '' : `${sayRough(record.claimedKg)}\u00a0kg`);
  add(
    say('record.yarn'),
    record.yarn === null ? '' : (names.yarns.get(record.yarn) ?? record.yarn),
    record.yarn === null ? '' : `/quality?yarn=${record.yarn}&months=6`,
  );
  add(say('record.lot'), record.lot === null ? '' : (names.lots.get(record.lot) ?? record.lot));
  add(
    say('complaint.spun'),
    record.spunFrom === null
      ? ''
      : record.spunUntil === null
        ? say('complaint.spun-now', { from: sayDay(record.spunFrom) })
        : say('complaint.spun-range', { from: sayDay(record.spunFrom), until: sayDay(record.spunUntil) }),
  );
  add(say('complaint.on'), joinWords(record.frames.map((id) => names.frames.get(id) ?? id)));
  return facts;
}

const TITLES = {
  logged: 'complaint.step-logged',
  changed: 'complaint.step-changed',
  linked: 'complaint.step-linked',
  'root-cause': 'record.root-cause',
  containment: 'complaint.containment',
  corrective: 'complaint.corrective',
  preventive: 'complaint.preventive',
  verified: 'complaint.verification',
  closed: 'complaint-state.closed',
  reopened: 'complaint.step-reopened',
  noted: 'record.note',
  'photo-added': 'complaint.step-photo',
  'photo-withdrawn': 'complaint.step-withdrawn',
} as const satisfies Readonly<Record<string, MessageKey>>;

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
  if (entry.step === 'verified') lines.push(say('complaint.fixed', { fixed: sayFixedWord(text('fixed')) }));
  if (entry.step === 'linked') {
    const frames = (data.frames ?? []) as string[];
    const cases = (data.cases ?? []) as string[];
    lines.push(say('complaint.linked', { frames: frames.length, cases: cases.length }));
  }
  if (entry.step === 'changed')
    lines.push(
      Object.entries(data)
        .filter(([key, value]) => key !== 'step' && value !== undefined)
        .map(([key, value]) => `${key}: ${value === null ? say('complaint.none') : String(value)}`)
        .join('; '),
    );
  for (const key of ['text', 'note', 'why', 'missing']) if (text(key) !== '') lines.push(text(key));
  const title = TITLES[entry.step as keyof typeof TITLES];
  return { title: title === undefined ? entry.step : say(title), lines };
}

/** An entry in one sentence, for telling what somebody else did meanwhile. */
export function sayComplaintEntry(
  entry: Pick<Entry, 'step' | 'data' | 'who' | 'at'>,
  knowledge: Knowledge,
): string {
  const { title, lines } = describeEntry(entry, knowledge);
  return `${entry.who}, ${sayMoment(entry.at)}: ${[title, ...lines].join(' – ')}`;
}
