import { say } from '../../../language/say.js';
import { element, type Picture } from '../svg.js';
import { polar, type XY } from './geometry.js';
import {
  arc,
  arcPath,
  circle,
  dimension,
  f,
  head,
  LETTER,
  label,
  leader,
  scaleBar,
  shape,
  stroke,
} from './strokes.js';
import { type Drawn, grouped, sized, type View } from './view.js';

/** Direction in which the arm stands, degrees; up and to the right. */
const ARM = 62;
/** Thickness of the fibre ring at the peel point, mm; drawn larger than life to be seen. */
const RING = 0.9;

/**
 * The position seen from inside the rotor along the axis: groove, fibre ring with the binding-in length on it, yarn
 * arm with its turns, nozzle face with its notches. Lengths along groove and arm are to scale; the thickness of the
 * ring is not.
 *
 * @param scale units of the sheet in a millimetre
 * @param width of the view; the rotor stands in its middle
 */
export function frontView(drawn: Drawn, was: Drawn | undefined, scale: number, width: number): View {
  const { geometry: g, setup } = drawn;
  const radius = g.rotorRadius * scale;
  const wasRadius = (was?.geometry.rotorRadius ?? 0) * scale;
  const top = 64;
  const outer = Math.max(radius, wasRadius) + 1.6 * scale;
  const centre = { x: width / 2, y: top + outer };
  const pictures: Picture[] = [
    circle(centre, radius + 1.6 * scale, 'dw-steel'),
    circle(centre, radius, 'dw-groove', 'groove'),
    fibreRing(centre, radius, RING * scale),
  ];
  if (was !== undefined) pictures.push(ghost(was, centre, scale));
  pictures.push(...nozzleFace(drawn, centre, scale));

  // The stretch of groove into which the twist runs lies ahead of the peel point, where the ring is thickest.
  const degrees = (length: number) => (length / g.rotorRadius) * (180 / Math.PI);
  const bound = degrees(g.bindingLength);
  const needed = degrees(g.requiredLength);
  pictures.push(
    arc(centre, radius, ARM, ARM + bound, 'dw-binding', 'binding-in'),
    stroke(
      polar(centre, radius - 1.1 * scale, ARM + needed),
      polar(centre, radius + 1.1 * scale, ARM + needed),
      'dw-needed',
      'required-binding-in',
    ),
  );

  const peel = polar(centre, radius, ARM);
  const touch = polar(centre, g.contactRadius * scale, ARM);
  pictures.push(stroke(peel, touch, 'dw-yarn', 'arm'), ...turnsAlong(peel, touch, scale, g.twist.arm));
  pictures.push(circle(peel, 3.2, 'dw-peel', 'peel-point'));

  // Sense of rotation, below the nozzle.
  const turnRadius = radius * 0.72;
  const turnTip = polar(centre, turnRadius, 292);
  const heading = (292 * Math.PI) / 180;
  pictures.push(
    arc(centre, turnRadius, 248, 292, 'dw-turn'),
    head(turnTip, { x: -Math.sin(heading), y: -Math.cos(heading) }),
    label(
      { x: centre.x, y: centre.y + turnRadius - 9 },
      `${grouped(setup.rotorSpeedRpm)} rpm`,
      'middle',
      'dw-small',
    ),
  );

  const below = centre.y + outer + 18;
  pictures.push(
    extension({ x: centre.x - radius, y: centre.y }, below + 5),
    extension({ x: centre.x + radius, y: centre.y }, below + 5),
    dimension({ x: centre.x - radius, y: below }, { x: centre.x + radius, y: below }, 'rotor-diameter'),
    label(
      { x: centre.x, y: below - 6 },
      say('drawing-word.rotor', {
        size: sized(2 * g.rotorRadius, twice(was?.geometry.rotorRadius), 'mm', 1),
      }),
      'middle',
      'dw-label dw-on-line',
    ),
  );

  const arm = polar(centre, (g.rotorRadius * 0.6 + g.contactRadius * 0.4) * scale, ARM);
  const tick = say('drawing-word.tick', {
    size: sized(g.requiredLength, was?.geometry.requiredLength, 'mm', 1),
  });
  pictures.push(
    label({ x: 6, y: 32 }, [
      say('drawing-word.binding-in'),
      sized(g.bindingLength, was?.geometry.bindingLength, 'mm', 1),
      tick,
    ]),
    leader({ x: 12 + tick.length * LETTER, y: 58 }, polar(centre, radius, ARM + bound * 0.4)),
    label(
      { x: width - 6, y: 32 },
      [
        say('drawing-word.arm'),
        sized(g.armLength, was?.geometry.armLength, 'mm', 1),
        say('drawing-word.stroke'),
      ],
      'end',
    ),
    leader({ x: width - 50, y: 67 }, arm),
  );
  const contact = polar(centre, g.contactRadius * scale, 300);
  pictures.push(
    label(
      { x: width - 6, y: below + 24 },
      say('drawing-word.contact', {
        size: sized(2 * g.contactRadius, twice(was?.geometry.contactRadius), 'mm', 1),
      }),
      'end',
    ),
    leader({ x: width - 60, y: below + 12 }, contact),
    scaleBar({ x: 8, y: below + 18 }, scale, 10),
  );
  return {
    title: say('drawing-word.front'),
    width,
    height: below + 34,
    axis: centre.y,
    pictures,
    places: {
      groove: polar(centre, radius, 262),
      'fibre-ring': polar(centre, radius, 142),
      'peel-point': polar(peel, 14, ARM - 60),
      'yarn-arm': polar(arm, 15, ARM - 90),
      'nozzle-face': polar(centre, g.contactRadius * scale, 210),
      'rotor-wall': polar(centre, radius + 0.8 * scale, 330),
    },
  };
}

const twice = (value: number | undefined) => (value === undefined ? undefined : 2 * value);

function extension(from: XY, y: number): Picture {
  return stroke({ x: from.x, y: from.y }, { x: from.x, y }, 'dw-extension');
}

/** The ring of fibres: next to nothing behind the peel point, thickest just ahead of it. */
function fibreRing(centre: XY, radius: number, thickness: number): Picture {
  const inner: XY[] = [];
  for (let i = 0; i <= 72; i++) inner.push(polar(centre, radius - thickness * (1 - i / 72), ARM + i * 5));
  const d = `${arcPath(centre, radius, ARM, ARM + 180)} ${arcPath(centre, radius, ARM + 180, ARM + 360).replace('M', 'L')} ${[
    ...inner,
  ]
    .reverse()
    .map((point) => `L${f(point.x)} ${f(point.y)}`)
    .join(' ')} Z`;
  return element('path', { class: 'dw-fibre', d, 'data-part': 'fibre-ring' });
}

/** One slanting stroke for every turn, at its true distance. */
function turnsAlong(from: XY, to: XY, scale: number, twistPerMetre: number): Picture[] {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const pitch = (1000 / twistPerMetre) * scale;
  const along = { x: (to.x - from.x) / length, y: (to.y - from.y) / length };
  const across = { x: -along.y, y: along.x };
  const strokes: Picture[] = [];
  for (let s = pitch / 2; s < length; s += pitch) {
    const middle = { x: from.x + along.x * s, y: from.y + along.y * s };
    const half = Math.min(pitch / 3, 3);
    strokes.push(
      stroke(
        { x: middle.x - across.x * 3.2 - along.x * half, y: middle.y - across.y * 3.2 - along.y * half },
        { x: middle.x + across.x * 3.2 + along.x * half, y: middle.y + across.y * 3.2 + along.y * half },
        'dw-stroke',
        'arm-turn',
      ),
    );
  }
  return strokes;
}

/** The nozzle from the front: bore, circle of contact and the texture of its face. */
function nozzleFace(drawn: Drawn, centre: XY, scale: number): Picture[] {
  const { geometry: g, setup } = drawn;
  const outer = outerRadius(g.contactRadius, g.lipRadius) * scale;
  const from = (g.boreRadius + g.lipRadius * 0.12) * scale;
  const to = (g.contactRadius + Math.min(g.lipRadius, 1.5) * 0.5) * scale;
  const pictures = [circle(centre, outer, `dw-nozzle dw-${setup.nozzleMaterial}`)];
  const radial = (count: number, name: string, part: string, twist = 0) => {
    for (let i = 0; i < count; i++) {
      const direction = 90 + (360 * i) / count;
      pictures.push(stroke(polar(centre, from, direction), polar(centre, to, direction + twist), name, part));
    }
  };
  if (setup.nozzleSurface === 'notched') radial(setup.notches, 'dw-notch', 'notch');
  if (setup.nozzleSurface === 'knurled') radial(28, 'dw-knurl', 'knurl');
  if (setup.nozzleSurface === 'spiral') {
    for (let i = 0; i < 4; i++) {
      const points: XY[] = [];
      for (let step = 0; step <= 12; step++)
        points.push(polar(centre, from + ((to - from) * step) / 12, 90 * i + 80 * (step / 12)));
      pictures.push(shape(points, 'dw-spiral', false, 'spiral'));
    }
  }
  pictures.push(
    circle(centre, g.contactRadius * scale, 'dw-contact', 'contact-circle'),
    circle(centre, g.boreRadius * scale, 'dw-bore', 'bore'),
  );
  return pictures;
}

/** Radius of the nozzle's head; its outer edge is not part of a setup and drawn as is usual. */
export function outerRadius(contactRadius: number, lipRadius: number): number {
  return contactRadius + Math.min(lipRadius, 1.8);
}

/** What was before: outlines only. */
function ghost(was: Drawn, centre: XY, scale: number): Picture {
  const g = was.geometry;
  const radius = g.rotorRadius * scale;
  const bound = (g.bindingLength / g.rotorRadius) * (180 / Math.PI);
  return element(
    'g',
    { class: 'dw-was', 'data-part': 'before' },
    circle(centre, radius, 'dw-ghost'),
    circle(centre, g.contactRadius * scale, 'dw-ghost'),
    arc(centre, radius + 1.1 * scale, ARM, ARM + bound, 'dw-ghost dw-ghost-heavy', 'binding-in-before'),
  );
}
