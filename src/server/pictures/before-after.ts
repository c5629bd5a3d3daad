import { scaleLinear } from 'd3-scale';
import { say } from '../../language/say.js';
import { element, type Picture, textLines, wrapText } from './svg.js';

/** A share before and after a change, 0–1. */
export interface SharePair {
  readonly label: string;
  readonly before: number;
  readonly after: number;
}

const WIDTH = 340;
const LEFT = 12;
const RIGHT = 20;
const LINE = 14;
const MARKS = 24;
const TOP = 26;

/** Draws shares on one scale: a ring for before, a dot for after, and the way between them. */
export function drawBeforeAfter(title: string, pairs: readonly SharePair[]): Picture {
  const x = scaleLinear()
    .domain([0, 1])
    .range([LEFT, WIDTH - RIGHT]);
  const labels = pairs.map((pair) => wrapText(pair.label, 48, 2));
  const height = TOP + labels.reduce((sum, lines) => sum + lines.length * LINE + MARKS, 0) + 4;
  const ticks = [0, 0.25, 0.5, 0.75, 1].map((value) =>
    element(
      'g',
      {},
      element('line', { class: 'axis', x1: x(value), x2: x(value), y1: TOP - 6, y2: height - 4 }),
      element(
        'text',
        { class: 'axis-label', x: x(value), y: TOP - 11, 'text-anchor': 'middle' },
        `${value * 100} %`,
      ),
    ),
  );
  let top = TOP;
  const rows = pairs.map((pair, n) => {
    const lines = labels[n] ?? [];
    const y = top + lines.length * LINE + 9;
    const row = element(
      'g',
      {},
      textLines(lines, { x: LEFT, y: top + 12, step: LINE }),
      element('line', { class: 'whisker', x1: x(pair.before), x2: x(pair.after), y1: y, y2: y }),
      element('circle', { class: 'expert-dot', cx: x(pair.before), cy: y, r: 6 }),
      element('circle', { class: 'learned-dot', cx: x(pair.after), cy: y, r: 4.5 }),
    );
    top += lines.length * LINE + MARKS;
    return row;
  });
  return element(
    'svg',
    { class: 'picture before-after', viewBox: `0 0 ${WIDTH} ${height}`, role: 'img', 'aria-label': title },
    element('title', {}, title),
    element('desc', {}, say('versions.picture-desc')),
    ...ticks,
    ...rows,
  );
}
