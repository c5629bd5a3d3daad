import { scaleLog } from 'd3-scale';
import { element, type Picture, textLines, wrapText } from './svg.js';

/** A cause's rate as the expert has it and as the mill's cases have moved it. */
export interface RatePair {
  readonly label: string;
  readonly expert: number;
  readonly learned: number;
  readonly lower: number;
  readonly upper: number;
}

const WIDTH = 680;
const LABEL = 260;
const ROW = 32;
const TOP = 26;
const LEAST = 0.0005;

/** Draws rates on a scale of factors: a ring for the expert, a dot with its interval for the mill. */
export function drawRatePairs(title: string, pairs: readonly RatePair[]): Picture {
  const x = scaleLog()
    .domain([LEAST, 0.5])
    .range([LABEL, WIDTH - 12])
    .clamp(true);
  const height = TOP + pairs.length * ROW + 4;
  const ticks = ([0.001, 0.01, 0.1, 0.5] as const).map((value) =>
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
  const rows = pairs.map((pair, n) => {
    const y = TOP + n * ROW + ROW / 2;
    const lines = wrapText(pair.label, 40, 2);
    return element(
      'g',
      {},
      textLines(
        lines,
        { x: LABEL - 10, y: y + (lines.length > 1 ? -3 : 4), step: 13 },
        { 'text-anchor': 'end' },
      ),
      element('line', {
        class: 'whisker',
        x1: x(Math.max(LEAST, pair.lower)),
        x2: x(pair.upper),
        y1: y,
        y2: y,
      }),
      element('circle', { class: 'expert-dot', cx: x(pair.expert), cy: y, r: 6 }),
      element('circle', { class: 'learned-dot', cx: x(pair.learned), cy: y, r: 5 }),
    );
  });
  return element(
    'svg',
    {
      class: 'picture wide-picture rate-pairs',
      viewBox: `0 0 ${WIDTH} ${height}`,
      role: 'img',
      'aria-label': title,
    },
    element('title', {}, title),
    element(
      'desc',
      {},
      'A ring for the expert’s base rate, a dot with a line for what the closed cases make of it and its interval. The table gives the same numbers.',
    ),
    ...ticks,
    ...rows,
  );
}
