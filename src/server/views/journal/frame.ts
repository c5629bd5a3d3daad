import {
  compareSetups,
  type FrameDay,
  type FrameHistory,
  type FrameRecord,
  type PartHours,
  type SetupDifference,
  type SetupRecord,
  type WhatChanged,
  type YarnRecord,
} from '../../../journal/index.js';
import type { SetupReport } from '../../../rules/index.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import { CHANGE_WORDS, joinWords, sentenceCase } from '../../../rules/words.js';
import type { FactView, FramePage, JournalHead, StepView } from '../../../templates/journal-models.js';
import type { Names } from '../../journal/names.js';
import { type DayRate, drawBreakDays } from '../../pictures/break-days.js';
import { sayPercent, sayRough } from '../../words.js';
import { setupLabelOf } from '../setup-labels.js';
import { describeSetup } from '../setup-line.js';
import { sayDate, sayDay, sayMoment, typedDay } from './moments.js';
import { casesTable } from './rows.js';
import { viewTable } from './table.js';
import { COMPLAINT_STATE_WORDS } from './words.js';

/** Spans over which what was changed lately is looked for, days. */
export const SPANS = [1, 3, 7, 14, 30] as const;
const HISTORY_SHOWN = 6;
const HISTORY_LISTED = 60;

/** What the page of a frame is made from. */
export interface FrameParts {
  readonly frame: FrameRecord;
  readonly yarn: YarnRecord | undefined;
  readonly history: FrameHistory;
  readonly setups: readonly SetupRecord[];
  readonly reports: ReadonlyMap<string, { readonly before: unknown; readonly after: unknown }>;
  readonly lately: WhatChanged;
  readonly span: number;
  readonly benchHref: string;
  readonly hours: readonly PartHours[];
}

/** The page of one frame. */
export function viewFrame(
  parts: FrameParts,
  knowledge: Knowledge,
  names: Names,
  head: JournalHead,
): FramePage {
  const { frame, yarn, history, setups, lately, span } = parts;
  const [present] = setups;
  const entries = viewSetups(parts, names);
  const changedDays = new Set(setups.map((setup) => typedDay(setup.at)));
  const rates = dayRates(history.days, changedDays);
  const norm = yarn?.targets.breaksPer1000 ?? undefined;
  return {
    head,
    heading: frame.name,
    facts: frameFacts(parts, names),
    setupLine:
      present === undefined ? 'No setup has been recorded yet.' : sentenceCase(describeSetup(present.given)),
    actions: [
      { href: `/bench?frame=${frame.id}`, text: 'Diagnose' },
      { href: `/setup?frame=${frame.id}`, text: 'See the setup' },
      { href: `/frames/${frame.id}/setup`, text: 'Record a change' },
      { href: `/frames/${frame.id}/edit`, text: 'Edit the frame' },
    ],
    lately: {
      heading: 'What was changed lately?',
      spans: SPANS.map((days) => ({
        href: `/frames/${frame.id}?days=${days}#lately`,
        text: days === 1 ? '24 hours' : `${days} days`,
        current: days === span,
      })),
      items: lately.entries.map((entry) => ({
        title: `${sayMoment(entry.at)}, ${entry.who}`,
        lines: [
          ...sayDifferences(entry.differences),
          ...(entry.lot === undefined
            ? []
            : [`Lot: ${named(names.lots, entry.lot.before)} → ${named(names.lots, entry.lot.after)}.`]),
          ...(entry.yarn === undefined
            ? []
            : [`Yarn: ${named(names.yarns, entry.yarn.before)} → ${named(names.yarns, entry.yarn.after)}.`]),
          ...(entry.changes.length === 0
            ? []
            : [`Counts as: ${joinWords(entry.changes.map((one) => CHANGE_WORDS[one]))}.`]),
          ...(entry.note === '' ? [] : [entry.note]),
        ],
      })),
      words:
        lately.entries.length > 0
          ? ''
          : lately.before === null
            ? 'The history does not reach back far enough to say.'
            : `Nothing was recorded as changed in ${span === 1 ? 'the last 24 hours' : `the last ${span} days`}. That counts as evidence too.`,
      benchHref: parts.benchHref,
      benchText:
        lately.entries.length > 0
          ? 'Diagnose, with these changes as evidence'
          : 'Diagnose, with this as evidence',
    },
    picture: rates.some((one) => one.rate !== undefined)
      ? drawBreakDays(`End breaks of ${frame.name}, day by day`, rates, norm)
      : undefined,
    pictureNote: rates.some((one) => one.rate !== undefined)
      ? `Breaks per 1000 rotor-hours, day by day.${norm === undefined ? '' : ` The line is the usual rate of the yarn, ${sayRough(norm)}.`} A triangle marks a change of the setup.`
      : 'No counts have come in for the last two months.',
    days: viewTable(
      'days',
      'End breaks by day',
      ['Day', '#Breaks', '#Rotor-hours', '#Per 1000 rotor-hours'],
      [...history.days].reverse().map((day) => {
        const { breaks, hours } = countOf(day);
        return [
          sayDate(day.day),
          String(breaks),
          sayRough(hours),
          hours > 0 ? sayRough((1000 * breaks) / hours) : '–',
        ];
      }),
      'None.',
    ),
    cases: casesTable(
      'frame-cases',
      history.cases.slice(0, 10),
      knowledge,
      names,
      'No case in the last two months.',
      {
        frame: false,
      },
    ),
    complaints: viewTable(
      'frame-complaints',
      'Complaints on yarn from this frame',
      ['Complaint', 'Customer', 'Received', 'Stands'],
      history.complaints.map((one) => [
        { text: one.fabricFault, href: `/complaints/${one.id}` },
        one.customer,
        sayDay(one.receivedAt),
        COMPLAINT_STATE_WORDS[one.state as keyof typeof COMPLAINT_STATE_WORDS] ?? one.state,
      ]),
      'No complaint in the last two months.',
    ),
    history: entries.slice(0, HISTORY_SHOWN),
    earlier: entries.slice(HISTORY_SHOWN),
  };
}

const named = (names: ReadonlyMap<string, string>, id: string | null): string =>
  id === null ? 'none' : (names.get(id) ?? id);

function frameFacts({ frame, yarn, setups, hours }: FrameParts, names: Names): FactView[] {
  const [present] = setups;
  const facts: FactView[] = [];
  const add = (term: string, text: string, href = '') => {
    if (text !== '') facts.push({ term, text, href });
  };
  add('Place', frame.place);
  add('Positions', String(frame.positions));
  add('Sections', frame.sections.map((one) => `${one.name} ${one.first}–${one.last}`).join('; '));
  add('Spins', yarn?.name ?? '', yarn === undefined ? '' : `/quality?yarn=${yarn.id}&months=6`);
  add('Lot', present?.lot == null ? '' : named(names.lots, present.lot));
  for (const part of ['nozzle', 'tube', 'rotor'] as const) {
    const own = hours.filter((one) => one.part === part).map((one) => one.hours);
    if (own.length === 0) continue;
    const [low, high] = [Math.min(...own), Math.max(...own)];
    add(
      `${sentenceCase(part)}s have run`,
      high - low < 50
        ? `${sayRough(high)}\u00a0h`
        : `${sayRough(low)} to ${sayRough(high)}\u00a0h, by position`,
      '/parts',
    );
  }
  add('Note', frame.note);
  if (frame.retired) add('', 'No longer in use.');
  return facts;
}

/** Differences of settings as sentences. */
export const sayDifferences = (differences: readonly SetupDifference[]): string[] =>
  differences.map(
    ({ field, before, after }) =>
      `${setupLabelOf(`setup.${field}`) ?? field}: ${before ?? 'not given'} → ${after ?? 'not given'}.`,
  );

/** Of a day: its breaks and the rotor-hours over which they were noticed. */
const countOf = (day: FrameDay): { readonly breaks: number; readonly hours: number } =>
  day.rateRotorHours > 0
    ? { breaks: day.rateBreaks, hours: day.rateRotorHours }
    : { breaks: day.events, hours: 0 };

/** Every day from the first to the last one known, so that gaps show. */
function dayRates(days: readonly FrameDay[], changed: ReadonlySet<string>): DayRate[] {
  const known = new Map(days.map((day) => [day.day, countOf(day)]));
  const [first] = days;
  const last = days.at(-1);
  if (first === undefined || last === undefined) return [];
  const rates: DayRate[] = [];
  for (let at = Date.parse(`${first.day}T00:00:00Z`); ; at += 86_400_000) {
    const day = new Date(at).toISOString().slice(0, 10);
    const count = known.get(day);
    rates.push({
      day,
      rate: count === undefined || count.hours <= 0 ? undefined : (1000 * count.breaks) / count.hours,
      changed: changed.has(day),
    });
    if (day >= last.day) return rates;
  }
}

function viewSetups({ setups, frame, reports }: FrameParts, names: Names): StepView[] {
  return setups.slice(0, HISTORY_LISTED).map((setup, n): StepView => {
    const earlier = setups[n + 1];
    const differences =
      earlier === undefined ? [] : sayDifferences(compareSetups(earlier.given, setup.given).differences);
    const lines = [
      ...differences,
      ...(earlier !== undefined && earlier.lot !== setup.lot
        ? [`Lot: ${named(names.lots, earlier.lot)} → ${named(names.lots, setup.lot)}.`]
        : []),
      ...(earlier !== undefined && earlier.yarn !== setup.yarn
        ? [`Yarn: ${named(names.yarns, earlier.yarn)} → ${named(names.yarns, setup.yarn)}.`]
        : []),
      ...setup.renewed.map(
        (one) =>
          `Put in: ${one.part}${one.positions === null ? ' on the whole frame' : ` at ${one.positions.length === 1 ? 'position' : 'positions'} ${shorten(one.positions)}`}${one.hours > 0 ? `, with ${one.hours} h on it` : ', new'}.`,
      ),
      ...(setup.changes.length === 0
        ? []
        : [`Also: ${joinWords(setup.changes.map((one) => CHANGE_WORDS[one]))}.`]),
      ...sayReports(reports.get(setup.id)),
    ];
    return {
      id: setup.id,
      when: sayMoment(setup.at),
      who: setup.who,
      title: setup.note === '' ? (earlier === undefined ? 'First setup' : 'Changed') : setup.note,
      lines: earlier === undefined ? [sentenceCase(describeSetup(setup.given)), ...lines] : lines,
      kind: n === 0 ? 'present' : '',
      href: '',
      correctHref: `/frames/${frame.id}/setups/${setup.id}/withdraw`,
      correctText: 'Withdraw',
      corrections: setup.supersedes === null ? [] : ['Takes the place of an entry that was wrong.'],
    };
  });
}

function shorten(positions: readonly number[]): string {
  return positions.length <= 8
    ? positions.join(', ')
    : `${positions.slice(0, 7).join(', ')} … (${positions.length})`;
}

/** What the model said before and after, margin by margin where it moved. */
function sayReports(reports: { readonly before: unknown; readonly after: unknown } | undefined): string[] {
  const before = (reports?.before ?? null) as SetupReport | null;
  const after = (reports?.after ?? null) as SetupReport | null;
  if (before === null || after === null) return [];
  return after.margins.flatMap((margin) => {
    const was = before.margins.find((one) => one.id === margin.id);
    if (was === undefined || Math.abs(was.chanceNegative - margin.chanceNegative) < 0.02) return [];
    return [
      `${margin.label}: the chance that nothing is left went from ${sayPercent(was.chanceNegative)} to ${sayPercent(margin.chanceNegative)}, by the model.`,
    ];
  });
}
