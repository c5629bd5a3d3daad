import { say, wordTable } from '../../../language/say.js';
import {
  type BadRows,
  COLUMN_ROLES,
  kindOf,
  ROLE_WORDS,
  type TableInspection,
  type TableKind,
} from '../../../statistics/tables/index.js';
import type { CountSelectView, CountsColumnsPage } from '../../../templates/counts-models.js';
import {
  FIELD_LABELS,
  NUMBER_FIELDS,
  type NumberField,
  type QueryProblem,
  type TableQuery,
} from '../../counts/table-query.js';
import { KEPT_MINUTES, type KeptTable } from '../../counts/table-store.js';
import { controlId } from '../errors.js';
import { viewTabs } from './shared.js';

const KIND_WORDS: Readonly<Record<TableKind, string>> = wordTable('table-kind', [
  'positions',
  'events',
  'totals',
]);
const SURE_WORDS = wordTable('table-sure', ['sure', 'likely', 'guess']);
const PREVIEW_ROWS = 6;
const BAD_SHOWN = 50;

/** The page on which the columns of a table are confirmed. */
export function viewColumns(input: {
  readonly table: KeptTable;
  readonly inspection: TableInspection;
  readonly query: TableQuery;
  readonly params: URLSearchParams;
  /** Whether problems are to be shown, or the page is open for the first time. */
  readonly checked: boolean;
  readonly refused?: { readonly problem: string; readonly bad: BadRows };
}): CountsColumnsPage {
  const { table, inspection, query, params, checked, refused } = input;
  const { proposal, rows } = inspection;
  const { mapping } = query;
  const kind = kindOf(mapping.columns);
  const problems = checked ? query.problems : [];
  const withHours =
    mapping.columns['rotor-hours'] !== undefined || mapping.columns['run-hours'] !== undefined;
  const timed = mapping.columns.time !== undefined || mapping.columns.date !== undefined;
  return {
    tabs: viewTabs('/counts'),
    action: `/counts/table/${table.id}/answer`,
    name: table.name,
    understood: kind === undefined ? say('counts.not-clear') : KIND_WORDS[kind],
    errors: {
      items: [
        ...problems.map((problem) => ({
          href: `#${controlId(problem.name)}`,
          text: problem.text,
          allowed: problem.allowed,
        })),
        ...(refused === undefined
          ? []
          : [
              {
                href: refused.bad.total > 0 ? '#bad-rows' : `#${controlId('col.0')}`,
                text: refused.problem,
                allowed: '',
              },
            ]),
      ],
    },
    bad:
      refused === undefined || refused.bad.total === 0
        ? undefined
        : {
            text: say('counts.unread', { n: refused.bad.total }),
            rows: refused.bad.listed.slice(0, BAD_SHOWN).map((row) => ({
              line: row.line > 0 ? String(row.line) : '–',
              reason: row.reason,
              text: row.text,
            })),
            more:
              refused.bad.total > BAD_SHOWN
                ? say('counts.not-listed', { n: refused.bad.total - BAD_SHOWN })
                : '',
          },
    columns: mapping.headers.map((header, index) => {
      const role = COLUMN_ROLES.find((one) => mapping.columns[one] === index);
      const guess = proposal.guesses[index];
      const name = `col.${index}`;
      return {
        id: controlId(name),
        name,
        label: header,
        hint: '',
        examples: guess?.examples.join(' · ') ?? '',
        sure: guess?.confidence === undefined || role !== guess.role ? '' : SURE_WORDS[guess.confidence],
        options: [
          { id: controlId(name), value: '', label: say('counts.not-needed'), chosen: role === undefined },
          ...COLUMN_ROLES.map((one) => ({
            id: `${controlId(name)}-${one}`,
            value: one,
            label: ROLE_WORDS[one],
            chosen: one === role,
          })),
        ],
      };
    }),
    dateOrder: timed
      ? select('dates', say('counts.dates'), '', mapping.dateOrder ?? '', [
          ['', say('counts.dates-sure')],
          ['dmy', say('counts.day-first')],
          ['mdy', say('counts.month-first')],
        ])
      : undefined,
    dialect: [
      select('decimal', say('counts.decimal'), '', mapping.dialect.decimal, [
        ['.', say('counts.point')],
        [',', say('counts.comma')],
      ]),
      ...(withHours
        ? [
            select('unit', say('counts.hours-in'), '', mapping.hoursUnit ?? 'h', [
              ['h', say('counts.hours')],
              ['min', say('counts.minutes')],
              ['s', say('counts.seconds')],
            ]),
          ]
        : []),
    ],
    fields: (Object.keys(NUMBER_FIELDS) as NumberField[])
      .filter((name) => name !== 'running' || kind === 'events')
      .map((name) => ({
        id: controlId(name),
        name,
        label: FIELD_LABELS[name],
        unit: NUMBER_FIELDS[name].unit,
        value: params.get(name) ?? '',
        hint: HINTS[name](kind, withHours),
        error: problemOf(problems, name),
        numeric: true,
      })),
    leaveOut: query.leaveOut,
    hidden: query.without.map((value) => ({ name: 'without', value })),
    preview: {
      columns: mapping.headers,
      rows: rows
        .slice(0, PREVIEW_ROWS)
        .map((row) => mapping.headers.map((_, i) => row[i]?.slice(0, 40) ?? '')),
    },
    kept: say('counts.table-kept', { minutes: KEPT_MINUTES }),
  };
}

const HINTS: Readonly<Record<NumberField, (kind: TableKind | undefined, withHours: boolean) => string>> = {
  norm: () => say('counts.hint-norm'),
  hours: (kind, withHours) =>
    kind === 'events'
      ? say('counts.hint-log-hours')
      : withHours
        ? say('counts.hint-table-hours')
        : say('counts.hint-hours'),
  positions: (kind) => (kind === 'events' ? say('counts.hint-log-positions') : say('counts.hint-positions')),
  running: () => say('counts.hint-running'),
};

const problemOf = (problems: readonly QueryProblem[], name: string) => {
  const problem = problems.find((one) => one.name === name);
  return problem === undefined
    ? ''
    : say('counts.problem-allowed', { problem: problem.text, allowed: problem.allowed });
};

function select(
  name: string,
  label: string,
  hint: string,
  chosen: string,
  words: readonly (readonly [string, string])[],
): CountSelectView {
  return {
    id: controlId(name),
    name,
    label,
    hint,
    options: words.map(([value, text], i) => ({
      id: i === 0 ? `${controlId(name)}-first` : `${controlId(name)}-${value}`,
      value,
      label: text,
      chosen: value === chosen,
    })),
  };
}
