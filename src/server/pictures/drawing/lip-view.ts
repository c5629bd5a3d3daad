import { say } from '../../../language/say.js';
import { optionWord } from '../../../rules/case/option-words.js';
import { element, type Picture } from '../svg.js';
import { outerRadius } from './front-view.js';
import { polar, type XY } from './geometry.js';
import { arc, at, dimension, f, head, LETTER, label, leader, scaleBar, stroke } from './strokes.js';
import { type Drawn, sized, type View } from './view.js';

/**
 * The nozzle's entry enlarged: radius, protrusion beyond the groove plane, and the angle over which the yarn lies on
 * it. All to scale, the yarn's thickness too.
 */
export function lipView(drawn: Drawn, was: Drawn | undefined, width: number): View {
  const { geometry: g, setup } = drawn;
  const largest = Math.max(g.lipRadius, was?.geometry.lipRadius ?? 0);
  const scale = Math.min(24, 150 / (largest + 1.4));
  const front = Math.max(g.protrusion, was?.geometry.protrusion ?? 0, 0);
  const top = 40;
  // Height above the axis that is shown: the entry, its edge and a little of the arm.
  const high = Math.max(g.contactRadius, was?.geometry.contactRadius ?? 0) + 2.6;
  // The words stand to the left; a change needs more room for them.
  const origin = { x: (was === undefined ? 116 : 142) + front * scale, y: top + high * scale };
  const place = (point: XY): XY => ({ x: origin.x + point.x * scale, y: origin.y - point.y * scale });
  const outer = outerRadius(g.contactRadius, g.lipRadius);
  const edge = outer - g.contactRadius;
  const back = (width - 8 - origin.x) / scale;
  const point = (x: number, y: number) => at(place({ x, y }));
  const r = g.lipRadius * scale;
  const pictures: Picture[] = [
    element('path', {
      class: `dw-nozzle dw-${setup.nozzleMaterial} dw-cut`,
      d: `M${point(back, g.boreRadius)} L${point(g.lipCentre.x, g.boreRadius)} A${f(r)} ${f(r)} 0 0 1 ${point(-g.protrusion, g.contactRadius)} A${f(edge * scale)} ${f(edge * scale)} 0 0 1 ${point(edge - g.protrusion, outer)} L${point(back, outer)} Z`,
      'data-part': 'lip',
    }),
  ];
  if (was !== undefined) {
    const b = was.geometry;
    const e = outerRadius(b.contactRadius, b.lipRadius) - b.contactRadius;
    pictures.push(
      element('path', {
        class: 'dw-ghost',
        d: `M${point(back, b.boreRadius)} L${point(b.lipCentre.x, b.boreRadius)} A${f(b.lipRadius * scale)} ${f(b.lipRadius * scale)} 0 0 1 ${point(-b.protrusion, b.contactRadius)} A${f(e * scale)} ${f(e * scale)} 0 0 1 ${point(e - b.protrusion, b.contactRadius + e)}`,
        'data-part': 'lip-before',
      }),
    );
  }
  const planeTop = place({ x: 0, y: high + 0.6 });
  pictures.push(
    stroke(planeTop, place({ x: 0, y: -0.6 }), 'dw-axis', 'lip-groove-plane'),
    stroke(place({ x: -front - 1.5, y: 0 }), place({ x: back, y: 0 }), 'dw-axis'),
    label(
      { x: place({ x: 0, y: 0 }).x + 4, y: origin.y + 16 },
      say('drawing-word.axis'),
      'start',
      'dw-small',
    ),
  );

  // The yarn at its true thickness: in from the groove, round the entry, along the bore.
  const thick = g.yarnDiameter * scale;
  const half = g.yarnDiameter / 2;
  const centre = place(g.lipCentre);
  const path = r + half * scale;
  const startDeg = 270 - g.wrapDeg;
  const from = polar(centre, path, startDeg);
  const to = polar(centre, path, 270);
  // Towards the groove the yarn runs straight on, square to the radius at which it left the entry.
  const away = (startDeg * Math.PI) / 180;
  const direction = { x: Math.sin(away), y: Math.cos(away) };
  const reach = from.y - (top - 8);
  const armTop = { x: from.x - (direction.x / direction.y) * reach, y: top - 8 };
  pictures.push(
    element('path', {
      class: 'dw-thick-yarn',
      d: `M${f(armTop.x)} ${f(armTop.y)} L${at(from)} A${f(path)} ${f(path)} 0 ${g.wrapDeg > 180 ? 1 : 0} 0 ${at(to)} L${f(place({ x: back, y: 0 }).x)} ${f(to.y)}`,
      'stroke-width': f(Math.max(2, thick)),
      'data-part': 'lip-yarn',
    }),
    arc(centre, r * 0.62, startDeg, 270, 'dw-dim', 'wrap-angle'),
    stroke(centre, polar(centre, r, startDeg), 'dw-extension'),
    stroke(centre, polar(centre, r, 270), 'dw-extension'),
    element('circle', { class: 'dw-dot', cx: f(centre.x), cy: f(centre.y), r: 2 }),
  );
  // Radius, with its arrow on the entry.
  const rim = polar(centre, r, 225);
  const inwards = { x: (rim.x - centre.x) / r, y: (rim.y - centre.y) / r };
  pictures.push(stroke(centre, rim, 'dw-dim', 'lip-radius'), head(rim, inwards));

  // Protrusion, between the groove plane and the face.
  const level = top + 6;
  const faceX = place({ x: -g.protrusion, y: 0 }).x;
  const planeX = place({ x: 0, y: 0 }).x;
  if (Math.abs(g.protrusion) >= 0.05)
    pictures.push(
      stroke(
        { x: faceX, y: level - 6 },
        { x: faceX, y: place({ x: 0, y: g.contactRadius }).y },
        'dw-extension',
      ),
      dimension(
        { x: Math.min(faceX, planeX), y: level },
        { x: Math.max(faceX, planeX), y: level },
        'protrusion',
      ),
    );

  const textX = 4;
  const wrapWords = sized(g.wrapDeg, was?.geometry.wrapDeg, '°', 1);
  pictures.push(
    label({ x: textX, y: top - 6 }, say('drawing-word.protrusion'), 'start'),
    label(
      { x: textX, y: top + 9 },
      sized(g.protrusion, was?.geometry.protrusion, 'mm', 2),
      'start',
      'dw-label dw-strong',
    ),
    label({ x: textX, y: centre.y - 24 }, say('drawing-word.wrap'), 'start'),
    label({ x: textX, y: centre.y - 9 }, wrapWords, 'start', 'dw-label dw-strong'),
    leader(
      { x: textX + 6 + wrapWords.length * LETTER, y: centre.y - 13 },
      polar(centre, r * 0.62, startDeg + g.wrapDeg * 0.2),
    ),
    label({ x: textX, y: origin.y - 20 }, say('drawing-word.entry'), 'start'),
    label(
      { x: textX, y: origin.y - 5 },
      sized(g.lipRadius, was?.geometry.lipRadius, 'mm', 2),
      'start',
      'dw-label dw-strong',
    ),
    leader(
      { x: textX + 78, y: origin.y - 24 },
      { x: centre.x + inwards.x * r * 0.72, y: centre.y + inwards.y * r * 0.72 },
    ),
    label(
      { x: place({ x: back, y: 0 }).x - 6, y: place({ x: 0, y: outer }).y + 18 },
      textureWords(drawn).split(', '),
      'end',
      'dw-label',
    ),
    scaleBar({ x: 8, y: origin.y + 34 }, scale, 2),
    label(
      { x: width - 4, y: origin.y + 38 },
      say('drawing-word.yarn', {
        size: sized(g.yarnDiameter, was?.geometry.yarnDiameter, 'mm', 2),
      }),
      'end',
      'dw-small',
    ),
  );
  return {
    title: say('drawing-word.lip'),
    width,
    height: origin.y + 48,
    pictures,
    places: {
      'nozzle-lip': polar(centre, r + 12, startDeg + g.wrapDeg * 0.45),
    },
  };
}

/** `4 notches, ceramic`. */
export function textureWords({ setup }: Drawn): string {
  const texture =
    setup.nozzleSurface === 'notched'
      ? say('drawing-word.notches', { n: setup.notches })
      : optionWord(setup.nozzleSurface);
  const material =
    setup.nozzleMaterial === 'ceramic-head'
      ? say('drawing-word.ceramic-in-metal')
      : optionWord(setup.nozzleMaterial);
  return `${texture}, ${material}`;
}
