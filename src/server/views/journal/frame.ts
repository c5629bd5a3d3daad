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
import { say } from '../../../language/say.js';
import type { SetupReport } from '../../../rules/index.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import { CHANGE_WORDS, joinWords, sentenceCase } from '../../../rules/words.js';
import type { FactView, FramePage, JournalHead, StepView } from '../../../templates/journal-models.js';
import type { Names } from '../../journal/names.js';
import { type DayRate, drawBreakDays } from '../../pictures/break-days.js';
import { sayPercent, sayRough } from '../../words.js';
import { plainUnits } from '../plain-units.js';
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
    setupLine: present === undefined ? say('mill.no-setup') : sentenceCase(describeSetup(present.given)),
    actions: [
      { href: `/bench?frame=${frame.id}`, text: say('mill.diagnose') },
      { href: `/setup?frame=${frame.id}`, text: say('mill.see-setup') },
      { href: `/frames/${frame.id}/setup`, text: say('mill.record-change') },
      { href: `/frames/${frame.id}/edit`, text: say('mill.edit-frame') },
    ],
    lately: {
      heading: say('mill.lately'),
      spans: SPANS.map((days) => ({
        href: `/frames/${frame.id}?days=${days}#lately`,
        text: days === 1 ? say('mill.hours-24') : say('mill.n-days', { n: days }),
        current: days === span,
      })),
      items: lately.entries.map((entry) => ({
        title: `${sayMoment(entry.at)}, ${entry.who}`,
        lines: [
          ...sayDifferences(entry.differences),
          ...(entry.lot === undefined
            ? []
            : [
                say('mill.lot-change', {
                  before: named(names.lots, entry.lot.before),
                  after: named(names.lots, entry.lot.after),
                }),
              ]),
          ...(entry.yarn === undefined
            ? []
            : [
                say('mill.yarn-change', {
                  before: named(names.yarns, entry.yarn.before),
                  after: named(names.yarns, entry.yarn.after),
                }),
              ]),
          ...(entry.changes.length === 0
            ? []
            : [say('mill.counts-as', { changes: joinWords(entry.changes.map((one) => CHANGE_WORDS[one])) })]),
          ...(entry.note === '' ? [] : [entry.note]),
        ],
      })),
      words:
        lately.entries.length > 0
          ? ''
          : lately.before === null
            ? say('mill.too-short')
            : span === 1
              ? say('mill.nothing-24')
              : say('mill.nothing-days', { n: span }),
      benchHref: parts.benchHref,
      benchText: lately.entries.length > 0 ? say('mill.with-changes') : say('mill.with-this'),
    },
    picture: rates.some((one) => one.rate !== undefined)
      ? drawBreakDays(say('mill.breaks-picture', { frame: frame.name }), rates, norm)
      : undefined,
    pictureNote: rates.some((one) => one.rate !== undefined)
      ? norm === undefined
        ? say('mill.picture-note')
        : say('mill.picture-note-usual', { rate: sayRough(norm) })
      : say('mill.no-counts'),
    days: viewTable(
      'days',
      say('mill.breaks-by-day'),
      [say('mill.day'), `#${say('mill.breaks')}`, `#${say('mill.rotor-hours')}`, `#${say('mill.per-1000')}`],
      [...history.days].reverse().map((day) => {
        const { breaks, hours } = countOf(day);
        return [
          sayDate(day.day),
          String(breaks),
          sayRough(hours),
          hours > 0 ? sayRough((1000 * breaks) / hours) : '–',
        ];
      }),
      say('mill.none'),
    ),
    cases: casesTable('frame-cases', history.cases.slice(0, 10), knowledge, names, say('mill.no-case'), {
      frame: false,
    }),
    complaints: viewTable(
      'frame-complaints',
      say('mill.complaints-on'),
      [
        say('overview.complaint'),
        say('complaint.customer'),
        say('complaint.received'),
        say('overview.stands'),
      ],
      history.complaints.map((one) => [
        { text: one.fabricFault, href: `/complaints/${one.id}` },
        one.customer,
        sayDay(one.receivedAt),
        COMPLAINT_STATE_WORDS[one.state as keyof typeof COMPLAINT_STATE_WORDS] ?? one.state,
      ]),
      say('mill.no-complaint'),
    ),
    history: entries.slice(0, HISTORY_SHOWN),
    earlier: entries.slice(HISTORY_SHOWN),
  };
}

const named = (names: ReadonlyMap<string, string>, id: string | null): string =>
  id === null ? say('complaint.none') : (names.get(id) ?? id);

function frameFacts({ frame, yarn, setups, hours }: FrameParts, names: Names): FactView[] {
  const [present] = setups;
  const facts: FactView[] = [];
  const add = (term: string, text: string, href = '') => {
    if (text !== '') facts.push({ term, text, href });
  };
  add(say('mill.place'), frame.place);
  add(say('mill.positions'), String(frame.positions));
  add(say('mill.sections'), frame.sections.map((one) => `${one.name} ${one.first}–${one.last}`).join('; '));
  add(say('mill.spins'), yarn?.name ?? '', yarn === undefined ? '' : `/quality?yarn=${yarn.id}&months=6`);
  add(say('record.lot'), present?.lot == null ? '' : named(names.lots, present.lot));
  for (const part of ['nozzle', 'tube', 'rotor'] as const) {
    const own = hours.filter((one) => one.part === part).map((one) => one.hours);
    if (own.length === 0) continue;
    const [low, high] = [Math.min(...own), Math.max(...own)];
    add(
      say(`mill.run-${part}`),
      high - low < 50
        ? `${sayRough(high)}\u00a0h`
        : say('mill.hours-range', { low: sayRough(low), high: `${sayRough(high)}\u00a0h` }),
      '/parts',
    );
  }
  add(say('record.note'), frame.note);
  if (frame.retired) add('', say('mill.not-in-use'));
  return facts;
}

/** Differences of settings as sentences. */
export const sayDifferences = (differences: readonly SetupDifference[]): string[] =>
  differences.map(
    ({ field, before, after }) =>
      `${setupLabelOf(`setup.${field}`) ?? field}: ${plainUnits(before ?? say('mill.not-given'))} → ${plainUnits(after ?? say('mill.not-given'))}.`,
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
        ? [
            say('mill.lot-change', {
              before: named(names.lots, earlier.lot),
              after: named(names.lots, setup.lot),
            }),
          ]
        : []),
      ...(earlier !== undefined && earlier.yarn !== setup.yarn
        ? [
            say('mill.yarn-change', {
              before: named(names.yarns, earlier.yarn),
              after: named(names.yarns, setup.yarn),
            }),
          ]
        : []),
      ...setup.renewed.map((one) =>
        say('mill.put-in', {
          part: say(`mill.part-${one.part}`),
          where:
            one.positions === null
              ? say('mill.on-frame')
              : say('mill.at-positions', { n: one.positions.length, list: shorten(one.positions) }),
          state: one.hours > 0 ? say('mill.with-hours', { hours: one.hours }) : say('mill.new'),
        }),
      ),
      ...(setup.changes.length === 0
        ? []
        : [say('mill.also', { changes: joinWords(setup.changes.map((one) => CHANGE_WORDS[one])) })]),
      ...sayReports(reports.get(setup.id)),
    ];
    return {
      id: setup.id,
      when: sayMoment(setup.at),
      who: setup.who,
      title:
        setup.note === ''
          ? earlier === undefined
            ? say('mill.first-setup')
            : say('mill.changed')
          : setup.note,
      lines: earlier === undefined ? [sentenceCase(describeSetup(setup.given)), ...lines] : lines,
      kind: n === 0 ? 'present' : '',
      href: '',
      correctHref: `/frames/${frame.id}/setups/${setup.id}/withdraw`,
      correctText: say('complaint.withdraw'),
      corrections: setup.supersedes === null ? [] : [say('mill.superseded')],
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
      say('mill.moved', {
        margin: margin.label,
        before: sayPercent(was.chanceNegative),
        after: sayPercent(margin.chanceNegative),
      }),
    ];
  });
}
