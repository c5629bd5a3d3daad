import { element, type Picture } from '../svg.js';
import { polar, type XY } from './geometry.js';

/** A number for a path: to a thousandth, so that lengths can be measured on the sheet. */
export const f = (value: number) => String(Math.round(value * 1000) / 1000);

/** `12.5 40` for a path. */
export const at = (point: XY) => `${f(point.x)} ${f(point.y)}`;

/** A straight stroke. */
export function stroke(from: XY, to: XY, name: string, part?: string): Picture {
  return element('path', { class: name, d: `M${at(from)} L${at(to)}`, 'data-part': part });
}

/** An outline or area through points. */
export function shape(points: readonly XY[], name: string, closed = false, part?: string): Picture {
  const d = points.map((point, i) => `${i === 0 ? 'M' : 'L'}${at(point)}`).join(' ');
  return element('path', { class: name, d: closed ? `${d} Z` : d, 'data-part': part });
}

/**
 * Part of a circle, from one direction to another; anticlockwise as seen when `to` is greater.
 *
 * @param from direction in degrees, 0 to the right, 90 up
 */
export function arcPath(centre: XY, radius: number, from: number, to: number): string {
  const sweep = to - from;
  const large = Math.abs(sweep) > 180 ? 1 : 0;
  // On a sheet y points down, so that anticlockwise is the negative direction.
  return `M${at(polar(centre, radius, from))} A${f(radius)} ${f(radius)} 0 ${large} ${sweep > 0 ? 0 : 1} ${at(polar(centre, radius, to))}`;
}

/** The arc as a stroke. */
export function arc(
  centre: XY,
  radius: number,
  from: number,
  to: number,
  name: string,
  part?: string,
): Picture {
  return element('path', { class: name, d: arcPath(centre, radius, from, to), 'data-part': part });
}

export function circle(centre: XY, radius: number, name: string, part?: string): Picture {
  return element('circle', {
    class: name,
    cx: f(centre.x),
    cy: f(centre.y),
    r: f(radius),
    'data-part': part,
  });
}

/** A label; lines one below the other. */
export function label(
  point: XY,
  lines: string | readonly string[],
  anchor: 'start' | 'middle' | 'end' = 'start',
  name = 'dw-label',
): Picture {
  const all = typeof lines === 'string' ? [lines] : lines;
  return element(
    'text',
    { class: name, x: f(point.x), y: f(point.y), 'text-anchor': anchor },
    ...all.map((line, i) => element('tspan', { x: f(point.x), dy: i === 0 ? 0 : LINE }, line)),
  );
}

/** Distance between lines of a label, and about the width of a letter, in units of the sheet. */
export const LINE = 15;
export const LETTER = 7;

/** A thin line from a label to what it names, with a dot at its end. */
export function leader(from: XY, to: XY): Picture {
  return element('g', {}, stroke(from, to, 'dw-leader'), circle(to, 1.8, 'dw-dot'));
}

/** Arrowheads at both ends of a straight dimension line, pointing outwards, and the line between. */
export function dimension(from: XY, to: XY, part: string): Picture {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const along = { x: (to.x - from.x) / length, y: (to.y - from.y) / length };
  if (length >= 22)
    return element(
      'g',
      { class: 'dw-dimension' },
      stroke(from, to, 'dw-dim', part),
      head(from, { x: -along.x, y: -along.y }),
      head(to, along),
    );
  // A short length has its arrows outside, pointing inwards.
  const out = 16;
  const before = { x: from.x - along.x * out, y: from.y - along.y * out };
  const after = { x: to.x + along.x * out, y: to.y + along.y * out };
  return element(
    'g',
    { class: 'dw-dimension' },
    stroke(from, to, 'dw-dim', part),
    stroke(before, from, 'dw-dim'),
    stroke(after, to, 'dw-dim'),
    head(from, along),
    head(to, { x: -along.x, y: -along.y }),
  );
}

/** An arrowhead whose tip is at a point. */
export function head(tip: XY, direction: XY): Picture {
  const back = { x: tip.x - direction.x * 8, y: tip.y - direction.y * 8 };
  const side = { x: -direction.y * 2.6, y: direction.x * 2.6 };
  return shape(
    [tip, { x: back.x + side.x, y: back.y + side.y }, { x: back.x - side.x, y: back.y - side.y }],
    'dw-head',
    true,
  );
}

/** A bar of so many millimetres with its words. */
export function scaleBar(origin: XY, scale: number, millimetres: number): Picture {
  const end = { x: origin.x + millimetres * scale, y: origin.y };
  const tick = (x: number) => stroke({ x, y: origin.y - 4 }, { x, y: origin.y + 4 }, 'dw-dim');
  return element(
    'g',
    { 'data-part': 'scale-bar', 'data-mm': millimetres },
    stroke(origin, end, 'dw-bar', 'scale'),
    tick(origin.x),
    tick(end.x),
    label({ x: end.x + 6, y: origin.y + 4 }, `${millimetres} mm`, 'start', 'dw-small'),
  );
}
