import { scaleLinear } from 'd3-scale';
import { localDecimal } from '../../language/numbers.js';
import { say } from '../../language/say.js';
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

const WIDTH = 340;
const LEFT = 6;
const RIGHT = 74;
const LINE = 14;
const BAR = 15;
const TOP = 24;

/**
 * Draws causes by falling value: a bar below its name, a whisker for the interval, and the running share in figures.
 * Every bar is a link to the cases behind it.
 */
export function drawPareto(title: string, unit: string, bars: readonly ParetoBar[]): Picture {
  const most = Math.max(1e-9, ...bars.map((bar) => bar.value));
  // Whiskers may leave the picture; a bar may not become a stub because of one wide interval.
  const end = Math.min(Math.max(most, ...bars.map((bar) => bar.interval?.upper ?? bar.value)), most * 1.9);
  const x = scaleLinear()
    .domain([0, end])
    .range([LEFT, WIDTH - RIGHT])
    .clamp(true);
  const labels = bars.map((bar) => wrapText(bar.label, 48, 2));
  const height = TOP + labels.reduce((sum, lines) => sum + lines.length * LINE + BAR + 13, 0) + 2;
  const ticks = x
    .ticks(4)
    .map((value) =>
      element(
        'g',
        {},
        element('line', { class: 'axis', x1: x(value), x2: x(value), y1: TOP - 6, y2: height - 4 }),
        element(
          'text',
          { class: 'axis-label', x: x(value), y: TOP - 11, 'text-anchor': value === 0 ? 'start' : 'middle' },
          localDecimal(String(value)),
        ),
      ),
    );
  let top = TOP;
  const rows = bars.map((bar, n) => {
    const lines = labels[n] ?? [];
    const y = top + lines.length * LINE + 5;
    const width = Math.max(1, x(bar.value) - LEFT);
    const row = element(
      'a',
      { href: bar.href, class: 'pareto-link' },
      element('title', {}, `${bar.label}: ${bar.figure}`),
      // The whole row can be hit, not the bar alone.
      element('rect', { class: 'hit', x: 0, y: top, width: WIDTH, height: lines.length * LINE + BAR + 10 }),
      textLines(lines, { x: LEFT, y: top + 12, step: LINE }),
      element('rect', { class: 'pareto-bar', x: LEFT, y, width, height: BAR, rx: 2 }),
      element('rect', { fill: 'url(#twist)', x: LEFT, y, width, height: BAR, rx: 2 }),
      bar.interval === undefined
        ? undefined
        : element('path', {
            class: 'whisker',
            d: `M${x(bar.interval.lower)} ${y + BAR / 2} H${x(bar.interval.upper)} M${x(bar.interval.lower)} ${y + 3} v${BAR - 6}${bar.interval.upper > end ? '' : ` M${x(bar.interval.upper)} ${y + 3} v${BAR - 6}`}`,
          }),
      element('text', { class: 'row-value', x: WIDTH - RIGHT + 8, y: y + 6 }, bar.figure),
      element(
        'text',
        { class: 'axis-label', x: WIDTH - RIGHT + 8, y: y + 18 },
        say('quality-desk.so-far', { percent: Math.round(bar.cumulative * 100) }),
      ),
    );
    top += lines.length * LINE + BAR + 13;
    return row;
  });
  return element(
    'svg',
    { class: 'picture pareto', viewBox: `0 0 ${WIDTH} ${height}`, role: 'group', 'aria-label': title },
    element('title', {}, title),
    element('desc', {}, say('quality-desk.pareto-desc', { unit })),
    ...ticks,
    ...rows,
  );
}
