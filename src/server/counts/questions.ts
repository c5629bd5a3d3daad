import {
  answerBeforeAfter,
  answerCompare,
  answerNormTrial,
  answerPlan,
  answerRate,
  answerTrial,
  type QuickAnswer,
  type TrialAnswer,
} from '../../statistics/analysis/index.js';
import type { CountOverHours } from '../../statistics/exposure.js';
import { chooseTrialPositions } from '../../statistics/trial-positions.js';
import type { CountPicture, PictureTable } from '../pictures/counts/count-picture.js';
import { drawForest } from '../pictures/counts/forest.js';
import { drawTrialProgress } from '../pictures/counts/trial-progress.js';
import type { NumberSpec } from './number-form.js';

/** What a question without a file is answered with. */
export interface QuestionAnswer extends QuickAnswer {
  readonly pictures: readonly CountPicture[];
  readonly table?: PictureTable;
}

/** A question without a file: its form and its answer. */
export interface CountQuestion {
  readonly path: string;
  readonly heading: string;
  readonly lead: string;
  readonly button: string;
  readonly hint: string;
  readonly groups: readonly { readonly title: string; readonly fields: readonly NumberSpec[] }[];
  /** @throws StatisticsError for values that do not go together */
  answer(values: Readonly<Record<string, number | undefined>>): QuestionAnswer;
}

const BREAKS: readonly [number, number] = [0, 10_000_000];
const HOURS: readonly [number, number] = [0.01, 1e8];
const RATE: readonly [number, number] = [0.01, 100_000];
const HOURS_HINT = 'Running hours times positions; stopped time does not count.';

const breaks = (name: string, label: string, needed = true): NumberSpec => ({
  name,
  label,
  range: BREAKS,
  whole: true,
  needed,
});
const hours = (name: string, label: string, needed = true, hint = HOURS_HINT): NumberSpec => ({
  name,
  label,
  unit: 'h',
  hint,
  range: HOURS,
  needed,
});

const rate: CountQuestion = {
  path: '/counts/rate',
  heading: 'One rate',
  lead: 'How far can a counted break rate be trusted, and does it really differ from the norm?',
  button: 'Work it out',
  hint: '',
  groups: [
    {
      title: 'Counted',
      fields: [
        breaks('breaks', 'Breaks'),
        hours('hours', 'Rotor-hours'),
        {
          name: 'norm',
          label: 'Norm',
          unit: 'per 1000 rotor-hours',
          hint: 'The usual rate, if there is one.',
          range: RATE,
        },
      ],
    },
  ],
  answer: ({ breaks: count = 0, hours: rotorHours = 1, norm }) => {
    const answer = answerRate({ count, rotorHours }, norm);
    const { interval, per1000 } = answer.rate;
    return {
      ...answer,
      pictures: [
        drawForest(
          [
            {
              label: 'counted',
              value: per1000,
              lower: interval.lower,
              upper: interval.upper,
              marked: answer.verdict === 'above',
            },
          ],
          {
            title:
              norm === undefined ? 'The rate and where the true one may lie' : 'The rate against the norm',
            unit: 'breaks per 1000 rotor-hours',
            ...(norm === undefined ? {} : { reference: { value: norm, label: 'the norm' } }),
          },
        ),
      ],
    };
  },
};

const compare: CountQuestion = {
  path: '/counts/compare',
  heading: 'Compare two counts',
  lead: 'Two frames, two lots or two periods: do they really differ?',
  button: 'Compare',
  hint: 'The first is the one to compare with: before, or the sister frame. The second is the one in question.',
  groups: [
    { title: 'To compare with', fields: [breaks('breaks-a', 'Breaks'), hours('hours-a', 'Rotor-hours')] },
    { title: 'In question', fields: [breaks('breaks-b', 'Breaks'), hours('hours-b', 'Rotor-hours')] },
  ],
  answer: (values) => {
    const answer = answerCompare([
      { id: 'the first', count: values['breaks-a'] ?? 0, rotorHours: values['hours-a'] ?? 1 },
      { id: 'the second', count: values['breaks-b'] ?? 0, rotorHours: values['hours-b'] ?? 1 },
    ]);
    return {
      ...answer,
      pictures: [
        drawForest(
          answer.rates.map((one) => ({
            label: one.id,
            value: one.rate.per1000,
            lower: one.rate.interval.lower,
            upper: one.rate.interval.upper,
            marked: one.verdict === 'above',
          })),
          { title: 'The two rates', unit: 'breaks per 1000 rotor-hours' },
        ),
      ],
    };
  },
};

const plan: CountQuestion = {
  path: '/counts/trial-plan',
  heading: 'Plan a trial',
  lead: 'How long must a change run beside unchanged positions until its effect shows?',
  button: 'Plan',
  hint: 'Know before you start whether the trial can answer at all.',
  groups: [
    {
      title: 'What is to be shown',
      fields: [
        { name: 'from', label: 'Rate now', unit: 'per 1000 rotor-hours', range: RATE, needed: true },
        {
          name: 'to',
          label: 'Rate that would be worth having',
          unit: 'per 1000 rotor-hours',
          range: RATE,
          needed: true,
        },
      ],
    },
    {
      title: 'How',
      fields: [
        {
          name: 'positions',
          label: 'Changed positions',
          range: [1, 2500],
          whole: true,
          hint: 'As many more beside them are left alone.',
        },
        {
          name: 'power',
          label: 'Chance of noticing it',
          unit: '%',
          range: [50, 99],
          hint: '80 when left empty.',
        },
        {
          name: 'dispersion',
          label: 'Scatter of the counts',
          range: [1, 100],
          hint: '1 is chance; the analysis of a table tells it.',
        },
      ],
    },
  ],
  answer: ({ from = 1, to = 1, positions, power, dispersion }) => ({
    ...answerPlan({
      fromPer1000: from,
      toPer1000: to,
      ...(positions === undefined ? {} : { positions }),
      ...(power === undefined ? {} : { power: power / 100 }),
      ...(dispersion === undefined ? {} : { dispersion }),
    }),
    pictures: [],
  }),
};

const trial: CountQuestion = {
  path: '/counts/trial',
  heading: 'Judge a trial',
  lead: 'Better, no worse, worse, or how much longer? Ask as often as you like while it runs: the answer stays valid.',
  button: 'Judge',
  hint: 'Best with controls that ran at the same time. Without controls give a norm; a stretch before the change can be compared too, but cannot tell the change from the weather.',
  groups: [
    {
      title: 'Changed positions',
      fields: [breaks('treated', 'Breaks'), hours('treated-hours', 'Rotor-hours')],
    },
    {
      title: 'Unchanged positions, same time',
      fields: [breaks('control', 'Breaks', false), hours('control-hours', 'Rotor-hours', false)],
    },
    {
      title: 'Or, without controls',
      fields: [
        { name: 'norm', label: 'Norm', unit: 'per 1000 rotor-hours', range: RATE },
        breaks('before', 'Breaks before the change', false),
        hours('before-hours', 'Rotor-hours before the change', false, ''),
      ],
    },
    {
      title: 'What counts',
      fields: [
        {
          name: 'worthwhile',
          label: 'Worthwhile from a ratio of',
          range: [0.1, 0.99],
          hint: '0.8 when left empty: a fall by a fifth.',
        },
        {
          name: 'tolerated',
          label: 'A rise is put up with to',
          range: [1, 5],
          hint: '1.25 when left empty.',
        },
      ],
    },
  ],
  answer: (values) => {
    const answer = judge(values);
    const worthwhile = values.worthwhile ?? 0.8;
    return {
      ...answer,
      pictures:
        answer.steps.length > 0
          ? [
              drawTrialProgress({
                title: 'The trial so far, and ahead',
                worthwhile,
                looks: answer.steps.map((step) => ({
                  hours: step.hours,
                  ratio: step.ratio,
                  lower: step.interval.lower,
                  upper: step.interval.upper,
                  ahead: step.ahead,
                })),
              }),
            ]
          : Number.isNaN(answer.ratio)
            ? []
            : [
                drawForest(
                  [
                    {
                      label: 'changed ÷ comparison',
                      value: answer.ratio,
                      lower: answer.interval.lower,
                      upper: answer.interval.upper,
                    },
                  ],
                  {
                    title: 'The ratio of the rates',
                    unit: 'ratio',
                    ratio: true,
                    reference: { value: 1, label: 'no difference' },
                  },
                ),
              ],
    };
  },
};

/** Fields of the trial that are needed together; what is wrong, by field. */
export function checkTrial(values: Readonly<Record<string, number | undefined>>): Record<string, string> {
  const pair = (count: string, time: string): Record<string, string> =>
    (values[count] === undefined) === (values[time] === undefined)
      ? {}
      : { [values[count] === undefined ? count : time]: 'Goes with the field beside it: give both.' };
  const problems = { ...pair('control', 'control-hours'), ...pair('before', 'before-hours') };
  const given = [values.control, values.norm, values.before].filter((one) => one !== undefined).length;
  if (Object.keys(problems).length === 0 && given === 0)
    return { control: 'Is missing. Give unchanged positions, or a norm, or a stretch before the change.' };
  return problems;
}

function judge(values: Readonly<Record<string, number | undefined>>): TrialAnswer {
  const rule = {
    ...(values.worthwhile === undefined ? {} : { worthwhileRatio: values.worthwhile }),
    ...(values.tolerated === undefined ? {} : { toleratedRatio: values.tolerated }),
  };
  const side = (name: string): CountOverHours | undefined => {
    const count = values[name];
    const rotorHours = values[`${name}-hours`];
    return count === undefined || rotorHours === undefined ? undefined : { count, rotorHours };
  };
  const changed = side('treated') ?? { count: 0, rotorHours: 1 };
  const control = side('control');
  const before = side('before');
  if (control !== undefined) return answerTrial([{ changed, control }], rule);
  if (values.norm !== undefined) return answerNormTrial(changed, values.norm, rule);
  return answerBeforeAfter(before ?? changed, changed, true);
}

const positions: CountQuestion = {
  path: '/counts/trial-positions',
  heading: 'Positions of a trial',
  lead: 'Pairs of neighbours spread over the frame, one changed and one left alone, with the order in which their parts are exchanged.',
  button: 'Choose',
  hint: '',
  groups: [
    {
      title: 'The frame',
      fields: [
        { name: 'frame', label: 'Positions on one side', range: [2, 5000], whole: true, needed: true },
        { name: 'trial', label: 'Changed positions', range: [1, 2500], whole: true, needed: true },
        {
          name: 'section',
          label: 'Positions of a section',
          range: [2, 5000],
          whole: true,
          hint: '24 when left empty.',
        },
      ],
    },
  ],
  answer: ({ frame = 2, trial: pairs = 1, section }) => {
    const layout = chooseTrialPositions({
      positions: frame,
      pairs,
      sectionSize: Math.min(frame, section ?? 24),
    });
    return {
      sentences: [{ text: layout.words, figures: [] }],
      figures: [],
      endBreaks: undefined,
      pictures: [],
      table: {
        caption: 'Pairs, and which of them carries the change in each quarter of the hours',
        columns: ['Section', '1st quarter', '2nd and 3rd', '4th quarter', 'Left alone at first'],
        rows: layout.pairs.map((pair) => [
          String(pair.section),
          String(pair.changed),
          String(pair.control),
          String(pair.changed),
          String(pair.control),
        ]),
      },
    };
  },
};

/** All questions without a file. */
export const COUNT_QUESTIONS: readonly CountQuestion[] = [rate, compare, plan, trial, positions];
