import { createReadStream } from 'node:fs';
import { open, stat } from 'node:fs/promises';
import type { CaseProblem } from '../../rules/case/types.js';
import {
  COLUMN_ROLES,
  type ColumnRole,
  type CountTable,
  checkMapping,
  inspectTable,
  kindOf,
  type MappingProposal,
  ROLE_WORDS,
  readTable,
  SAMPLE_BYTES,
  type TableKind,
  type TableMapping,
  type TableSource,
} from '../../statistics/tables/index.js';
import { oneOf } from '../arguments.js';
import { type Given, type OptionSpec, optionText } from '../command.js';
import { argumentError, InputError } from '../errors.js';
import { startProgress } from '../progress.js';
import { sayFault, sourceName } from '../source.js';
import type { Terminal } from '../terminal.js';

/** Options of all commands that read a table. */
export const TABLE_OPTIONS: Readonly<Record<string, OptionSpec>> = {
  columns: {
    value: 'LIST',
    help: 'which column is what, by number or header, where it is not recognised: "time=1,position=Rotor"',
  },
  'date-order': { value: 'dmy|mdy', help: 'day or month first, for dates that can be read both ways' },
  'leave-out-bad-rows': { help: 'import what can be read; without it a single bad row stops the import' },
  without: { value: 'REASONS', help: 'reasons that are no breaks, parted by commas: "doff,cleaning"' },
};

/** Most bytes taken from standard input, which is kept in memory. */
const MOST_INPUT = 100_000_000;
const PROBLEMS_SHOWN = 20;

/** A table read from a file, with how it was understood. */
export interface CountFile {
  readonly table: CountTable;
  readonly mapping: TableMapping;
  readonly kind: TableKind;
}

/**
 * Reads a table of breaks from a file or from standard input.
 * @param wanted kinds that the command can use
 * @throws InputError for a file that cannot be read, a table that is not understood, and bad rows
 */
export async function readCountFile(
  file: string,
  given: Given,
  wanted: readonly TableKind[],
  terminal: Terminal,
): Promise<CountFile> {
  const input = await openInput(file, terminal);
  const { proposal } = inspectTable(input.start);
  const mapping = settleMapping(proposal, given);
  const kind = kindOf(mapping.columns);
  if (kind === undefined || !wanted.includes(kind)) {
    throw argumentError(
      'FILE',
      file,
      kind === undefined
        ? 'names neither breaks nor positions nor times that can be recognised'
        : `holds ${KIND_WORDS[kind]}, not ${wanted.map((one) => KIND_WORDS[one]).join(' or ')}`,
      [`a table of ${wanted.map((one) => KIND_WORDS[one]).join(' or ')}`],
      kind === undefined ? `${sayColumns(proposal)} Say which is which with --columns.` : COMMAND_HINT[kind],
    );
  }
  const progress = startProgress(terminal, input.size);
  const without = optionText(given, 'without');
  const reading = await readTable(input.source, mapping, {
    leaveOutBadRows: given.options.has('leave-out-bad-rows'),
    ...(without === undefined ? {} : { withoutReasons: without.split(',').map((one) => one.trim()) }),
    onProgress: ({ bytes, rows, badRows }) =>
      progress.update(bytes, `${rows} rows${badRows > 0 ? `, ${badRows} bad` : ''}`),
  });
  progress.clear();
  if (reading.ok) return { table: reading.table, mapping, kind };
  const { listed, total } = reading.badRows;
  const shown = given.options.has('json') ? listed : listed.slice(0, PROBLEMS_SHOWN);
  const problems: CaseProblem[] = shown.map((row) => ({
    field: '',
    line: row.line,
    value: '',
    message: row.reason,
    allowed: [],
  }));
  const more = total > shown.length ? ` ${total - shown.length} more are not listed.` : '';
  throw new InputError(
    `${sourceName(file)}: ${reading.problem.replace(/\.$/, '')}`,
    problems,
    total > 0 ? `With --leave-out-bad-rows the other rows are imported.${more}` : undefined,
  );
}

/** How the columns were understood, in one sentence. */
export function sayMapping(mapping: TableMapping): string {
  const parts = COLUMN_ROLES.flatMap((role) => {
    const index = mapping.columns[role];
    return index === undefined ? [] : [`${ROLE_WORDS[role]} from "${mapping.headers[index]}"`];
  });
  return `Read: ${parts.join(', ')}.`;
}

const KIND_WORDS: Readonly<Record<TableKind, string>> = {
  positions: 'counts per position',
  events: 'single breaks with their time or position',
  totals: 'totals of shifts, days or frames',
};
const COMMAND_HINT: Readonly<Record<TableKind, string>> = {
  positions: 'Use "peelpoint counts positions" for it.',
  events: 'Use "peelpoint counts log" for it.',
  totals: 'Use "peelpoint counts totals" for it.',
};

function sayColumns(proposal: MappingProposal): string {
  return `Its columns: ${proposal.guesses.map((one) => `${one.index + 1} "${one.header}"`).join(', ')}.`;
}

function settleMapping(proposal: MappingProposal, given: Given): TableMapping {
  const columns = { ...proposal.mapping.columns };
  const stated = optionText(given, 'columns');
  for (const part of stated?.split(',') ?? []) {
    const [name = '', column = ''] = part.split('=').map((one) => one.trim());
    const role = oneOf('--columns', name, COLUMN_ROLES, 'a kind of column');
    const index = columnIndex(proposal, column);
    for (const other of Object.keys(columns) as ColumnRole[])
      if (columns[other] === index) delete columns[other];
    columns[role] = index;
    if (role === 'time') {
      delete columns.date;
      delete columns.clock;
    }
    if (role === 'date') delete columns.time;
  }
  const orderText = optionText(given, 'date-order');
  const order =
    orderText === undefined
      ? undefined
      : oneOf('--date-order', orderText, ['dmy', 'mdy'] as const, 'an order of day and month');
  const mapping: TableMapping = {
    ...proposal.mapping,
    columns,
    ...(order === undefined ? {} : { dateOrder: order }),
  };
  const [problem] = stated === undefined ? [] : checkMapping(mapping);
  if (problem !== undefined) throw argumentError('--columns', stated ?? '', problem, [sayColumns(proposal)]);
  if (order === undefined && proposal.questions.some((question) => question.includes('day first')))
    throw argumentError('--date-order', '', 'is needed: the dates can be read as day first or month first', [
      'dmy',
      'mdy',
    ]);
  const guessed = proposal.guesses.filter((guess) => guess.confidence === 'guess');
  if (stated === undefined && guessed.length > 0) {
    const likely = COLUMN_ROLES.flatMap((role) =>
      columns[role] === undefined ? [] : [`${role}=${columns[role] + 1}`],
    ).join(',');
    throw argumentError(
      'FILE',
      guessed.map((guess) => guess.header).join(', '),
      'is not sure to be what it looks like',
      ['headers that say what the columns hold, or --columns'],
      `If it is right: --columns "${likely}". ${sayColumns(proposal)}`,
    );
  }
  return mapping;
}

function columnIndex(proposal: MappingProposal, column: string): number {
  const { headers } = proposal.mapping;
  const number = /^\d{1,4}$/.test(column) ? Number(column) - 1 : -1;
  const named = headers.findIndex((header) => header.toLowerCase() === column.toLowerCase());
  const index = named >= 0 ? named : number;
  if (index >= 0 && index < headers.length) return index;
  throw argumentError('--columns', column, 'is no column of this table', [sayColumns(proposal)]);
}

interface Input {
  readonly start: Uint8Array;
  readonly source: TableSource;
  /** Bytes in all. */
  readonly size: number;
}

async function openInput(file: string, terminal: Terminal): Promise<Input> {
  const allowed = ['the name of a CSV or TSV file that can be read, or - for standard input'];
  if (file === '-') {
    const bytes = await terminal.readInput(MOST_INPUT);
    if (bytes.length > MOST_INPUT)
      throw argumentError('FILE', file, 'is too large for standard input', [
        'at most 100 MB; name the file instead',
      ]);
    return { start: bytes.subarray(0, SAMPLE_BYTES + 1), source: bytes, size: bytes.length };
  }
  try {
    const status = await stat(file);
    if (status.isDirectory()) throw argumentError('FILE', file, 'is a folder, not a file', allowed);
    const handle = await open(file);
    try {
      const buffer = new Uint8Array(SAMPLE_BYTES + 1);
      const { bytesRead } = await handle.read(buffer, 0, buffer.length, 0);
      return {
        start: buffer.subarray(0, bytesRead),
        source: createReadStream(file, { highWaterMark: 65_536 }),
        size: status.size,
      };
    } finally {
      await handle.close();
    }
  } catch (error) {
    if (error instanceof InputError) throw error;
    throw argumentError('FILE', file, sayFault(error), allowed);
  }
}
