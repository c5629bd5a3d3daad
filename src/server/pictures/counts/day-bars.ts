import { scaleBand, scaleLinear } from 'd3-scale';
import { say } from '../../../language/say.js';
import { element } from '../svg.js';
import { type CountPicture, framePicture, sayFigure, WIDTH } from './count-picture.js';

/** Rates by hour of the day or by shift. */
export interface DayBarsInput {
  readonly title: string;
  readonly unit: string;
  readonly slots: readonly {
    readonly label: string;
    readonly count: number;
    readonly rate: number;
    /** Rate over that of the other slots. */
    readonly ratio: number;
    readonly marked: boolean;
  }[];
  readonly mean: number;
}

const LEFT = 38;
const TOP = 26;
const BOTTOM = 140;

/** A bar for every slot of the day, and a line at the mean of all. */
export function drawDayBars(input: DayBarsInput): CountPicture {
  const { slots, mean } = input;
  const most = Math.max(mean, ...slots.map((slot) => slot.rate), 1e-9);
  const y = scaleLinear()
    .domain([0, most * 1.08])
    .range([BOTTOM, TOP])
    .nice(4);
  const x = scaleBand<number>()
    .domain(slots.map((_, i) => i))
    .range([LEFT, WIDTH - 4])
    .padding(0.2);
  const every = Math.max(1, Math.ceil(slots.length / 6));
  return {
    picture: framePicture(
      'day-bars',
      BOTTOM + 24,
      input.title,
      say('count-picture.day-about'),
      element('text', { class: 'axis-label', x: 2, y: 11 }, input.unit),
      ...y
        .ticks(4)
        .map((tick) =>
          element(
            'g',
            {},
            element('line', { class: 'axis', x1: LEFT, x2: WIDTH - 4, y1: y(tick), y2: y(tick) }),
            element(
              'text',
              { class: 'axis-label', x: LEFT - 4, y: y(tick) + 3.5, 'text-anchor': 'end' },
              sayFigure(tick),
            ),
          ),
        ),
      ...slots.map((slot, i) =>
        element('rect', {
          class: slot.marked ? 'column marked' : 'column',
          x: x(i) ?? 0,
          y: y(slot.rate),
          width: x.bandwidth(),
          height: Math.max(0, BOTTOM - y(slot.rate)),
        }),
      ),
      element('line', { class: 'reference', x1: LEFT, x2: WIDTH - 4, y1: y(mean), y2: y(mean) }),
      element('line', { class: 'zero', x1: LEFT, x2: WIDTH - 4, y1: BOTTOM, y2: BOTTOM }),
      ...slots.map((slot, i) =>
        i % every === 0
          ? element(
              'text',
              {
                class: 'axis-label',
                x: (x(i) ?? 0) + x.bandwidth() / 2,
                y: BOTTOM + 15,
                'text-anchor': 'middle',
              },
              slot.label.slice(0, 12),
            )
          : undefined,
      ),
    ),
    table: {
      caption: input.title,
      columns: ['', say('count-picture.breaks'), input.unit, say('count-picture.against'), ''],
      rows: slots.map((slot) => [
        slot.label,
        sayFigure(slot.count),
        sayFigure(slot.rate),
        `× ${sayFigure(slot.ratio)}`,
        slot.marked ? say('count-picture.differs') : '',
      ]),
    },
  };
}
