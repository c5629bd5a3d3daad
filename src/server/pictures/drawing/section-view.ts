import { say } from '../../../language/say.js';
import { describeInsert } from '../../../rules/plans/settings.js';
import { element, type Picture } from '../svg.js';
import { outerRadius } from './front-view.js';
import { type PositionGeometry, polar, type XY } from './geometry.js';
import { arc, arcPath, at, circle, head, LINE, label, leader, scaleBar, shape, stroke } from './strokes.js';
import { type Drawn, sized, type View } from './view.js';

/** Lengths that are no part of a setup, mm; drawn as is usual and said to be so. */
const USUAL = {
  shaft: 9,
  wall: 1.6,
  wallDepth: 8,
  /** Radius of the rotor's mouth over that of the groove. */
  mouth: 0.8,
  cover: 2.2,
  straight: 6,
  bend: 9,
  end: 9,
  tubeWall: 0.9,
  tubeBore: 1.7,
} as const;

const round90 = (value: number) => Math.round(value * 1e6) / 1e6;

/** Width and height of the cut in millimetres. */
export function sectionExtent(g: PositionGeometry): {
  readonly width: number;
  readonly height: number;
  readonly up: number;
  readonly left: number;
} {
  const left = floorOf(g) + USUAL.wall + USUAL.shaft;
  const tube = tubeOf(g);
  const right = Math.max(tube.end.x + 3, bendCorner(g, tube).x + 6.5, tube.start.x + 4);
  const up = Math.max(g.rotorRadius + USUAL.wall, tube.end.y + 4);
  return { width: left + right, height: up + g.rotorRadius + USUAL.wall, up, left };
}

/** How far the rotor's floor lies behind the groove plane. */
const floorOf = (g: PositionGeometry) => Math.max(3.2, g.protrusion + 2.4);
/** Where the cover stands. */
const coverOf = (g: PositionGeometry) => Math.max(USUAL.wallDepth + 1.2, g.lipCentre.x + 1.5);

interface Tube {
  readonly start: XY;
  readonly bendStart: XY;
  readonly bendCentre: XY;
  readonly bendEnd: XY;
  readonly end: XY;
}

/** The middle line of the draw-off tube, which bends upwards on the sheet. */
function tubeOf(g: PositionGeometry): Tube {
  const start = { x: coverOf(g) + USUAL.cover, y: 0 };
  const bendStart = { x: start.x + USUAL.straight, y: 0 };
  const angle = (g.bendDeg * Math.PI) / 180;
  const bendCentre = { x: bendStart.x, y: USUAL.bend };
  const bendEnd = {
    x: bendCentre.x + USUAL.bend * Math.sin(angle),
    y: bendCentre.y - USUAL.bend * Math.cos(angle),
  };
  const end = { x: bendEnd.x + USUAL.end * Math.cos(angle), y: bendEnd.y + USUAL.end * Math.sin(angle) };
  return { start, bendStart, bendCentre, bendEnd, end };
}

/**
 * The position cut along its axis: rotor with groove, nozzle with its entry and protrusion, cover, draw-off tube with
 * bend and insert, and the yarn on its way. Rotor, entry, protrusion and angles are to scale; depths and the lengths of
 * the tube are as is usual.
 */
export function sectionView(drawn: Drawn, was: Drawn | undefined, scale: number, width: number): View {
  const { geometry: g, setup } = drawn;
  const extent = sectionExtent(g);
  const wasExtent = was === undefined ? extent : sectionExtent(was.geometry);
  const drawnWidth = Math.max(extent.width, wasExtent.width) * scale;
  const origin = {
    x: Math.max(0, (width - drawnWidth) / 2) + Math.max(extent.left, wasExtent.left) * scale,
    y: 40 + Math.max(extent.up, wasExtent.up) * scale,
  };
  const place = (point: XY): XY => ({ x: origin.x + point.x * scale, y: origin.y - point.y * scale });
  const p = (x: number, y: number) => place({ x, y });
  const pictures: Picture[] = [
    ...[1, -1].map((side) => rotorHalf(g, side, p)),
    shaft(g, p),
    ...[1, -1].map((side) => coverHalf(g, side, p)),
    ...[1, -1].map((side) => nozzleHalf(g, side, scale, place, `dw-nozzle dw-${setup.nozzleMaterial}`)),
    ...tubeWalls(g, scale, place),
    ...insertIn(drawn, scale, place),
    stroke(p(-extent.left - 1, 0), p(coverOf(g) + USUAL.cover + USUAL.straight, 0), 'dw-axis'),
    stroke(p(0, g.rotorRadius + 2.2), p(0, -g.rotorRadius - 2.2), 'dw-axis', 'groove-plane'),
  ];
  if (was !== undefined) pictures.push(ghost(was, scale, place));
  pictures.push(...yarnPath(g, scale, place, 'dw-yarn'));

  const tube = tubeOf(g);
  pictures.push(...[1, -1].map((side) => circle(p(0, side * g.rotorRadius), 3, 'dw-fibre')));
  // Angle of the bend, between the axis carried on and the tube's last stretch.
  const corner = place(bendCorner(g, tube));
  if (g.bendDeg > 3) {
    const radius = 5.5 * scale;
    pictures.push(
      stroke(place(tube.bendStart), { x: corner.x + radius + 8, y: corner.y }, 'dw-extension'),
      arc(corner, radius, 0, g.bendDeg, 'dw-dim', 'bend-angle'),
    );
  }
  const bottom =
    origin.y + Math.max(g.rotorRadius, was?.geometry.rotorRadius ?? 0) * scale + USUAL.wall * scale;
  const tubeWords = [
    ...lines(say('drawing-word.tube', { size: sized(g.bendDeg, was?.geometry.bendDeg, '°', 0) })),
    ...lines(
      `${setup.insert === 'none' ? say('drawing-word.no-insert') : say('drawing-word.insert', { insert: insertOf(drawn) })}${was === undefined || was.setup.insert === setup.insert ? '' : ` ${say('drawing-word.was', { value: insertOf(was) })}`}`,
    ),
  ];
  const words = { x: width - 4, y: Math.min(origin.y + 6.5 * scale, bottom - tubeWords.length * LINE) };
  pictures.push(
    label(
      { x: p(0, 0).x + 4, y: p(0, g.rotorRadius + USUAL.wall).y - 5 },
      say('drawing-word.groove-plane'),
      'start',
      'dw-small',
    ),
    label(words, tubeWords, 'end'),
    leader({ x: words.x - 40, y: words.y - 13 }, { x: corner.x + 6, y: corner.y + 1 }),
    scaleBar({ x: 8, y: bottom + 18 }, scale, 10),
    label({ x: width - 4, y: bottom + 40 }, say('drawing-word.not-to-scale'), 'end', 'dw-small'),
  );
  const yarnEnd = place(tube.end);
  pictures.push(takeOff(g, yarnEnd));
  return {
    title: say('drawing-word.section'),
    width,
    height: bottom + 48,
    axis: origin.y,
    pictures,
    places: {
      'rotor-shaft': p(-extent.left + 3, 0),
      'cover-seal': p(coverOf(g) - 0.4, g.rotorRadius * USUAL.mouth + 2.2),
      'nozzle-seat': p(coverOf(g) + 0.8, -g.boreRadius - 2.4),
      'nozzle-bore': p(Math.min(coverOf(g) - 0.5, g.lipCentre.x + 1.5), 0),
      'tube-bend': place(polarUp(tube.bendCentre, USUAL.bend + 4, g.bendDeg / 2)),
      insert: place(polarUp(tube.bendCentre, USUAL.bend - 4, g.bendDeg / 2)),
      'take-off': { x: yarnEnd.x - 4, y: yarnEnd.y + 18 },
    },
  };
}

/** Where the straight stretches of the tube would meet. */
function bendCorner(g: PositionGeometry, tube: Tube): XY {
  return { x: tube.bendStart.x + USUAL.bend * Math.tan((g.bendDeg * Math.PI) / 360), y: 0 };
}

/** What was before goes on a line of its own. */
const lines = (words: string) => words.replace(' (', '\n(').split('\n');

/** An insert in few words. */
const insertOf = ({ setup }: Drawn) => (setup.insert === 'none' ? 'none' : describeInsert(setup.insert));

/** A point on a circle below its middle, at an angle from straight down (the way a tube bends). */
function polarUp(centre: XY, radius: number, deg: number): XY {
  const angle = (deg * Math.PI) / 180;
  return { x: centre.x + radius * Math.sin(angle), y: centre.y - radius * Math.cos(angle) };
}

function rotorHalf(g: PositionGeometry, side: number, p: (x: number, y: number) => XY): Picture {
  const r = g.rotorRadius;
  const floor = -floorOf(g);
  const mouth = r * USUAL.mouth;
  const y = (value: number) => side * value;
  return shape(
    [
      p(floor, 0),
      p(floor, y(r * 0.62)),
      p(-1.1, y(r * 0.93)),
      p(0, y(r)),
      p(USUAL.wallDepth, y(mouth)),
      p(USUAL.wallDepth, y(mouth + USUAL.wall)),
      p(0.8, y(r + USUAL.wall)),
      p(-1.6, y(r + USUAL.wall)),
      p(floor - USUAL.wall, y(r * 0.66)),
      p(floor - USUAL.wall, 0),
    ],
    'dw-steel dw-cut',
    true,
  );
}

function shaft(g: PositionGeometry, p: (x: number, y: number) => XY): Picture {
  const from = -floorOf(g) - USUAL.wall;
  return shape(
    [p(from, 2.6), p(from - USUAL.shaft, 2.6), p(from - USUAL.shaft, -2.6), p(from, -2.6)],
    'dw-steel',
    true,
  );
}

function coverHalf(g: PositionGeometry, side: number, p: (x: number, y: number) => XY): Picture {
  const from = coverOf(g);
  const inner = outerRadius(g.contactRadius, g.lipRadius) * 0.7;
  const outer = g.rotorRadius + USUAL.wall;
  return shape(
    [
      p(from, side * inner),
      p(from, side * outer),
      p(from + USUAL.cover, side * outer),
      p(from + USUAL.cover, side * inner),
    ],
    'dw-cover dw-cut',
    true,
  );
}

/** One half of the nozzle in the cut: bore, entry as part of a circle, face, outer edge, shank. */
function nozzleHalf(
  g: PositionGeometry,
  side: number,
  scale: number,
  place: (point: XY) => XY,
  name: string,
): Picture {
  return element('path', { class: `${name} dw-cut`, d: nozzleProfile(g, side, scale, place) });
}

function nozzleProfile(g: PositionGeometry, side: number, scale: number, place: (point: XY) => XY): string {
  const to = coverOf(g) + USUAL.cover;
  const outer = outerRadius(g.contactRadius, g.lipRadius);
  const edge = outer - g.contactRadius;
  const point = (x: number, y: number) => at(place({ x, y: side * y }));
  const r = g.lipRadius * scale;
  const e = edge * scale;
  const turn = side > 0 ? 1 : 0;
  return [
    `M${point(to, g.boreRadius)}`,
    `L${point(g.lipCentre.x, g.boreRadius)}`,
    `A${round90(r)} ${round90(r)} 0 0 ${turn} ${point(-g.protrusion, g.contactRadius)}`,
    `A${round90(e)} ${round90(e)} 0 0 ${turn} ${point(-g.protrusion + edge, outer)}`,
    `L${point(Math.max(-g.protrusion + edge, g.lipCentre.x), outer)}`,
    `L${point(coverOf(g), outer * 0.7)}`,
    `L${point(to, outer * 0.7)}`,
    'Z',
  ].join(' ');
}

/** A line alongside the middle line of the tube, `offset` mm to its inner side. */
function alongTube(g: PositionGeometry, offset: number, scale: number, place: (point: XY) => XY): string {
  const tube = tubeOf(g);
  const angle = (g.bendDeg * Math.PI) / 180;
  const normal = { x: -Math.sin(angle), y: Math.cos(angle) };
  const radius = (USUAL.bend - offset) * scale;
  const start = place({ x: tube.start.x, y: offset });
  const bendStart = place({ x: tube.bendStart.x, y: offset });
  const bendEnd = place({ x: tube.bendEnd.x + normal.x * offset, y: tube.bendEnd.y + normal.y * offset });
  const end = place({ x: tube.end.x + normal.x * offset, y: tube.end.y + normal.y * offset });
  return `M${at(start)} L${at(bendStart)} A${round90(radius)} ${round90(radius)} 0 0 0 ${at(bendEnd)} L${at(end)}`;
}

function tubeWalls(g: PositionGeometry, scale: number, place: (point: XY) => XY): Picture[] {
  const inside = USUAL.tubeBore;
  const outside = USUAL.tubeBore + USUAL.tubeWall;
  return [outside, inside, -inside, -outside].map((offset) =>
    element('path', { class: 'dw-tube', d: alongTube(g, offset, scale, place) }),
  );
}

/** The insert lies on the inner side of the bend; its grooves are nicks across the yarn's way. */
function insertIn(drawn: Drawn, scale: number, place: (point: XY) => XY): Picture[] {
  const { geometry: g, setup } = drawn;
  if (setup.insert === 'none') return [];
  const tube = tubeOf(g);
  const bend = Math.max(g.bendDeg, 8);
  const outer = (USUAL.bend - USUAL.tubeBore) * scale;
  const inner = (USUAL.bend - USUAL.tubeBore + 1) * scale;
  const centre = place(tube.bendCentre);
  // Straight down on the sheet is 270°.
  const body = element('path', {
    class: 'dw-insert',
    d: `${arcPath(centre, outer, 270, 270 + bend)} L${at(polar(centre, inner, 270 + bend))} ${arcPath(centre, inner, 270 + bend, 270).replace(/^M[^A]+/, '')} Z`,
    'data-part': 'insert',
  });
  const grooves = Number(/^\d/.exec(setup.insert)?.[0] ?? 0);
  const nicks = Array.from({ length: grooves }, (_unused, i) => {
    const direction = 270 + (bend * (i + 1)) / (grooves + 1);
    return stroke(
      polar(centre, outer - 1.5, direction),
      polar(centre, inner + 1, direction),
      'dw-nick',
      'insert-groove',
    );
  });
  return [body, ...nicks];
}

/** The yarn: groove, arm, round the entry, along the bore, over the inner side of the bend, out. */
function yarnPath(g: PositionGeometry, scale: number, place: (point: XY) => XY, name: string): Picture[] {
  const r = round90(g.lipRadius * scale);
  const large = g.wrapDeg > 180 ? 1 : 0;
  const tubeStart = { x: tubeOf(g).start.x, y: g.boreRadius };
  const bore = Math.min(g.boreRadius, USUAL.tubeBore - 0.3);
  return [
    element('path', {
      class: name,
      d: `M${at(place(g.peelPoint))} L${at(place(g.wrapStart))}`,
      'data-part': 'section-arm',
    }),
    element('path', {
      class: `${name} dw-wrap`,
      d: `M${at(place(g.wrapStart))} A${r} ${r} 0 ${large} 0 ${at(place(g.wrapEnd))}`,
      'data-part': 'section-wrap',
    }),
    element('path', {
      class: name,
      d: `M${at(place(g.wrapEnd))} L${at(place(tubeStart))} ${alongTube(g, bore, scale, place).replace('M', 'L')}`,
      'data-part': 'section-tube',
    }),
  ];
}

function takeOff(g: PositionGeometry, end: XY): Picture {
  const angle = (g.bendDeg * Math.PI) / 180;
  const direction = { x: Math.cos(angle), y: -Math.sin(angle) };
  const tip = { x: end.x + direction.x * 14, y: end.y + direction.y * 14 };
  return element('g', {}, stroke(end, tip, 'dw-yarn'), head(tip, direction));
}

/** What was before: entry, face, yarn and tube as dashed lines. */
function ghost(was: Drawn, scale: number, place: (point: XY) => XY): Picture {
  const g = was.geometry;
  return element(
    'g',
    { class: 'dw-was' },
    ...[1, -1].map((side) => element('path', { class: 'dw-ghost', d: nozzleProfile(g, side, scale, place) })),
    ...[USUAL.tubeBore, -USUAL.tubeBore].map((offset) =>
      element('path', { class: 'dw-ghost', d: alongTube(g, offset, scale, place) }),
    ),
    stroke(place(g.peelPoint), place(g.wrapStart), 'dw-ghost dw-ghost-heavy', 'section-arm-before'),
  );
}
