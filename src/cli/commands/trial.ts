import {
  answerBeforeAfter,
  answerNormTrial,
  answerPlan,
  answerTrial,
  type TrialAnswer,
} from '../../statistics/analysis/index.js';
import { StatisticsError } from '../../statistics/errors.js';
import type { CountOverHours } from '../../statistics/exposure.js';
import { chooseTrialPositions } from '../../statistics/trial-positions.js';
import { wholeNumber } from '../arguments.js';
import { type Command, type Given, JSON_OPTION, optionText, printJson } from '../command.js';
import { printQuick } from '../counts/print-answer.js';
import { argumentError, EXIT } from '../errors.js';
import { startPage } from '../layout/page.js';
import { neededNumber, numberOption, readNumber } from '../numbers.js';

const RATE: readonly [number, number] = [0.01, 100_000];

/** `peelpoint trial plan`: how long a trial must run. */
export const trialPlan: Command = {
  name: 'trial plan',
  summary: 'how many rotor-hours a trial needs to show a change of the break rate',
  about: [
    'Plans a side-by-side trial: rotor-hours on the changed positions and as many on the positions beside them, so that the change named is noticed with the chance asked for.',
  ],
  arguments: [],
  options: {
    from: { value: 'R', help: 'breaks per 1000 rotor-hours now' },
    to: { value: 'R', help: 'the rate that would be worth having' },
    power: { value: 'P', help: 'chance of noticing it, 0.5 to 0.99; 0.8 when left out' },
    dispersion: {
      value: 'F',
      help: 'how much more the counts scatter than by chance, 1 to 100; 1 when left out',
    },
    positions: { value: 'N', help: 'changed positions, for the running time' },
    ...JSON_OPTION,
  },
  examples: ['peelpoint trial plan --from 100 --to 60 --power 0.8 --positions 8'],
  run: async (given, terminal) => {
    const fromPer1000 = neededNumber(given, 'from', RATE, 'breaks per 1000 rotor-hours');
    const toPer1000 = neededNumber(given, 'to', RATE, 'breaks per 1000 rotor-hours');
    if (fromPer1000 === toPer1000)
      throw argumentError('--to', String(toPer1000), 'is the same as --from', ['another rate']);
    const power = numberOption(given, 'power', [0.5, 0.99], 'a chance');
    const dispersion = numberOption(given, 'dispersion', [1, 100], 'a factor');
    const positions = wholeNumber(given, 'positions', [1, 2500]);
    const answer = guard('--to', () =>
      answerPlan({
        fromPer1000,
        toPer1000,
        ...(power === undefined ? {} : { power }),
        ...(dispersion === undefined ? {} : { dispersion }),
        ...(positions === undefined ? {} : { positions }),
      }),
    );
    if (given.options.has('json')) printJson(terminal, answer);
    else printQuick(terminal, answer);
    return EXIT.done;
  },
};

/** `peelpoint trial evaluate`: what a trial says so far. */
export const trialEvaluate: Command = {
  name: 'trial evaluate',
  summary: 'what a trial says so far: better, no worse, worse, or how much longer',
  about: [
    'Judges a trial at any time and as often as wanted. Counts are written breaks/rotor-hours; several stretches of one trial are parted by commas, in the same order on both sides.',
    'Best are controls that ran at the same time (--treated and --control). Without controls a norm can be given (--treated and --norm). A stretch before and one after (--before and --after) is compared too, but cannot tell the change from the weather.',
  ],
  arguments: [],
  options: {
    treated: { value: 'N/H', help: 'breaks/rotor-hours of the changed positions' },
    control: { value: 'N/H', help: 'breaks/rotor-hours of the unchanged positions over the same time' },
    norm: { value: 'R', help: 'usual breaks per 1000 rotor-hours, where there are no controls' },
    before: { value: 'N/H', help: 'breaks/rotor-hours before the change' },
    after: { value: 'N/H', help: 'breaks/rotor-hours after it' },
    picked: { help: 'the positions were picked because they were bad (with --before)' },
    worthwhile: {
      value: 'R',
      help: 'ratio that makes the change worthwhile, 0.1 to 0.99; 0.8 when left out',
    },
    tolerated: { value: 'R', help: 'ratio up to which a rise is put up with, 1 to 5; 1.25 when left out' },
    dispersion: { value: 'F', help: 'how much more the counts scatter than by chance; 1 when left out' },
    ...JSON_OPTION,
  },
  examples: [
    'peelpoint trial evaluate --treated 12/300 --control 30/310',
    'peelpoint trial evaluate --treated 12/300,9/280 --control 30/300,22/280',
    'peelpoint trial evaluate --treated 12/300 --norm 90',
    'peelpoint trial evaluate --before 40/300 --after 18/300 --picked',
  ],
  run: async (given, terminal) => {
    const answer = evaluate(given);
    if (given.options.has('json')) printJson(terminal, answer);
    else printQuick(terminal, answer);
    return EXIT.done;
  },
};

/** `peelpoint trial positions`: which positions carry the change. */
export const trialPositions: Command = {
  name: 'trial positions',
  summary: 'choose the positions of a trial, spread over the frame, with controls beside',
  about: [
    'Chooses pairs of neighbours spread evenly over the frame, one changed and one left alone, and the order in which their parts are exchanged.',
  ],
  arguments: [],
  options: {
    frame: { value: 'N', help: 'positions on the frame (one side, numbered along it)' },
    trial: { value: 'N', help: 'changed positions wanted' },
    section: { value: 'N', help: 'positions of a section that share parts; 24 when left out' },
    exclude: { value: 'LIST', help: 'positions not to be used, parted by commas' },
    ...JSON_OPTION,
  },
  examples: ['peelpoint trial positions --frame 240 --trial 8'],
  run: async (given, terminal) => {
    const positions = needed(given, 'frame', [2, 5000]);
    const pairs = needed(given, 'trial', [1, 2500]);
    const section = wholeNumber(given, 'section', [2, 5000]) ?? Math.min(24, positions);
    const exclude = (optionText(given, 'exclude') ?? '')
      .split(',')
      .map((one) => one.trim())
      .filter((one) => one !== '')
      .map((text) => {
        if (/^\d{1,4}$/.test(text)) return Number(text);
        throw argumentError('--exclude', text, 'is no position', ['numbers parted by commas']);
      });
    const layout = guard('--trial', () =>
      chooseTrialPositions({ positions, sectionSize: section, pairs, exclude }),
    );
    if (given.options.has('json')) {
      printJson(terminal, layout);
      return EXIT.done;
    }
    const page = startPage(terminal);
    page.strong(layout.words);
    page.heading('Pairs');
    page.table(
      [
        { title: 'changed', align: 'right' },
        { title: 'control', align: 'right' },
        { title: 'section', align: 'right' },
      ],
      layout.pairs.map((pair) => [String(pair.changed), String(pair.control), String(pair.section)]),
      '  ',
    );
    page.heading('Quarters of the hours');
    page.table(
      [
        { title: 'quarter', align: 'right' },
        { title: 'changed positions', wraps: true },
      ],
      layout.blocks.map((block) => [String(block.block), block.changed.join(', ')]),
      '  ',
    );
    page.print();
    return EXIT.done;
  },
};

function evaluate(given: Given): TrialAnswer {
  const treated = counts(given, 'treated');
  const control = counts(given, 'control');
  const before = counts(given, 'before');
  const after = counts(given, 'after');
  const norm = numberOption(given, 'norm', RATE, 'breaks per 1000 rotor-hours');
  const worthwhileRatio = numberOption(given, 'worthwhile', [0.1, 0.99], 'a ratio');
  const toleratedRatio = numberOption(given, 'tolerated', [1, 5], 'a ratio');
  const dispersion = numberOption(given, 'dispersion', [1, 100], 'a factor');
  const rule = {
    ...(worthwhileRatio === undefined ? {} : { worthwhileRatio }),
    ...(toleratedRatio === undefined ? {} : { toleratedRatio }),
  };
  if (before !== undefined || after !== undefined) {
    if (before === undefined || after === undefined || treated !== undefined || control !== undefined)
      throw argumentError('--before', '', 'goes with --after alone', ['--before N/H --after N/H']);
    return guard('--before', () => answerBeforeAfter(sum(before), sum(after), given.options.has('picked')));
  }
  if (treated === undefined)
    throw argumentError('--treated', '', 'is missing', ['--treated N/H, with --control N/H or --norm R']);
  if (control === undefined) {
    if (norm === undefined)
      throw argumentError('--control', '', 'is missing', [
        '--control N/H, or --norm R where there are no controls',
      ]);
    return guard('--treated', () => answerNormTrial(sum(treated), norm, rule));
  }
  if (control.length !== treated.length)
    throw argumentError(
      '--control',
      optionText(given, 'control') ?? '',
      `has ${control.length} stretches where --treated has ${treated.length}`,
      ['as many on both sides'],
    );
  return guard('--control', () =>
    answerTrial(
      treated.map((changed, i) => ({ changed, control: control[i] ?? changed })),
      { ...rule, ...(dispersion === undefined ? {} : { dispersion }) },
    ),
  );
}

/** `12/300` or `12/300,8/200`. */
function counts(given: Given, name: string): CountOverHours[] | undefined {
  const text = optionText(given, name);
  return text?.split(',').map((part) => {
    const match = /^\s*(\d{1,9})\s*\/\s*([\d.]+)\s*$/.exec(part);
    const rotorHours = readNumber(match?.[2] ?? '');
    if (match === null || rotorHours === undefined || rotorHours <= 0)
      throw argumentError(`--${name}`, part.trim(), 'is no count', [
        'breaks/rotor-hours, for example 12/300',
      ]);
    return { count: Number(match[1]), rotorHours };
  });
}

const sum = (parts: readonly CountOverHours[]): CountOverHours =>
  parts.reduce(
    (all, one) => ({ count: all.count + one.count, rotorHours: all.rotorHours + one.rotorHours }),
    {
      count: 0,
      rotorHours: 0,
    },
  );

function needed(given: Given, name: string, range: readonly [number, number]): number {
  const value = wholeNumber(given, name, range);
  if (value !== undefined) return value;
  throw argumentError(`--${name}`, '', 'is missing', [
    `--${name} with a whole number from ${range[0]} to ${range[1]}`,
  ]);
}

/** Puts what the statistics refuse into the words of the command line. */
function guard<Result>(option: string, work: () => Result): Result {
  try {
    return work();
  } catch (error) {
    if (error instanceof StatisticsError)
      throw argumentError(option, String(error.value), `cannot be used (${error.field})`, [error.allowed]);
    throw error;
  }
}

/** All of them, in the order of the help. */
export const TRIAL_COMMANDS: readonly Command[] = [trialPlan, trialEvaluate, trialPositions];
