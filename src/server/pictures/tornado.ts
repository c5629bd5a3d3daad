import { scaleLinear } from 'd3-scale';
import { element, type Picture, textLines, wrapText } from './svg.js';

/** A number and where the probability goes when it is moved by a step, down or up. */
export interface TornadoRow {
  readonly label: string;
  readonly ends: readonly { readonly value: number; readonly label: string }[];
}

const WIDTH = 340;
const LEFT = 10;
const RIGHT = 10;
const LINE = 14;
const BELOW_TEXT = 42;
const TOP = 30;
const BAR = 13;

/**
 * Draws how far a probability is moved by single numbers: one bar a number, from the lowest to the highest value it
 * brings about, about the line of the present value. The most moving number stands first.
 *
 * @param now present probability, 0–1
 */
export function drawTornado(title: string, now: number, rows: readonly TornadoRow[]): Picture {
  const x = scaleLinear()
    .domain([0, 1])
    .range([LEFT, WIDTH - RIGHT]);
  const labels = rows.map((row) => wrapText(row.label, 50, 3));
  const height = TOP + labels.reduce((sum, lines) => sum + lines.length * LINE + BELOW_TEXT, 0) + 4;
  const ticks = [0, 0.25, 0.5, 0.75, 1].map((value) =>
    element(
      'g',
      {},
      element('line', { class: 'axis', x1: x(value), x2: x(value), y1: TOP - 6, y2: height - 4 }),
      element(
        'text',
        {
          class: 'axis-label',
          x: x(value),
          y: TOP - 12,
          'text-anchor': value === 0 ? 'start' : value === 1 ? 'end' : 'middle',
        },
        `${value * 100} %`,
      ),
    ),
  );
  let top = TOP;
  const bars = rows.map((row, i) => {
    const lines = labels[i] ?? [];
    const y = top + 6 + lines.length * LINE;
    const start = top;
    top += lines.length * LINE + BELOW_TEXT;
    const ends = [...row.ends].sort((a, b) => a.value - b.value);
    const low = ends.filter((end) => end.value < now);
    const high = ends.filter((end) => end.value >= now);
    return element(
      'g',
      {},
      textLines(lines, { x: LEFT, y: start + 12, step: LINE }, { class: 'row-label' }),
      ...low.slice(0, 1).map((end) => drawSide('against', x(end.value), x(now), y)),
      ...high.slice(-1).map((end) => drawSide('for', x(now), x(end.value), y)),
      ...ends.map((end) => {
        const at = x(end.value);
        const left = end.value < now;
        // Labels point away from the middle unless the edge is near.
        const anchor = at < 70 ? 'start' : at > WIDTH - 70 ? 'end' : left ? 'end' : 'start';
        return element(
          'text',
          { class: 'axis-label', x: at, y: y + BAR + 12, 'text-anchor': anchor },
          `${end.label}: ${sayShort(end.value)}`,
        );
      }),
    );
  });
  return element(
    'svg',
    { class: 'picture tornado', viewBox: `0 0 ${WIDTH} ${height}`, role: 'img', 'aria-label': title },
    element('title', {}, title),
    element(
      'desc',
      {},
      'One bar a number of the knowledge base: how far the probability goes when the number is one step lower or higher. The upright line is the probability now. The table gives the same.',
    ),
    ...ticks,
    ...bars,
    element('line', { class: 'zero', x1: x(now), x2: x(now), y1: TOP - 6, y2: height - 4 }),
  );
}

function drawSide(kind: 'for' | 'against', from: number, to: number, y: number): Picture {
  return element('rect', { class: `fall ${kind}`, x: from, y, width: Math.max(1.5, to - from), height: BAR });
}

const sayShort = (value: number) => `${Math.round(value * 100)} %`;
