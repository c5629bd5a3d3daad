import { scaleLog } from 'd3-scale';
import { localDecimal } from '../../language/numbers.js';
import { say } from '../../language/say.js';
import { element, type Picture, textLines, wrapText } from './svg.js';

/** A cause's rate as the expert has it and as the mill's cases have moved it. */
export interface RatePair {
  readonly label: string;
  readonly expert: number;
  readonly learned: number;
  readonly lower: number;
  readonly upper: number;
}

const WIDTH = 340;
const LEFT = 12;
const LINE = 14;
const MARKS = 20;
const TOP = 26;
const LEAST = 0.0005;

/** Draws rates on a scale of factors: a ring for the expert, a dot with its interval for the mill. */
export function drawRatePairs(title: string, pairs: readonly RatePair[]): Picture {
  const x = scaleLog()
    .domain([LEAST, 0.5])
    .range([LEFT, WIDTH - 16])
    .clamp(true);
  const labels = pairs.map((pair) => wrapText(pair.label, 48, 2));
  const height = TOP + labels.reduce((sum, lines) => sum + lines.length * LINE + MARKS, 0) + 4;
  const ticks = ([0.001, 0.01, 0.1, 0.5] as const).map((value) =>
    element(
      'g',
      {},
      element('line', { class: 'axis', x1: x(value), x2: x(value), y1: TOP - 6, y2: height - 4 }),
      element(
        'text',
        { class: 'axis-label', x: x(value), y: TOP - 11, 'text-anchor': 'middle' },
        `${localDecimal(String(value * 100))} %`,
      ),
    ),
  );
  let top = TOP;
  const rows = pairs.map((pair, n) => {
    const lines = labels[n] ?? [];
    const y = top + lines.length * LINE + 8;
    const row = element(
      'g',
      {},
      textLines(lines, { x: LEFT, y: top + 12, step: LINE }),
      element('line', {
        class: 'whisker',
        x1: x(Math.max(LEAST, pair.lower)),
        x2: x(pair.upper),
        y1: y,
        y2: y,
      }),
      element('circle', { class: 'expert-dot', cx: x(pair.expert), cy: y, r: 6 }),
      element('circle', { class: 'learned-dot', cx: x(pair.learned), cy: y, r: 4.5 }),
    );
    top += lines.length * LINE + MARKS;
    return row;
  });
  return element(
    'svg',
    { class: 'picture rate-pairs', viewBox: `0 0 ${WIDTH} ${height}`, role: 'img', 'aria-label': title },
    element('title', {}, title),
    element('desc', {}, say('learning.picture-desc')),
    ...ticks,
    ...rows,
  );
}
