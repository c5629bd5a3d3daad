import { pointNumber } from '../../language/number-input.js';
import { localDecimal } from '../../language/numbers.js';
import { say, wordTable } from '../../language/say.js';
import type { AnalysisOptions } from '../../statistics/analysis/index.js';
import {
  COLUMN_ROLES,
  type ColumnRole,
  checkMapping,
  type MappingProposal,
  type TableMapping,
} from '../../statistics/tables/index.js';

/** A field that cannot be used. */
export interface QueryProblem {
  /** Name of the control. */
  readonly name: string;
  readonly text: string;
  readonly allowed: string;
}

/** What the address says of a table: how its columns are to be read and what is known beside it. */
export interface TableQuery {
  readonly mapping: TableMapping;
  readonly options: AnalysisOptions;
  readonly leaveOut: boolean;
  readonly without: readonly string[];
  readonly problems: readonly QueryProblem[];
}

/** The number fields of the page with their ranges. */
export const NUMBER_FIELDS = {
  norm: { range: [0.01, 100_000], unit: '' },
  hours: { range: [0.01, 1_000_000], unit: 'h' },
  positions: { range: [1, 5000], unit: '' },
  running: { range: [1, 100], unit: '%' },
} as const;
export type NumberField = keyof typeof NUMBER_FIELDS;
/** What the number fields are called. */
export const FIELD_LABELS: Readonly<Record<NumberField, string>> = wordTable('table-field', [
  'norm',
  'hours',
  'positions',
  'running',
]);

const MOST_REASONS = 40;

/** Reads the address; what it leaves out is as proposed. */
export function readTableQuery(params: URLSearchParams, proposal: MappingProposal): TableQuery {
  const problems: QueryProblem[] = [];
  const { mapping } = proposal;
  const asked = [...params.keys()].some((name) => name.startsWith('col.'));
  const columns: Partial<Record<ColumnRole, number>> = asked ? {} : { ...mapping.columns };
  if (asked)
    mapping.headers.forEach((header, index) => {
      const role = COLUMN_ROLES.find((one) => one === params.get(`col.${index}`));
      if (role === undefined) return;
      if (columns[role] === undefined) columns[role] = index;
      else
        problems.push({
          name: `col.${index}`,
          text: say('counts.column-twice', { header }),
          allowed: say('counts.each-once'),
        });
    });
  const decimal = params.get('decimal');
  const dates = params.get('dates');
  const unit = params.get('unit');
  const read: TableMapping = {
    ...mapping,
    columns,
    dialect: { ...mapping.dialect, ...(decimal === '.' || decimal === ',' ? { decimal } : {}) },
    ...(dates === 'dmy' || dates === 'mdy' ? { dateOrder: dates } : {}),
    ...(unit === 'h' || unit === 'min' || unit === 's' ? { hoursUnit: unit } : {}),
  };
  for (const text of problems.length > 0 ? [] : checkMapping(read))
    problems.push({ name: 'col.0', text: say('counts.columns-problem', { problem: text }), allowed: '' });
  if (asked && read.dateOrder === undefined && proposal.questions.some((one) => one.includes('day first')))
    problems.push({
      name: 'dates',
      text: say('counts.dates-two-ways'),
      allowed: say('counts.dates-allowed'),
    });

  const options: { -readonly [Key in keyof AnalysisOptions]: AnalysisOptions[Key] } = {};
  for (const [name, field] of Object.entries(NUMBER_FIELDS) as [
    NumberField,
    (typeof NUMBER_FIELDS)[NumberField],
  ][]) {
    const text = params.get(name)?.trim() ?? '';
    if (text === '') continue;
    const value = readPlainNumber(text);
    const whole = name === 'positions';
    const [least, most] = field.range;
    if (value === undefined || value < least || value > most || (whole && !Number.isInteger(value))) {
      problems.push({
        name,
        text: say('counts.field-unusable', { field: FIELD_LABELS[name], text: text.slice(0, 40) }),
        allowed: say(whole ? 'counts.whole-range' : 'counts.number-range', {
          least: localDecimal(String(least)),
          most,
        }),
      });
      continue;
    }
    if (name === 'norm') options.normPer1000 = value;
    if (name === 'hours') options.hoursPerPosition = value;
    if (name === 'positions') options.positionsPerFrame = value;
    if (name === 'running') options.runningShare = value / 100;
  }
  return {
    mapping: read,
    options,
    leaveOut: params.get('leave-out') === '1',
    without: params.getAll('without').slice(0, MOST_REASONS),
    problems,
  };
}

/** A number as typed: decimal point or comma, in the notation of the reader's language. */
export function readPlainNumber(text: string): number | undefined {
  const plain = pointNumber(text.trim());
  return /^\d{1,12}(?:[.,]\d{1,9})?$/.test(plain) ? Number(plain.replace(',', '.')) : undefined;
}
