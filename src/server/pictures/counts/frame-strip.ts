import { say } from '../../../language/say.js';
import { element, type Picture } from '../svg.js';
import { type CountPicture, framePicture, sayFigure, WIDTH } from './count-picture.js';

/** One position of the strip. */
export interface StripPosition {
  readonly id: string;
  readonly count: number;
  /** Its rate over that of the others; Infinity when the others have none. */
  readonly ratio: number;
  /** Breaks per 1000 rotor-hours; undefined when hours are not known. */
  readonly per1000: number | undefined;
  readonly mark: 'position' | 'section' | undefined;
}

const PER_ROW = 24;
const LEFT = 36;
const TOP = 22;
const CELL = (WIDTH - LEFT - 2) / PER_ROW;
const ROW = CELL + 7;
/** Height of the line above the legend that says what its colours compare. */
const HEADING = 17;

/**
 * The frame position by position, 24 in a row so that a phone shows it: the darker, the more breaks against the others; a
 * position that stands out has a ring, a run of neighbours a bar below it.
 */
export function drawFrameStrip(title: string, positions: readonly StripPosition[]): CountPicture {
  const rows = Math.ceil(positions.length / PER_ROW);
  const legendTop = TOP + rows * ROW + 8;
  const columns = [1, 6, 12, 18, 24].map((column) =>
    element(
      'text',
      { class: 'axis-label', x: LEFT + (column - 0.5) * CELL, y: TOP - 8, 'text-anchor': 'middle' },
      String(column),
    ),
  );
  const labels = Array.from({ length: rows }, (_, row) =>
    element(
      'text',
      { class: 'axis-label', x: LEFT - 5, y: TOP + row * ROW + CELL - 2.5, 'text-anchor': 'end' },
      (positions[row * PER_ROW]?.id ?? '').slice(0, 6),
    ),
  );
  const cells = positions.map((position, i) => {
    const x = LEFT + (i % PER_ROW) * CELL;
    const y = TOP + Math.floor(i / PER_ROW) * ROW;
    return drawCell(position, x, y);
  });
  return {
    picture: framePicture(
      'strip-frame',
      legendTop + 34 + HEADING,
      title,
      say('count-picture.strip-about'),
      ...columns,
      ...labels,
      ...cells,
      ...drawLegend(legendTop),
    ),
    table: {
      caption: title,
      columns: [
        say('count-picture.position'),
        say('count-picture.breaks'),
        say('count-picture.against'),
        say('count-picture.per-1000'),
        '',
      ],
      rows: positions.map((position) => [
        position.id,
        sayFigure(position.count),
        Number.isFinite(position.ratio) ? `× ${sayFigure(position.ratio)}` : '–',
        position.per1000 === undefined ? '–' : sayFigure(position.per1000),
        position.mark === 'position'
          ? say('count-picture.stands-out')
          : position.mark === 'section'
            ? say('count-picture.in-run')
            : '',
      ]),
    },
  };
}

function levelOf(position: StripPosition): number {
  if (position.count === 0) return 0;
  if (position.ratio < 1) return 1;
  if (position.ratio < 2) return 2;
  return position.ratio < 3 ? 3 : 4;
}

function drawCell(position: StripPosition, x: number, y: number): Picture {
  const marked = position.mark !== undefined;
  return element(
    'g',
    {},
    marked
      ? element('title', {}, say('count-picture.cell', { id: position.id, count: position.count }))
      : undefined,
    element('rect', {
      class: `cell level-${levelOf(position)}`,
      x: x + 0.75,
      y,
      width: CELL - 1.5,
      height: CELL - 1.5,
      rx: 2,
    }),
    position.mark === 'position'
      ? element('circle', { class: 'ring', cx: x + CELL / 2, cy: y + CELL / 2 - 0.75, r: CELL / 2 + 1 })
      : undefined,
    position.mark === 'section'
      ? element('rect', { class: 'run', x, y: y + CELL + 0.5, width: CELL, height: 3 })
      : undefined,
  );
}

function drawLegend(start: number): Picture[] {
  const top = start + HEADING;
  const levels = [
    say('count-picture.none'),
    say('count-picture.fewer'),
    say('count-picture.up-to-2'),
    say('count-picture.up-to-3'),
    say('count-picture.over-3'),
  ];
  const step = (WIDTH - 4) / levels.length;
  return [
    element('text', { class: 'axis-label', x: 2, y: start + 9.5 }, say('count-picture.colours')),
    ...levels.map((words, level) =>
      element(
        'g',
        {},
        element('rect', {
          class: `cell level-${level}`,
          x: 2 + level * step,
          y: top,
          width: CELL - 1.5,
          height: CELL - 1.5,
          rx: 2,
        }),
        element('text', { class: 'axis-label', x: 2 + level * step + CELL + 2, y: top + 9.5 }, words),
      ),
    ),
    element('circle', { class: 'ring', cx: 2 + CELL / 2, cy: top + 26, r: 5 }),
    element('text', { class: 'axis-label', x: 2 + CELL + 4, y: top + 29.5 }, say('count-picture.stands-out')),
    element('rect', { class: 'run', x: 2 + 2 * step, y: top + 24, width: 16, height: 3 }),
    element('text', { class: 'axis-label', x: 2 + 2 * step + 22, y: top + 29.5 }, say('count-picture.run')),
  ];
}
