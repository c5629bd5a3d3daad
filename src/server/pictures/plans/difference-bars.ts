import { scaleLinear } from 'd3-scale';
import { say } from '../../../language/say.js';
import { element, type Picture } from '../svg.js';

/** A difference in percent (or points) with its range. */
export interface DifferenceBar {
  readonly label: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

const WIDTH = 340;
const ROW = 40;
const TOP = 26;
/** Differences beyond this end at the edge. */
const MOST = 60;
/** Nearer to the edge than this a label in the middle of its tick would be cut off. */
const EDGE = 26;

const anchorAt = (x: number): string => (x < EDGE ? 'start' : x > WIDTH - EDGE ? 'end' : 'middle');

/** Draws differences as dots with their ranges about a zero line; the table beside it has the numbers. */
export function drawDifferences(title: string, bars: readonly DifferenceBar[]): Picture {
  const reach = Math.min(
    MOST,
    Math.max(5, ...bars.flatMap((bar) => [Math.abs(bar.low), Math.abs(bar.high)])),
  );
  const x = scaleLinear()
    .domain([-reach, reach])
    .range([8, WIDTH - 8])
    .clamp(true);
  const height = TOP + bars.length * ROW + 4;
  return element(
    'svg',
    { class: 'picture differences', viewBox: `0 0 ${WIDTH} ${height}`, role: 'img', 'aria-label': title },
    element('title', {}, title),
    element('desc', {}, say('compare.bars-about')),
    ...x.ticks(4).map((tick) =>
      element(
        'g',
        {},
        element('line', {
          class: tick === 0 ? 'zero' : 'axis',
          x1: x(tick),
          x2: x(tick),
          y1: TOP - 8,
          y2: height - 4,
        }),
        element(
          'text',
          { class: 'axis-label', x: x(tick), y: 12, 'text-anchor': anchorAt(x(tick)) },
          tick === 0 ? say('compare.same') : `${tick > 0 ? '+' : '−'}${Math.abs(tick)} %`,
        ),
      ),
    ),
    ...bars.map((bar, i) => {
      const y = TOP + i * ROW;
      return element(
        'g',
        { class: 'margin' },
        element('text', { class: 'row-label', x: 8, y: y + 13 }, bar.label),
        element('line', { class: 'range', x1: x(bar.low), x2: x(bar.high), y1: y + 25, y2: y + 25 }),
        element('circle', { class: 'middle', cx: x(bar.value), cy: y + 25, r: 5.5 }),
      );
    }),
  );
}
