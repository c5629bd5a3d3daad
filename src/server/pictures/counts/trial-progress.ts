import { scaleLinear, scaleLog } from 'd3-scale';
import { area, line } from 'd3-shape';
import { say } from '../../../language/say.js';
import { element } from '../svg.js';
import { type CountPicture, framePicture, sayFigure, WIDTH } from './count-picture.js';

/** A look at a trial. */
export interface TrialLook {
  /** Rotor-hours so far, both sides together. */
  readonly hours: number;
  /** Rate with the change over rate without; NaN before the first break. */
  readonly ratio: number;
  readonly lower: number;
  readonly upper: number;
  /** Not yet run: what it would be if the ratio stays as it is. */
  readonly ahead?: boolean;
}

export interface TrialProgressInput {
  readonly title: string;
  readonly looks: readonly TrialLook[];
  readonly worthwhile: number;
}

const LEFT = 38;
const TOP = 24;
const BOTTOM = 160;
const TICKS = [0.1, 0.2, 0.5, 1, 2, 5, 10];

/** The ratio of the rates with the band in which the true one may lie, against the hours run; looks ahead are drawn open. */
export function drawTrialProgress(input: TrialProgressInput): CountPicture {
  const { looks, worthwhile } = input;
  const held = (value: number) => Math.min(10, Math.max(0.1, value));
  const low = Math.min(0.5, worthwhile / 1.2, ...looks.map((look) => held(look.lower)));
  const high = Math.max(2, ...looks.map((look) => held(look.upper)));
  const y = scaleLog().domain([low, high]).range([BOTTOM, TOP]).clamp(true);
  const last = looks.at(-1)?.hours ?? 1;
  const x = scaleLinear()
    .domain([0, last * 1.04])
    .range([LEFT, WIDTH - 6]);
  const top = (look: TrialLook) => y(Number.isFinite(look.upper) ? look.upper : high);
  const bottom = (look: TrialLook) => y(look.lower > 0 ? look.lower : low);
  const run = looks.filter((look) => look.ahead !== true);
  const ahead = [...run.slice(-1), ...looks.filter((look) => look.ahead === true)];
  const band = area<TrialLook>()
    .x((look) => x(look.hours))
    .y0(bottom)
    .y1(top)
    .digits(1);
  const course = line<TrialLook>()
    .defined((look) => Number.isFinite(look.ratio) && look.ratio > 0)
    .x((look) => x(look.hours))
    .y((look) => y(look.ratio))
    .digits(1);
  const level = (value: number, kind: string, words: string, below: boolean) => [
    element('line', { class: kind, x1: LEFT, x2: WIDTH - 6, y1: y(value), y2: y(value) }),
    element('text', { class: 'axis-label', x: LEFT + 4, y: y(value) + (below ? 12 : -4) }, words),
  ];
  return {
    picture: framePicture(
      'trial-progress',
      BOTTOM + 30,
      input.title,
      say('count-picture.trial-about'),
      element('text', { class: 'axis-label', x: 2, y: 11 }, say('count-picture.changed-control')),
      ...TICKS.filter((tick) => tick >= low && tick <= high).map((tick) =>
        element(
          'text',
          { class: 'axis-label', x: LEFT - 4, y: y(tick) + 3.5, 'text-anchor': 'end' },
          sayFigure(tick),
        ),
      ),
      ahead.length > 1 ? element('path', { class: 'band ahead', d: band(ahead) ?? '' }) : undefined,
      run.length > 1 ? element('path', { class: 'band', d: band(run) ?? '' }) : undefined,
      ...level(1, 'zero', say('count-picture.no-difference'), false),
      ...level(worthwhile, 'reference', say('count-picture.worthwhile'), true),
      ahead.length > 1 ? element('path', { class: 'course ahead', d: course(ahead) ?? '' }) : undefined,
      run.length > 1 ? element('path', { class: 'course', d: course(run) ?? '' }) : undefined,
      ...run.map((look) =>
        element(
          'g',
          { class: 'interval' },
          element('line', {
            class: 'range',
            x1: x(look.hours),
            x2: x(look.hours),
            y1: top(look),
            y2: bottom(look),
          }),
          Number.isFinite(look.ratio) && look.ratio > 0
            ? element('circle', { class: 'middle', cx: x(look.hours), cy: y(look.ratio), r: 5 })
            : undefined,
        ),
      ),
      ...x
        .ticks(4)
        .map((tick) =>
          element(
            'text',
            { class: 'axis-label', x: x(tick), y: BOTTOM + 14, 'text-anchor': 'middle' },
            sayFigure(tick),
          ),
        ),
      element(
        'text',
        { class: 'axis-label', x: WIDTH - 6, y: BOTTOM + 27, 'text-anchor': 'end' },
        say('count-picture.both-sides'),
      ),
    ),
    table: {
      caption: input.title,
      columns: [
        say('count-picture.rotor-hours'),
        say('count-picture.changed-control'),
        say('count-picture.from'),
        say('count-picture.to'),
        '',
      ],
      rows: looks.map((look) => [
        sayFigure(look.hours),
        sayFigure(look.ratio),
        sayFigure(look.lower),
        sayFigure(look.upper),
        look.ahead === true ? say('count-picture.if-stays') : '',
      ]),
    },
  };
}
