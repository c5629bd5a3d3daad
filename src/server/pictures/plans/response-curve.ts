import { scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';
import { localDecimal } from '../../../language/numbers.js';
import { say } from '../../../language/say.js';
import type { CurvePoint, ResponseCurve } from '../../../rules/plans/response.js';
import { element, type Picture, textLines, wrapText } from '../svg.js';

const WIDTH = 340;
const HEIGHT = 230;
const LEFT = 46;
const RIGHT = 12;
const TOP = 14;
const BOTTOM = 46;

/**
 * Draws how a quantity answers to a setting: the middle as a line, the range of nine draws in ten as a band, the
 * present point marked. Rungs of a ladder stand apart, each with its range. The table beside it has the numbers.
 */
export function drawCurve(curve: ResponseCurve): Picture {
  const { points } = curve;
  const values = points.flatMap((point) => [point.low, point.high]);
  const y = scaleLinear()
    .domain([Math.min(...values), Math.max(...values)])
    .nice(5)
    .range([HEIGHT - BOTTOM, TOP]);
  const x = scaleLinear()
    .domain([points[0]?.at ?? 0, points.at(-1)?.at ?? 1])
    .range([LEFT + (curve.continuous ? 0 : 14), WIDTH - RIGHT - (curve.continuous ? 0 : 14)]);
  const margin = curve.quantity.unit === 'margin';
  const title = say('side-by-side.curve-title', {
    quantity: curve.quantity.label,
    setting: curve.setting.label,
  });
  return element(
    'svg',
    { class: 'picture curve', viewBox: `0 0 ${WIDTH} ${HEIGHT}`, role: 'img', 'aria-label': title },
    element('title', {}, title),
    element('desc', {}, curve.words),
    ...y.ticks(5).map((tick) =>
      element(
        'g',
        {},
        element('line', {
          class: margin && Math.abs(tick) < 1e-9 ? 'zero' : 'axis',
          x1: LEFT,
          x2: WIDTH - RIGHT,
          y1: y(tick),
          y2: y(tick),
        }),
        element(
          'text',
          { class: 'axis-label', x: LEFT - 6, y: y(tick) + 4, 'text-anchor': 'end' },
          margin ? `${Math.round(100 * tick)} %`.replace('-', '−') : write(tick),
        ),
      ),
    ),
    ...(curve.continuous ? continuousParts(points, x, y) : rungParts(points, x, y)),
    ...presentParts(points, x, y),
    element(
      'text',
      { class: 'axis-label', x: (LEFT + WIDTH - RIGHT) / 2, y: HEIGHT - 6, 'text-anchor': 'middle' },
      `${curve.setting.label}${curve.setting.unit === '' ? '' : `, ${curve.setting.unit}`}`,
    ),
  );
}

type Scale = (value: number) => number;

function continuousParts(
  points: readonly CurvePoint[],
  x: Scale & { ticks(count: number): number[] },
  y: Scale,
): Picture[] {
  const band = area<CurvePoint>()
    .x((point) => x(point.at))
    .y0((point) => y(point.low))
    .y1((point) => y(point.high))([...points]);
  const middle = line<CurvePoint>()
    .x((point) => x(point.at))
    .y((point) => y(point.value))([...points]);
  return [
    element('path', { class: 'curve-band', d: band ?? '' }),
    element('path', { class: 'curve-line', d: middle ?? '' }),
    ...x
      .ticks(4)
      .map((tick) =>
        element(
          'text',
          { class: 'axis-label', x: x(tick), y: HEIGHT - BOTTOM + 16, 'text-anchor': 'middle' },
          write(tick),
        ),
      ),
  ];
}

function rungParts(points: readonly CurvePoint[], x: Scale, y: Scale): Picture[] {
  return points.map((point) =>
    element(
      'g',
      {},
      element('line', {
        class: 'range',
        x1: x(point.at),
        x2: x(point.at),
        y1: y(point.low),
        y2: y(point.high),
      }),
      element('circle', { class: 'middle', cx: x(point.at), cy: y(point.value), r: 4.5 }),
      textLines(
        wrapText(point.words, 8, 2),
        { x: x(point.at), y: HEIGHT - BOTTOM + 14, step: 12 },
        { class: 'axis-label', 'text-anchor': 'middle' },
      ),
    ),
  );
}

function presentParts(points: readonly CurvePoint[], x: Scale, y: Scale): Picture[] {
  const present = points.find((point) => point.present);
  if (present === undefined) return [];
  const [px, py] = [x(present.at), y(present.value)];
  return [
    element('line', { class: 'curve-at', x1: px, x2: px, y1: TOP, y2: HEIGHT - BOTTOM }),
    element('circle', { class: 'curve-present', cx: px, cy: py, r: 6.5 }),
    element(
      'text',
      {
        class: 'row-label',
        x: px > WIDTH / 2 ? px - 10 : px + 10,
        y: py - 10,
        'text-anchor': px > WIDTH / 2 ? 'end' : 'start',
      },
      say('side-by-side.now'),
    ),
  ];
}

const write = (value: number) =>
  (Math.abs(value) >= 10_000
    ? `${localDecimal(String(Number((value / 1000).toPrecision(4))))}k`
    : localDecimal(String(Number(value.toPrecision(4))))
  ).replace('-', '−');
