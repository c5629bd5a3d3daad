import { scaleLinear, scaleLog } from 'd3-scale';
import { say } from '../../../language/say.js';
import { element, wrapText } from '../svg.js';
import { type CountPicture, framePicture, sayFigure, WIDTH } from './count-picture.js';

/** One line of an interval picture. */
export interface ForestRow {
  readonly label: string;
  readonly value: number;
  readonly lower: number;
  /** May be Infinity. */
  readonly upper: number;
  readonly marked?: boolean;
}

export interface ForestOptions {
  readonly title: string;
  /** Unit of the values, for axis and table. */
  readonly unit: string;
  /** A line to hold the intervals against: norm, or 1 for ratios. */
  readonly reference?: { readonly value: number; readonly label: string };
  /** Ratios are shown on a logarithmic scale. */
  readonly ratio?: boolean;
}

const ROW = 40;
const TOP = 34;
const SIDE = 12;

/** Intervals one below the other: a line from low to high, a dot at the value; an open end gets an arrow. */
export function drawForest(rows: readonly ForestRow[], options: ForestOptions): CountPicture {
  const { reference, ratio = false } = options;
  const finite = rows
    .flatMap((row) => [row.lower, row.upper, row.value])
    .concat(reference === undefined ? [] : [reference.value])
    .filter((value) => Number.isFinite(value) && (!ratio || value > 0));
  const most = Math.max(...finite, ratio ? 2 : 1e-9);
  const least = Math.min(...finite, ratio ? 0.5 : 0);
  const scale = ratio
    ? scaleLog().domain([Math.max(0.01, least / 1.15), Math.min(100, most * 1.15)])
    : scaleLinear().domain([0, most * 1.05]);
  const x = scale.range([SIDE, WIDTH - SIDE]).clamp(true);
  const height = TOP + rows.length * ROW;
  const ticks = ratio
    ? [0.1, 0.25, 0.5, 1, 2, 4, 10, 25].filter(
        (tick) => tick > (x.domain()[0] ?? 0) && tick < (x.domain()[1] ?? 1),
      )
    : scaleLinear().domain(x.domain()).ticks(5);
  const axis = ticks.map((tick) =>
    element(
      'g',
      {},
      element('line', { class: 'axis', x1: x(tick), x2: x(tick), y1: TOP - 8, y2: height }),
      element(
        'text',
        { class: 'axis-label', x: x(tick), y: TOP - 12, 'text-anchor': 'middle' },
        sayFigure(tick),
      ),
    ),
  );
  const against =
    reference === undefined
      ? undefined
      : element('line', {
          class: 'reference',
          x1: x(reference.value),
          x2: x(reference.value),
          y1: TOP - 8,
          y2: height,
        });
  const lines = rows.map((row, i) => {
    const y = TOP + i * ROW;
    const open = row.upper === Number.POSITIVE_INFINITY;
    const low = x(ratio && row.lower <= 0 ? (x.domain()[0] ?? 0) : row.lower);
    const high = open ? WIDTH - SIDE : x(row.upper);
    const middle = y + 27;
    return element(
      'g',
      { class: row.marked === true ? 'interval marked' : 'interval' },
      element('text', { class: 'row-label', x: SIDE, y: y + 15 }, wrapText(row.label, 46, 1)[0] ?? ''),
      element('line', { class: 'range', x1: low, x2: high, y1: middle, y2: middle }),
      open
        ? element('path', {
            class: 'open-end',
            d: `M${high - 7} ${middle - 5} L${high} ${middle} L${high - 7} ${middle + 5}`,
          })
        : undefined,
      Number.isFinite(row.value) && (!ratio || row.value > 0)
        ? element('circle', { class: 'middle', cx: x(row.value), cy: middle, r: 5 })
        : undefined,
    );
  });
  return {
    picture: framePicture(
      'forest',
      height,
      options.title,
      say('count-picture.forest-about', {
        dashed: reference === undefined ? '' : say('count-picture.dashed', { what: reference.label }),
      }),
      element('text', { class: 'axis-label', x: SIDE, y: 11 }, options.unit),
      ...axis,
      against,
      ...lines,
    ),
    table: {
      caption: options.title,
      columns: ['', options.unit, say('count-picture.from'), say('count-picture.to')],
      rows: rows.map((row) => [row.label, sayFigure(row.value), sayFigure(row.lower), sayFigure(row.upper)]),
    },
  };
}
