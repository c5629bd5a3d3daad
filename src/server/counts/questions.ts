import { say } from '../../language/say.js';
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

const breaks = (name: string, label: string, needed = true): NumberSpec => ({
  name,
  label,
  range: BREAKS,
  whole: true,
  needed,
});
const hours = (
  name: string,
  label: string,
  needed = true,
  hint = say('count-question.hours-hint'),
): NumberSpec => ({
  name,
  label,
  unit: 'h',
  hint,
  range: HOURS,
  needed,
});

const rate = (): CountQuestion => ({
  path: '/counts/rate',
  heading: say('count-question.rate-heading'),
  lead: say('count-question.rate-lead'),
  button: say('count-question.rate-button'),
  hint: '',
  groups: [
    {
      title: say('count-question.rate-counted'),
      fields: [
        breaks('breaks', say('count-question.breaks')),
        hours('hours', say('count-question.rotor-hours')),
        {
          name: 'norm',
          label: say('count-question.norm'),
          unit: say('count-question.per-1000'),
          hint: say('count-question.norm-hint'),
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
              label: say('count-question.counted'),
              value: per1000,
              lower: interval.lower,
              upper: interval.upper,
              marked: answer.verdict === 'above',
            },
          ],
          {
            title: norm === undefined ? say('count-question.rate-alone') : say('count-question.rate-norm'),
            unit: say('count-question.breaks-per-1000'),
            ...(norm === undefined
              ? {}
              : { reference: { value: norm, label: say('count-question.the-norm') } }),
          },
        ),
      ],
    };
  },
});

const compare = (): CountQuestion => ({
  path: '/counts/compare',
  heading: say('count-question.compare-heading'),
  lead: say('count-question.compare-lead'),
  button: say('count-question.compare-button'),
  hint: say('count-question.compare-hint'),
  groups: [
    {
      title: say('count-question.compare-with'),
      fields: [
        breaks('breaks-a', say('count-question.breaks')),
        hours('hours-a', say('count-question.rotor-hours')),
      ],
    },
    {
      title: say('count-question.in-question'),
      fields: [
        breaks('breaks-b', say('count-question.breaks')),
        hours('hours-b', say('count-question.rotor-hours')),
      ],
    },
  ],
  answer: (values) => {
    const answer = answerCompare([
      {
        id: say('count-question.the-first'),
        count: values['breaks-a'] ?? 0,
        rotorHours: values['hours-a'] ?? 1,
      },
      {
        id: say('count-question.the-second'),
        count: values['breaks-b'] ?? 0,
        rotorHours: values['hours-b'] ?? 1,
      },
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
          { title: say('count-question.two-rates'), unit: say('count-question.breaks-per-1000') },
        ),
      ],
    };
  },
});

const plan = (): CountQuestion => ({
  path: '/counts/trial-plan',
  heading: say('count-question.plan-heading'),
  lead: say('count-question.plan-lead'),
  button: say('count-question.plan-button'),
  hint: say('count-question.plan-hint'),
  groups: [
    {
      title: say('count-question.plan-shown'),
      fields: [
        {
          name: 'from',
          label: say('count-question.rate-now'),
          unit: say('count-question.per-1000'),
          range: RATE,
          needed: true,
        },
        {
          name: 'to',
          label: say('count-question.rate-wanted'),
          unit: say('count-question.per-1000'),
          range: RATE,
          needed: true,
        },
      ],
    },
    {
      title: say('count-question.how'),
      fields: [
        {
          name: 'positions',
          label: say('count-question.changed-positions'),
          range: [1, 2500],
          whole: true,
          hint: say('count-question.as-many'),
        },
        {
          name: 'power',
          label: say('count-question.power'),
          unit: '%',
          range: [50, 99],
          hint: say('count-question.power-hint'),
        },
        {
          name: 'dispersion',
          label: say('count-question.scatter'),
          range: [1, 100],
          hint: say('count-question.scatter-hint'),
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
});

const trial = (): CountQuestion => ({
  path: '/counts/trial',
  heading: say('count-question.trial-heading'),
  lead: say('count-question.trial-lead'),
  button: say('count-question.trial-button'),
  hint: say('count-question.trial-hint'),
  groups: [
    {
      title: say('count-question.changed-positions'),
      fields: [
        breaks('treated', say('count-question.breaks')),
        hours('treated-hours', say('count-question.rotor-hours')),
      ],
    },
    {
      title: say('count-question.unchanged'),
      fields: [
        breaks('control', say('count-question.breaks'), false),
        hours('control-hours', say('count-question.rotor-hours'), false),
      ],
    },
    {
      title: say('count-question.no-controls'),
      fields: [
        {
          name: 'norm',
          label: say('count-question.norm'),
          unit: say('count-question.per-1000'),
          range: RATE,
        },
        breaks('before', say('count-question.breaks-before'), false),
        hours('before-hours', say('count-question.hours-before'), false, ''),
      ],
    },
    {
      title: say('count-question.what-counts'),
      fields: [
        {
          name: 'worthwhile',
          label: say('count-question.worthwhile'),
          range: [0.1, 0.99],
          hint: say('count-question.worthwhile-hint'),
        },
        {
          name: 'tolerated',
          label: say('count-question.tolerated'),
          range: [1, 5],
          hint: say('count-question.tolerated-hint'),
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
                title: say('count-question.trial-picture'),
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
                      label: say('count-question.changed-over'),
                      value: answer.ratio,
                      lower: answer.interval.lower,
                      upper: answer.interval.upper,
                    },
                  ],
                  {
                    title: say('count-question.ratio-picture'),
                    unit: say('count-question.ratio'),
                    ratio: true,
                    reference: { value: 1, label: say('count-question.no-difference') },
                  },
                ),
              ],
    };
  },
});

/** Fields of the trial that are needed together; what is wrong, by field. */
export function checkTrial(values: Readonly<Record<string, number | undefined>>): Record<string, string> {
  const pair = (count: string, time: string): Record<string, string> =>
    (values[count] === undefined) === (values[time] === undefined)
      ? {}
      : { [values[count] === undefined ? count : time]: say('count-question.goes-with') };
  const problems = { ...pair('control', 'control-hours'), ...pair('before', 'before-hours') };
  const given = [values.control, values.norm, values.before].filter((one) => one !== undefined).length;
  if (Object.keys(problems).length === 0 && given === 0)
    return { control: say('count-question.no-comparison') };
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

const positions = (): CountQuestion => ({
  path: '/counts/trial-positions',
  heading: say('count-question.positions-heading'),
  lead: say('count-question.positions-lead'),
  button: say('count-question.positions-button'),
  hint: '',
  groups: [
    {
      title: say('count-question.the-frame'),
      fields: [
        { name: 'frame', label: say('count-question.side'), range: [2, 5000], whole: true, needed: true },
        {
          name: 'trial',
          label: say('count-question.changed-positions'),
          range: [1, 2500],
          whole: true,
          needed: true,
        },
        {
          name: 'section',
          label: say('count-question.section-size'),
          range: [2, 5000],
          whole: true,
          hint: say('count-question.section-hint'),
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
        caption: say('count-question.pairs'),
        columns: [
          say('count-question.section'),
          say('count-question.quarter-1'),
          say('count-question.quarter-2'),
          say('count-question.quarter-4'),
          say('count-question.left-alone'),
        ],
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
});

/** All questions without a file by their addresses, to be made anew for the language of a request. */
export const COUNT_QUESTIONS: readonly (readonly [path: string, make: () => CountQuestion])[] = [
  ['/counts/rate', rate],
  ['/counts/compare', compare],
  ['/counts/trial-plan', plan],
  ['/counts/trial', trial],
  ['/counts/trial-positions', positions],
];
