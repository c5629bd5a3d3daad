import { scaleLinear } from 'd3-scale';
import { say } from '../../language/say.js';
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
const BELOW_TEXT = 44;
const TOP = 30;
const BAR = 13;
/** The axis spans at least so much, so that small moves look small. */
const LEAST_SPAN = 0.1;

/**
 * Draws how far a probability is moved by single numbers: one bar a number, from the lowest to the highest value it
 * brings about, about the line of the present value. The most moving number stands first. The axis shows the part of
 * the scale that is reached.
 *
 * @param now present probability, 0–1
 */
export function drawTornado(title: string, now: number, rows: readonly TornadoRow[]): Picture {
  const [low, high] = spanOf([now, ...rows.flatMap((row) => row.ends.map((end) => end.value))]);
  const x = scaleLinear()
    .domain([low, high])
    .range([LEFT, WIDTH - RIGHT]);
  const labels = rows.map((row) => wrapText(row.label, 50, 3));
  const height = TOP + labels.reduce((sum, lines) => sum + lines.length * LINE + BELOW_TEXT, 0) + 4;
  const ticks = x
    .ticks(5)
    .filter((value) => value >= low && value <= high)
    .map((value) => {
      const at = x(value);
      return element(
        'g',
        {},
        element('line', { class: 'axis', x1: at, x2: at, y1: TOP - 6, y2: height - 4 }),
        element(
          'text',
          {
            class: 'axis-label',
            x: at,
            y: TOP - 12,
            'text-anchor': at < 24 ? 'start' : at > WIDTH - 24 ? 'end' : 'middle',
          },
          sayShort(value),
        ),
      );
    });
  let top = TOP;
  const bars = rows.map((row, i) => {
    const lines = labels[i] ?? [];
    const start = top;
    const y = top + 6 + lines.length * LINE;
    top += lines.length * LINE + BELOW_TEXT;
    const ends = [...row.ends].sort((a, b) => a.value - b.value);
    const down = ends.filter((end) => end.value < now);
    const up = ends.filter((end) => end.value >= now);
    const least = down[0]?.value ?? now;
    const most = up.at(-1)?.value ?? now;
    return element(
      'g',
      {},
      textLines(lines, { x: LEFT, y: start + 12, step: LINE }, { class: 'row-label' }),
      ...(least < now ? [drawSide('against', x(least), x(now), y)] : []),
      ...(most > now ? [drawSide('for', x(now), x(most), y)] : []),
      drawEnds(down, LEFT, y + BAR + 12, 'start'),
      drawEnds(up, WIDTH - RIGHT, y + BAR + 12, 'end'),
    );
  });
  return element(
    'svg',
    { class: 'picture tornado', viewBox: `0 0 ${WIDTH} ${height}`, role: 'img', 'aria-label': title },
    element('title', {}, title),
    element('desc', {}, say('sensitivity.tornado-about')),
    ...ticks,
    element('line', { class: 'zero', x1: x(now), x2: x(now), y1: TOP - 6, y2: height - 4 }),
    ...bars,
  );
}

/** The part of the scale to show: all values, and some room about them. */
function spanOf(values: readonly number[]): readonly [number, number] {
  const least = Math.min(...values);
  const most = Math.max(...values);
  const room = Math.max((most - least) * 0.06, (LEAST_SPAN - (most - least)) / 2);
  return [Math.max(0, least - room), Math.min(1, most + room)];
}

function drawSide(kind: 'for' | 'against', from: number, to: number, y: number): Picture {
  return element('rect', { class: `fall ${kind}`, x: from, y, width: Math.max(1.5, to - from), height: BAR });
}

/** What the ends of a side stand for: "moderate: 78 %". */
function drawEnds(
  ends: TornadoRow['ends'],
  x: number,
  y: number,
  anchor: 'start' | 'end',
): Picture | undefined {
  if (ends.length === 0) return undefined;
  const text = ends.map((end) => `${end.label}: ${sayShort(end.value)}`).join('; ');
  return element('text', { class: 'axis-label', x, y, 'text-anchor': anchor }, text);
}

const sayShort = (value: number) => `${Math.round(value * 100)} %`;
