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
  NUMBER_FIELDS,
  type NumberField,
  type QueryProblem,
  type TableQuery,
} from '../../counts/table-query.js';
import { KEPT_MINUTES, type KeptTable } from '../../counts/table-store.js';
import { controlId } from '../errors.js';
import { viewTabs } from './shared.js';

const KIND_WORDS: Readonly<Record<TableKind, string>> = {
  positions: 'Each row is taken for the breaks of one position.',
  events: 'Each row is taken for one break.',
  totals: 'Each row is taken for the breaks of a shift, a day or a frame.',
};
const SURE_WORDS = { sure: 'sure', likely: 'likely', guess: 'a guess: please look' } as const;
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
    understood: kind === undefined ? 'What the rows stand for is not clear yet.' : KIND_WORDS[kind],
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
            text: `${refused.bad.total} rows cannot be read. Mend them in the file and send it again, or tick “leave the bad rows out” below.`,
            rows: refused.bad.listed.slice(0, BAD_SHOWN).map((row) => ({
              line: row.line > 0 ? String(row.line) : '–',
              reason: row.reason,
              text: row.text,
            })),
            more:
              refused.bad.total > BAD_SHOWN ? `${refused.bad.total - BAD_SHOWN} more are not listed.` : '',
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
          { id: controlId(name), value: '', label: 'not needed', chosen: role === undefined },
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
      ? select('dates', 'Dates such as 03/04/2026', '', mapping.dateOrder ?? '', [
          ['', 'cannot be mistaken'],
          ['dmy', 'day first'],
          ['mdy', 'month first'],
        ])
      : undefined,
    dialect: [
      select('decimal', 'Decimal sign', '', mapping.dialect.decimal, [
        ['.', 'point: 7.5'],
        [',', 'comma: 7,5'],
      ]),
      ...(withHours
        ? [
            select('unit', 'Hours are written in', '', mapping.hoursUnit ?? 'h', [
              ['h', 'hours'],
              ['min', 'minutes'],
              ['s', 'seconds'],
            ]),
          ]
        : []),
    ],
    fields: (Object.keys(NUMBER_FIELDS) as NumberField[])
      .filter((name) => name !== 'running' || kind === 'events')
      .map((name) => ({
        id: controlId(name),
        name,
        label: NUMBER_FIELDS[name].label,
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
    kept: `The table stays in the memory of this server for ${KEPT_MINUTES} minutes after it was last looked at, and is written nowhere.`,
  };
}

const HINTS: Readonly<Record<NumberField, (kind: TableKind | undefined, withHours: boolean) => string>> = {
  norm: () => 'Leave empty if there is none: places and times are judged without it.',
  hours: (kind, withHours) =>
    kind === 'events'
      ? 'Leave empty to take the time from the first to the last break.'
      : withHours
        ? 'Leave empty: the table says it.'
        : 'For rates: 24 for a whole day, 8 for a shift.',
  positions: (kind) =>
    kind === 'events'
      ? 'A log does not list positions without a break.'
      : 'Needed only where the table gives hours of whole frames.',
  running: () => '100 when left empty.',
};

const problemOf = (problems: readonly QueryProblem[], name: string) => {
  const problem = problems.find((one) => one.name === name);
  return problem === undefined ? '' : `${problem.text} Allowed: ${problem.allowed}.`;
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
