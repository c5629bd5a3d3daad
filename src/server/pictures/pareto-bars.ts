import { scaleLinear } from 'd3-scale';
import { element, type Picture, textLines, wrapText } from './svg.js';

/** One cause: its value, the interval around it, and the share of all up to and with it. */
export interface ParetoBar {
  readonly label: string;
  readonly value: number;
  readonly interval: { readonly lower: number; readonly upper: number } | undefined;
  readonly cumulative: number;
  readonly figure: string;
  /** Where a click leads. */
  readonly href: string;
}

const WIDTH = 680;
const LABEL = 250;
const RIGHT = 118;
const ROW = 34;
const TOP = 24;

/**
 * Draws causes by falling value: a bar, a whisker for the interval, and the running share in figures. Every bar is a
 * link to the cases behind it.
 */
export function drawPareto(title: string, unit: string, bars: readonly ParetoBar[]): Picture {
  const most = Math.max(1e-9, ...bars.map((bar) => bar.value));
  // Whiskers may leave the picture; a bar may not become a stub because of one wide interval.
  const end = Math.min(Math.max(most, ...bars.map((bar) => bar.interval?.upper ?? bar.value)), most * 1.9);
  const x = scaleLinear()
    .domain([0, end])
    .range([LABEL, WIDTH - RIGHT])
    .clamp(true);
  const height = TOP + bars.length * ROW + 6;
  const ticks = x
    .ticks(5)
    .map((value) =>
      element(
        'g',
        {},
        element('line', { class: 'axis', x1: x(value), x2: x(value), y1: TOP - 6, y2: height - 4 }),
        element(
          'text',
          { class: 'axis-label', x: x(value), y: TOP - 11, 'text-anchor': 'middle' },
          String(value),
        ),
      ),
    );
  const rows = bars.map((bar, n) => {
    const y = TOP + n * ROW;
    const lines = wrapText(bar.label, 38, 2);
    return element(
      'a',
      { href: bar.href, class: 'pareto-link' },
      element('title', {}, `${bar.label}: ${bar.figure}`),
      textLines(
        lines,
        { x: LABEL - 8, y: y + (lines.length > 1 ? 13 : 20), step: 13 },
        { 'text-anchor': 'end' },
      ),
      element('rect', {
        class: 'pareto-bar',
        x: LABEL,
        y: y + 7,
        width: Math.max(1, x(bar.value) - LABEL),
        height: ROW - 14,
        rx: 2,
      }),
      element('rect', {
        fill: 'url(#twist)',
        x: LABEL,
        y: y + 7,
        width: Math.max(1, x(bar.value) - LABEL),
        height: ROW - 14,
        rx: 2,
      }),
      bar.interval === undefined
        ? undefined
        : element('path', {
            class: 'whisker',
            fill: 'none',
            d: `M${x(bar.interval.lower)} ${y + ROW / 2} H${x(bar.interval.upper)} M${x(bar.interval.lower)} ${y + 12} v10${bar.interval.upper > end ? '' : ` M${x(bar.interval.upper)} ${y + 12} v10`}`,
          }),
      element('text', { class: 'row-value', x: WIDTH - RIGHT + 8, y: y + 17 }, bar.figure),
      element(
        'text',
        { class: 'axis-label', x: WIDTH - RIGHT + 8, y: y + 30 },
        `${Math.round(bar.cumulative * 100)} % so far`,
      ),
    );
  });
  return element(
    'svg',
    {
      class: 'picture wide-picture pareto',
      viewBox: `0 0 ${WIDTH} ${height}`,
      role: 'group',
      'aria-label': title,
    },
    element('title', {}, title),
    element(
      'desc',
      {},
      `One bar a cause, in ${unit}, largest first, with a line for the interval. The table below gives the same numbers.`,
    ),
    ...ticks,
    ...rows,
  );
}
