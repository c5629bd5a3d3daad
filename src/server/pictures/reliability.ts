import { scaleLinear } from 'd3-scale';
import { say } from '../../language/say.js';
import { element, type Picture } from './svg.js';

/** Forecasts that lie close together and how often they came true. */
export interface ReliabilityPoint {
  readonly forecast: number;
  readonly share: number;
  readonly lower: number;
  readonly upper: number;
  readonly forecasts: number;
}

const SIZE = 300;
const LEFT = 44;
const BOTTOM = 40;
const EDGE = 10;

/** Draws what was said against what happened: on the diagonal, seven times in ten means seven times in ten. */
export function drawReliability(title: string, points: readonly ReliabilityPoint[]): Picture {
  const x = scaleLinear()
    .domain([0, 1])
    .range([LEFT, SIZE - EDGE]);
  const y = scaleLinear()
    .domain([0, 1])
    .range([SIZE - BOTTOM, EDGE]);
  const grid = [0, 0.25, 0.5, 0.75, 1].flatMap((value) => [
    element('line', { class: 'axis', x1: x(value), x2: x(value), y1: y(0), y2: y(1) }),
    element('line', { class: 'axis', x1: x(0), x2: x(1), y1: y(value), y2: y(value) }),
    element(
      'text',
      { class: 'axis-label', x: x(value), y: SIZE - BOTTOM + 14, 'text-anchor': 'middle' },
      `${value * 100}`,
    ),
    element(
      'text',
      { class: 'axis-label', x: LEFT - 6, y: y(value) + 4, 'text-anchor': 'end' },
      `${value * 100}`,
    ),
  ]);
  const most = Math.max(1, ...points.map((point) => point.forecasts));
  return element(
    'svg',
    { class: 'picture reliability', viewBox: `0 0 ${SIZE} ${SIZE}`, role: 'img', 'aria-label': title },
    element('title', {}, title),
    element('desc', {}, say('quality-desk.rel-desc')),
    ...grid,
    element('line', { class: 'diagonal', x1: x(0), y1: y(0), x2: x(1), y2: y(1) }),
    ...points.flatMap((point) => [
      element('line', {
        class: 'whisker',
        x1: x(point.forecast),
        x2: x(point.forecast),
        y1: y(point.lower),
        y2: y(point.upper),
      }),
      element('circle', {
        class: 'learned-dot',
        cx: x(point.forecast),
        cy: y(point.share),
        r: 4 + 4 * Math.sqrt(point.forecasts / most),
      }),
    ]),
    element(
      'text',
      { class: 'axis-label', x: (LEFT + SIZE - EDGE) / 2, y: SIZE - 8, 'text-anchor': 'middle' },
      say('quality-desk.axis-said'),
    ),
    element(
      'text',
      {
        class: 'axis-label',
        x: 12,
        y: (SIZE - BOTTOM) / 2,
        'text-anchor': 'middle',
        transform: `rotate(-90 12 ${(SIZE - BOTTOM) / 2})`,
      },
      say('quality-desk.axis-true'),
    ),
  );
}
