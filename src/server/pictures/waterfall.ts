import { scaleLinear } from 'd3-scale';
import { sayFixed } from '../../language/numbers.js';
import { say } from '../../language/say.js';
import { element, type Picture, textLines, wrapText } from './svg.js';

/** A step of the reckoning: log-odds in decibans before and after, and what it was. */
export interface WaterfallStep {
  readonly label: string;
  readonly decibans: number;
  /** Log-odds after this step, decibans. */
  readonly level: number;
}

const WIDTH = 340;
const LEFT = 8;
const RIGHT = 40;
const LINE = 14;
/** Height of a row besides its lines of text. */
const BELOW_TEXT = 26;
const TOP = 26;

/** Probabilities that the axis names, with their log-odds in decibans. */
const AXIS: readonly (readonly [string, number])[] = [
  ['0.1 %', -29.996],
  ['1 %', -19.956],
  ['10 %', -9.542],
  ['50 %', 0],
  ['90 %', 9.542],
  ['99 %', 19.956],
];

/**
 * Draws how the probability of a cause was reached: one bar a step, from the log-odds before it to those after it.
 * The same numbers stand in the table beside it.
 *
 * @param steps the first is the base rate
 */
export function drawWaterfall(title: string, steps: readonly WaterfallStep[]): Picture {
  const levels = steps.map((step) => step.level);
  const low = Math.min(-22, ...levels) - 3;
  const high = Math.max(2, ...levels) + 3;
  const x = scaleLinear()
    .domain([low, high])
    .range([LEFT, WIDTH - RIGHT]);
  const labels = steps.map((step) => wrapText(step.label, 48, 2));
  const height = TOP + labels.reduce((sum, lines) => sum + lines.length * LINE + BELOW_TEXT, 0) + 6;
  const axis = AXIS.filter(([, level]) => level > low && level < high).map(([label, level]) =>
    element(
      'g',
      {},
      element('line', { class: 'axis', x1: x(level), x2: x(level), y1: TOP - 6, y2: height - 4 }),
      element('text', { class: 'axis-label', x: x(level), y: TOP - 12, 'text-anchor': 'middle' }, label),
    ),
  );
  let before = steps[0]?.level ?? 0;
  let top = TOP;
  const rows = steps.map((step, i) => {
    const lines = labels[i] ?? [];
    const y = top;
    top += lines.length * LINE + BELOW_TEXT;
    const from = i === 0 ? x(low) : x(before);
    const to = x(step.level);
    const width = Math.max(2, Math.abs(to - from));
    const kind = i === 0 ? 'base' : step.decibans >= 0 ? 'for' : 'against';
    const middle = y + 6 + lines.length * LINE;
    before = step.level;
    const sign = step.decibans >= 0 ? '+' : '−';
    return element(
      'g',
      {},
      textLines(lines, { x: LEFT, y: y + 12, step: LINE }, { class: 'row-label' }),
      element('rect', { class: `fall ${kind}`, x: Math.min(from, to), y: middle, width, height: 11, rx: 2 }),
      element('line', { class: 'level', x1: to, x2: to, y1: middle - 1, y2: middle + 12 }),
      element(
        'text',
        { class: 'row-value', x: Math.max(from, to) + 5, y: middle + 10 },
        i === 0 ? say('cause.start') : `${sign}${sayFixed(Math.abs(step.decibans), 1)}`,
      ),
    );
  });
  return element(
    'svg',
    { class: 'picture waterfall', viewBox: `0 0 ${WIDTH} ${height}`, role: 'img', 'aria-label': title },
    element('title', {}, title),
    element('desc', {}, say('cause.waterfall-text')),
    ...axis,
    ...rows,
  );
}
