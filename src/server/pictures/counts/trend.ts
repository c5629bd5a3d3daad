import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import { say } from '../../../language/say.js';
import { element } from '../svg.js';
import { type CountPicture, framePicture, sayFigure, WIDTH } from './count-picture.js';

/** What is shown of a course. */
export interface TrendInput {
  readonly title: string;
  /** Unit of the rate: "breaks per 1000 rotor-hours", or "breaks a day" when hours are not known. */
  readonly unit: string;
  readonly periods: readonly { readonly label: string; readonly count: number; readonly rate: number }[];
  readonly norm?: number;
  /** A step before period `after` (index), possible from `from` to `to`. */
  readonly step?: {
    readonly after: number;
    readonly from: number;
    readonly to: number;
    readonly before: number;
    readonly now: number;
  };
  /** Periods of a spell, ends included. */
  readonly spell?: { readonly from: number; readonly to: number };
}

const LEFT = 38;
const RIGHT = 8;
const TOP = 26;
const BOTTOM = 150;
const HEIGHT = 176;

/** Rates period by period, with the norm and the likeliest step: the level before and after, and where it may have been. */
export function drawTrend(input: TrendInput): CountPicture {
  const { periods, norm, step, spell } = input;
  const most = Math.max(norm ?? 0, ...periods.map((one) => one.rate), 1e-9);
  const y = scaleLinear()
    .domain([0, most * 1.08])
    .range([BOTTOM, TOP])
    .nice(4);
  // Periods stand side by side; a step lies on the border between two.
  const x = scaleLinear()
    .domain([0, periods.length])
    .range([LEFT, WIDTH - RIGHT]);
  const width = x(1) - x(0);
  const bars = periods.length <= 70;
  const path = line<{ readonly rate: number }>()
    .x((_, i) => x(i + 0.5))
    .y((one) => y(one.rate))
    .digits(1);
  const every = Math.max(1, Math.ceil(periods.length / 4));
  const labels = periods
    .map((one, i) => ({ i, label: one.label }))
    .filter(({ i }) => i % every === 0 && i + every * 0.6 < periods.length + 1);
  return {
    picture: framePicture(
      'trend',
      HEIGHT,
      input.title,
      say('count-picture.trend-about', {
        n: periods.length,
        step: step === undefined ? 'no' : 'yes',
        norm: norm === undefined ? 'no' : 'yes',
      }),
      element('text', { class: 'axis-label', x: 2, y: 11 }, input.unit),
      ...y
        .ticks(4)
        .map((tick) =>
          element(
            'g',
            {},
            element('line', { class: 'axis', x1: LEFT, x2: WIDTH - RIGHT, y1: y(tick), y2: y(tick) }),
            element(
              'text',
              { class: 'axis-label', x: LEFT - 4, y: y(tick) + 3.5, 'text-anchor': 'end' },
              sayFigure(tick),
            ),
          ),
        ),
      step === undefined
        ? undefined
        : element('rect', {
            class: 'band',
            x: x(step.from) - 1.5,
            y: TOP,
            width: x(step.to) - x(step.from) + 3,
            height: BOTTOM - TOP,
          }),
      ...(bars
        ? periods.map((one, i) =>
            element('rect', {
              class: spell !== undefined && i >= spell.from && i <= spell.to ? 'column marked' : 'column',
              x: x(i) + width * 0.12,
              y: y(one.rate),
              width: width * 0.76,
              height: Math.max(0, BOTTOM - y(one.rate)),
            }),
          )
        : [element('path', { class: 'course', d: path(periods) ?? '' })]),
      norm === undefined
        ? undefined
        : element('line', { class: 'reference', x1: LEFT, x2: WIDTH - RIGHT, y1: y(norm), y2: y(norm) }),
      step === undefined
        ? undefined
        : element('path', {
            class: 'step-line',
            d: `M${LEFT} ${y(step.before)} L${x(step.after)} ${y(step.before)} L${x(step.after)} ${y(step.now)} L${WIDTH - RIGHT} ${y(step.now)}`,
          }),
      element('line', { class: 'zero', x1: LEFT, x2: WIDTH - RIGHT, y1: BOTTOM, y2: BOTTOM }),
      ...labels.map(({ i, label }) =>
        element(
          'text',
          { class: 'axis-label', x: x(i), y: BOTTOM + 15, 'text-anchor': i === 0 ? 'start' : 'middle' },
          label,
        ),
      ),
    ),
    table: {
      caption: input.title,
      columns: [say('count-picture.period'), say('count-picture.breaks'), input.unit, ''],
      rows: periods.map((one, i) => [
        one.label,
        sayFigure(one.count),
        sayFigure(one.rate),
        step !== undefined && i === step.after
          ? say('count-picture.beginning')
          : spell !== undefined && i >= spell.from && i <= spell.to
            ? say('count-picture.in-spell')
            : '',
      ]),
    },
  };
}
