import { element, type Picture, textLines } from './svg.js';

/** Height of a line of text in a node. */
export const LINE = 15;

/** Where a node lies: its middle and its size. */
export interface NodePlace {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A box with its text; mechanisms are round. `className` adds to the kind's class. */
export function nodeBox(kind: string, place: NodePlace, text: readonly string[], className = ''): Picture {
  const { x, y, width, height } = place;
  return element(
    'g',
    { class: `node ${kind}${className}` },
    element('rect', {
      x: x - width / 2,
      y: y - height / 2,
      width,
      height,
      rx: kind === 'mechanism' ? height / 2.2 : 5,
    }),
    textLines(
      text,
      { x, y: y - height / 2 + LINE + 3, step: LINE },
      { 'text-anchor': 'middle', class: 'node-text' },
    ),
  );
}

/** A line through points that ends in the arrow of that id; the heavier, the stronger the link (0–1). */
export function linkLine(points: readonly { x: number; y: number }[], value: number, arrow: string): Picture {
  return element('path', {
    class: 'link',
    d: points.map((point, i) => `${i === 0 ? 'M' : 'L'}${round(point.x)} ${round(point.y)}`).join(' '),
    'stroke-width': 1 + 4 * value,
    'marker-end': `url(#${arrow})`,
  });
}

/** The sheet of a graph: title, description, its arrow head and the parts drawn on it. */
export function graphSheet(
  sheet: {
    readonly title: string;
    readonly description: string;
    readonly width: number;
    readonly height: number;
    /** Id of the arrow head, of its own for every picture on a page. */
    readonly arrow: string;
  },
  parts: readonly Picture[],
): Picture {
  const { title, description, width, height, arrow } = sheet;
  return element(
    'svg',
    {
      class: 'picture chains',
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      role: 'img',
      'aria-label': title,
    },
    element('title', {}, title),
    element('desc', {}, description),
    element(
      'defs',
      {},
      element(
        'marker',
        {
          id: arrow,
          viewBox: '0 0 8 8',
          refX: 7,
          refY: 4,
          markerWidth: 9,
          markerHeight: 9,
          markerUnits: 'userSpaceOnUse',
          orient: 'auto',
        },
        element('path', { class: 'arrow', d: 'M0 0 L8 4 L0 8 z' }),
      ),
    ),
    ...parts,
  );
}

const round = (value: number) => Math.round(value * 10) / 10;
