import { scaleLinear } from 'd3-scale';
import { localDecimal, sayTime } from '../../language/numbers.js';
import { say } from '../../language/say.js';
import { element, type Picture } from './svg.js';

/** A day of a frame: breaks per 1000 rotor-hours, and whether its setup was changed on it. */
export interface DayRate {
  readonly day: string;
  /** Undefined where the frame did not run or was not counted. */
  readonly rate: number | undefined;
  readonly changed: boolean;
}

const WIDTH = 340;
const HEIGHT = 170;
const LEFT = 28;
const RIGHT = 6;
const TOP = 20;
const BOTTOM = 30;

/**
 * Draws breaks per 1000 rotor-hours day by day, with the usual rate as a line and a mark where the setup was changed.
 * @param days oldest first
 */
export function drawBreakDays(title: string, days: readonly DayRate[], norm: number | undefined): Picture {
  const most = Math.max(norm ?? 0, ...days.map((one) => one.rate ?? 0), 1);
  const y = scaleLinear()
    .domain([0, most * 1.05])
    .nice(4)
    .range([HEIGHT - BOTTOM, TOP]);
  const step = (WIDTH - LEFT - RIGHT) / Math.max(1, days.length);
  const x = (n: number) => LEFT + n * step;
  const ticks = y
    .ticks(4)
    .map((value) =>
      element(
        'g',
        {},
        element('line', { class: 'axis', x1: LEFT, x2: WIDTH - RIGHT, y1: y(value), y2: y(value) }),
        element(
          'text',
          { class: 'axis-label', x: LEFT - 5, y: y(value) + 4, 'text-anchor': 'end' },
          localDecimal(String(value)),
        ),
      ),
    );
  const bars = days.map((one, n) =>
    one.rate === undefined
      ? undefined
      : element('rect', {
          class: norm !== undefined && one.rate > norm * 1.5 ? 'day high' : 'day',
          x: x(n) + step * 0.12,
          y: y(one.rate),
          width: Math.max(1, step * 0.76),
          height: Math.max(0.5, y(0) - y(one.rate)),
        }),
  );
  const marks = days.map((one, n) =>
    one.changed
      ? element('path', {
          class: 'change-mark',
          d: `M${x(n) + step / 2 - 4} ${HEIGHT - BOTTOM + 10} l4 -7 l4 7 Z`,
        })
      : undefined,
  );
  const named = days.flatMap((one, n) =>
    n % Math.max(1, Math.ceil(days.length / 5)) === 0
      ? [
          element(
            'text',
            {
              class: 'axis-label',
              x: x(n) + step / 2,
              y: HEIGHT - 6,
              'text-anchor': n === 0 ? 'start' : 'middle',
            },
            sayTime(new Date(`${one.day}T12:00:00Z`), { day: 'numeric', month: 'short', timeZone: 'UTC' }),
          ),
        ]
      : [],
  );
  return element(
    'svg',
    { class: 'picture break-days', viewBox: `0 0 ${WIDTH} ${HEIGHT}`, role: 'img', 'aria-label': title },
    element('title', {}, title),
    element(
      'desc',
      {},
      norm === undefined
        ? say('mill.days-desc')
        : say('mill.days-desc-usual', { rate: localDecimal(String(norm)) }),
    ),
    ...ticks,
    ...bars,
    norm === undefined
      ? undefined
      : element('line', { class: 'norm', x1: LEFT, x2: WIDTH - RIGHT, y1: y(norm), y2: y(norm) }),
    norm === undefined
      ? undefined
      : element(
          'text',
          { class: 'axis-label', x: WIDTH - RIGHT, y: TOP - 8, 'text-anchor': 'end' },
          say('mill.dashed-usual'),
        ),
    ...marks,
    ...named,
  );
}
