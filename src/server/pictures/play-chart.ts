import { scaleLinear } from 'd3-scale';
import { say } from '../../language/say.js';
import { element, type Picture, textLines, wrapText } from './svg.js';

/** One computed quantity over the values that a lesson lets the reader choose. */
export interface PlaySeries {
  readonly label: string;
  readonly unit: string;
  readonly points: readonly { readonly value: number; readonly low: number; readonly high: number }[];
}

const WIDTH = 340;
const PANEL = 112;
const LEFT = 16;
const RIGHT = 16;

/**
 * Draws the quantities one below the other, each with its middle value and 90 % interval over the values to choose
 * from, the chosen one filled. The table beside it holds the figures.
 *
 * @param chosen position of the chosen value, from 0
 */
export function drawPlay(series: readonly PlaySeries[], values: readonly string[], chosen: number): Picture {
  const height = series.length * PANEL + 26;
  const step = (WIDTH - LEFT - RIGHT) / Math.max(1, values.length);
  const x = (i: number) => LEFT + step * (i + 0.5);
  return element(
    'svg',
    {
      class: 'picture play',
      viewBox: `0 0 ${WIDTH} ${height}`,
      role: 'img',
      'aria-label': say('lesson.chart-title'),
    },
    element('desc', {}, say('lesson.chart-text')),
    ...series.map((one, s) => {
      const top = s * PANEL;
      const low = Math.min(...one.points.map((point) => point.low));
      const high = Math.max(...one.points.map((point) => point.high));
      const y = scaleLinear()
        .domain([low, high === low ? low + 1 : high])
        .range([top + PANEL - 14, top + 28]);
      return element(
        'g',
        {},
        textLines(wrapText(`${one.label}${one.unit === '' ? '' : `, ${one.unit}`}`, 48, 1), {
          x: LEFT,
          y: top + 16,
          step: 14,
        }),
        element('path', {
          class: 'play-line',
          d: one.points
            .map((point, i) => `${i === 0 ? 'M' : 'L'}${x(i).toFixed(1)} ${y(point.value).toFixed(1)}`)
            .join(' '),
        }),
        ...one.points.map((point, i) =>
          element(
            'g',
            { class: i === chosen ? 'play-point chosen' : 'play-point' },
            element('line', { class: 'play-range', x1: x(i), x2: x(i), y1: y(point.low), y2: y(point.high) }),
            element('circle', { class: 'play-dot', cx: x(i), cy: y(point.value), r: i === chosen ? 7 : 4.5 }),
          ),
        ),
      );
    }),
    ...values.map((value, i) =>
      element(
        'text',
        { class: 'axis-label', x: x(i), y: height - 8, 'text-anchor': 'middle' },
        wrapText(value, 12, 1)[0] ?? value,
      ),
    ),
  );
}
