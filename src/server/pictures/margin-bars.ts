import { scaleLinear } from 'd3-scale';
import { say } from '../../language/say.js';
import type { MarginResult } from '../../rules/index.js';
import { element, type Picture } from './svg.js';

const WIDTH = 340;
const ROW = 44;
const TOP = 24;
const LEAST = -0.8;
const MOST = 1.2;

/**
 * Draws the margins of a setup: a line for the interval in which nine values of ten lie, a dot for the middle, and
 * the zero line at which nothing is left. Values beyond the scale end at its edge.
 */
export function drawMargins(title: string, margins: readonly MarginResult[]): Picture {
  const x = scaleLinear()
    .domain([LEAST, MOST])
    .range([8, WIDTH - 16])
    .clamp(true);
  const height = TOP + margins.length * ROW;
  const ticks = [-0.5, 0, 0.5, 1].map((value) =>
    element(
      'g',
      {},
      element('line', {
        class: value === 0 ? 'zero' : 'axis',
        x1: x(value),
        x2: x(value),
        y1: TOP - 6,
        y2: height,
      }),
      element(
        'text',
        { class: 'axis-label', x: x(value), y: TOP - 11, 'text-anchor': 'middle' },
        value === 0 ? say('setup.nothing-left') : `${value > 0 ? '+' : '−'}${Math.abs(value) * 100} %`,
      ),
    ),
  );
  const rows = margins.map((margin, i) => {
    const y = TOP + i * ROW;
    const kind = margin.chanceNegative >= 0.5 ? 'short' : margin.chanceNegative >= 0.1 ? 'tight' : 'ample';
    return element(
      'g',
      { class: `margin ${kind}` },
      element('text', { class: 'row-label', x: 6, y: y + 15 }, margin.label),
      element('line', { class: 'range', x1: x(margin.low), x2: x(margin.high), y1: y + 28, y2: y + 28 }),
      margin.value > MOST || margin.value < LEAST
        ? drawBeyond(x(margin.value), y + 28, margin.value > 0 ? 1 : -1)
        : element('circle', { class: 'middle', cx: x(margin.value), cy: y + 28, r: 6 }),
    );
  });
  return element(
    'svg',
    { class: 'picture margins', viewBox: `0 0 ${WIDTH} ${height}`, role: 'img', 'aria-label': title },
    element('title', {}, title),
    element('desc', {}, say('setup.margins-text')),
    ...ticks,
    ...rows,
  );
}

/** An arrowhead for a value that lies off the scale. */
function drawBeyond(x: number, y: number, side: 1 | -1): Picture {
  return element('path', {
    class: 'middle',
    d: `M${x - 4 * side} ${y - 7} L${x + 7 * side} ${y} L${x - 4 * side} ${y + 7} Z`,
  });
}
