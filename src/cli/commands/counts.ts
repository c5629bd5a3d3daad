import {
  type AnalysisOptions,
  analyseCounts,
  answerCompare,
  answerRate,
  EXPORTS,
  exportTable,
} from '../../statistics/analysis/index.js';
import { StatisticsError } from '../../statistics/errors.js';
import type { TableKind } from '../../statistics/tables/index.js';
import { oneOf, wholeNumber } from '../arguments.js';
import { type Command, type Given, JSON_OPTION, type OptionSpec, optionText, printJson } from '../command.js';
import { printAnalysis, printQuick } from '../counts/print-answer.js';
import { readCountFile, sayMapping, TABLE_OPTIONS } from '../counts/read-counts.js';
import { argumentError, EXIT } from '../errors.js';
import { neededNumber, numberOption, readNumber } from '../numbers.js';
import type { Terminal } from '../terminal.js';

const HOURS: readonly [number, number] = [0.01, 1e8];
const NORM: readonly [number, number] = [0.01, 100_000];

/** `peelpoint counts rate`: one count, by itself or against a norm. */
export const countsRate: Command = {
  name: 'counts rate',
  summary: 'a break rate with its range, and whether it differs from the norm',
  about: [
    'Breaks per 1000 rotor-hours with the range in which the true figure lies, and whether it really differs from the norm. Rotor-hours are running hours times positions; stopped time does not count.',
  ],
  arguments: [],
  options: {
    breaks: { value: 'N', help: 'breaks counted' },
    hours: { value: 'H', help: 'rotor-hours in which they were counted' },
    norm: { value: 'R', help: 'the usual breaks per 1000 rotor-hours' },
    ...JSON_OPTION,
  },
  examples: ['peelpoint counts rate --breaks 12 --hours 100 --norm 90'],
  run: async (given, terminal) => {
    const count = wholeNumber(given, 'breaks', [0, 100_000_000]);
    if (count === undefined)
      throw argumentError('--breaks', '', 'is missing', ['--breaks with a whole number, 0 or more']);
    const rotorHours = neededNumber(given, 'hours', HOURS, 'rotor-hours');
    const norm = numberOption(given, 'norm', NORM, 'breaks per 1000 rotor-hours');
    const answer = answerRate({ count, rotorHours }, norm);
    if (given.options.has('json')) printJson(terminal, answer);
    else printQuick(terminal, answer);
    return EXIT.done;
  },
};

/** `peelpoint counts compare`: two or more counts against one another. */
export const countsCompare: Command = {
  name: 'counts compare',
  summary: 'whether two or more frames, lots or periods really differ',
  about: [
    'Holds break counts against one another. Of two, the first is the one to compare with (before, or the sister frame). With three and more each is held against the others together, and the verdicts allow for how many there are.',
  ],
  arguments: [],
  options: {
    breaks: { value: 'N,N', help: 'breaks of each, parted by commas' },
    hours: { value: 'H,H', help: 'rotor-hours of each, in the same order' },
    names: { value: 'A,B', help: 'names of them; first, second … when left out' },
    ...JSON_OPTION,
  },
  examples: [
    'peelpoint counts compare --breaks 30,14 --hours 300,280',
    'peelpoint counts compare --breaks 30,14,25 --hours 300,280,310 --names A,B,C',
  ],
  run: async (given, terminal) => {
    const counts = listOption(given, 'breaks').map((text) => {
      const value = /^\d{1,9}$/.test(text) ? Number(text) : Number.NaN;
      if (Number.isNaN(value))
        throw argumentError('--breaks', text, 'is no count', ['whole numbers parted by commas']);
      return value;
    });
    const hours = listOption(given, 'hours').map((text) => {
      const value = readNumber(text);
      if (value === undefined || value < HOURS[0] || value > HOURS[1])
        throw argumentError('--hours', text, 'are no rotor-hours', [
          `numbers from ${HOURS[0]} to ${HOURS[1]}, parted by commas`,
        ]);
      return value;
    });
    if (counts.length < 2)
      throw argumentError('--breaks', counts.join(','), 'is only one count', [
        'two or more, parted by commas',
      ]);
    if (hours.length !== counts.length)
      throw argumentError(
        '--hours',
        hours.join(','),
        `has ${hours.length} where --breaks has ${counts.length}`,
        [`${counts.length} numbers`],
      );
    const stated = given.options.has('names') ? listOption(given, 'names') : ORDINALS;
    const groups = counts.map((count, i) => ({
      id: stated[i] ?? `no. ${i + 1}`,
      count,
      rotorHours: hours[i] ?? 1,
    }));
    if (new Set(groups.map((group) => group.id)).size < groups.length)
      throw argumentError('--names', stated.join(','), 'names two alike', ['different names']);
    const answer = answerCompare(groups);
    if (given.options.has('json')) printJson(terminal, answer);
    else printQuick(terminal, answer);
    return EXIT.done;
  },
};

const ORDINALS = ['the first', 'the second', 'the third', 'the fourth', 'the fifth', 'the sixth'];

const ANALYSIS_OPTIONS: Readonly<Record<string, OptionSpec>> = {
  norm: { value: 'R', help: 'the usual breaks per 1000 rotor-hours' },
  'hours-per-position': { value: 'H', help: 'hours that every position ran over the whole table' },
  positions: { value: 'N', help: 'positions on each frame, as a log does not list those without a break' },
  ...TABLE_OPTIONS,
  figures: { help: 'print every figure behind the answer' },
  csv: { value: 'TABLE', help: `print one table as CSV: ${EXPORTS.join(', ')}` },
  ...JSON_OPTION,
};

/** `peelpoint counts positions`: a table of counts per position. */
export const countsPositions: Command = tableCommand({
  name: 'counts positions',
  kinds: ['positions'],
  summary: 'real or chance, and where: from a table of breaks per position',
  about:
    'Reads breaks per position (CSV or TSV; frame, position, breaks, hours run) and says whether a position, a run of neighbours or the whole frame really breaks more, and what to do next.',
  example: 'peelpoint counts positions frame-3.csv --hours-per-position 24 --norm 90',
});

/** `peelpoint counts log`: a log of single breaks. */
export const countsLog: Command = tableCommand({
  name: 'counts log',
  kinds: ['events'],
  summary: 'real or chance, where and since when: from a log of single breaks',
  about:
    'Reads a log with one row a break (CSV or TSV; time, frame, position, reason) and says whether something is really the matter, where, since when, at which hours, and what to do next. A million rows stream through.',
  example: 'peelpoint counts log november.csv --positions 240 --norm 90',
});

/** `peelpoint counts totals`: totals of shifts, days or frames. */
export const countsTotals: Command = tableCommand({
  name: 'counts totals',
  kinds: ['totals'],
  summary: 'real or chance, and since when: from totals of shifts, days or frames',
  about:
    'Reads totals (CSV or TSV; date, shift, frame, breaks, rotor-hours or hours run) and says whether they really rose or fell, since when, in which shift, and on which frame.',
  example: 'peelpoint counts totals shifts.csv --norm 90 --positions 240',
});

function tableCommand(spec: {
  readonly name: string;
  readonly kinds: readonly TableKind[];
  readonly summary: string;
  readonly about: string;
  readonly example: string;
}): Command {
  const running: Readonly<Record<string, OptionSpec>> = spec.kinds.includes('events')
    ? {
        running: {
          value: 'PERCENT',
          help: 'share of the time that the frames ran, in percent; 100 when left out',
        },
      }
    : {};
  return {
    name: spec.name,
    summary: spec.summary,
    about: [
      spec.about,
      'Separator, decimal comma, headers and units are recognised, and what was recognised is said. Nothing is imported if a single row is bad, unless told so.',
    ],
    arguments: [{ name: 'FILE', help: 'the table, or - for standard input' }],
    options: { ...running, ...ANALYSIS_OPTIONS },
    examples: [spec.example],
    run: (given, terminal) => runTable(given, terminal, spec.kinds),
  };
}

async function runTable(given: Given, terminal: Terminal, kinds: readonly TableKind[]): Promise<number> {
  const [file = ''] = given.arguments;
  const csvText = optionText(given, 'csv');
  const csv = csvText === undefined ? undefined : oneOf('--csv', csvText, EXPORTS, 'a table of the answer');
  const running = numberOption(given, 'running', [1, 100], 'a percentage');
  const norm = numberOption(given, 'norm', NORM, 'breaks per 1000 rotor-hours');
  const hoursPerPosition = numberOption(given, 'hours-per-position', [0.01, 1e6], 'hours');
  const positionsPerFrame = wholeNumber(given, 'positions', [1, 5000]);
  const options: AnalysisOptions = {
    ...(norm === undefined ? {} : { normPer1000: norm }),
    ...(hoursPerPosition === undefined ? {} : { hoursPerPosition }),
    ...(positionsPerFrame === undefined ? {} : { positionsPerFrame }),
    ...(running === undefined ? {} : { runningShare: running / 100 }),
  };
  const { table, mapping } = await readCountFile(file, given, kinds, terminal);
  const analysis = analyse(table, options, file);
  if (given.options.has('json')) printJson(terminal, { read: mapping.columns, ...analysis });
  else if (csv !== undefined) terminal.out(exportTable(analysis, csv));
  else printAnalysis(terminal, analysis, sayMapping(mapping), given.options.has('figures'));
  return EXIT.done;
}

function analyse(table: Parameters<typeof analyseCounts>[0], options: AnalysisOptions, file: string) {
  try {
    return analyseCounts(table, options);
  } catch (error) {
    if (error instanceof StatisticsError)
      throw argumentError('FILE', file, `cannot be used: ${error.message}`, [error.allowed]);
    throw error;
  }
}

function listOption(given: Given, name: string): string[] {
  const text = optionText(given, name);
  if (text === undefined)
    throw argumentError(`--${name}`, '', 'is missing', [`--${name} with values parted by commas`]);
  return text.split(',').map((one) => one.trim());
}

/** All of them, in the order of the help. */
export const COUNTS_COMMANDS: readonly Command[] = [
  countsRate,
  countsCompare,
  countsPositions,
  countsLog,
  countsTotals,
];
