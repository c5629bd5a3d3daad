import { say } from '../../../language/say.js';
import type { SpinningSetup } from '../../../spinning/setup.js';
import type { ComputedState } from '../../../spinning/state.js';
import { element, markupOf, type Picture, wrapText } from '../svg.js';
import { describeDrawing } from './description.js';
import { frontView } from './front-view.js';
import { positionGeometry, type XY } from './geometry.js';
import { lipView } from './lip-view.js';
import { type Measure, measuresOf } from './measures.js';
import { pathView } from './path-view.js';
import { sectionExtent, sectionView } from './section-view.js';
import { f, label } from './strokes.js';
import { twistView } from './twist-view.js';
import type { Drawn, View } from './view.js';

/** A numbered mark at a place of the drawing. */
export interface DrawnMark {
  /** Id of a place, see `knowledge-base/places.yaml`. */
  readonly place: string;
  readonly placeLabel: string;
  /** What acts there. */
  readonly label: string;
}

export interface DrawOptions {
  readonly title?: string;
  /** `wide`: views side by side, for desk, print and projector; `tall`: one below the other, for a phone. */
  readonly layout?: 'wide' | 'tall';
  /** The position before a change, drawn dashed beneath. */
  readonly before?: { readonly setup: SpinningSetup; readonly state: ComputedState };
  readonly marks?: readonly DrawnMark[];
}

/** A drawing with its text and its measures. */
export interface PositionDrawing {
  readonly picture: Picture;
  readonly svg: string;
  readonly width: number;
  readonly height: number;
  /** Units of the sheet in a millimetre, for the views into the rotor and along the axis. */
  readonly scale: number;
  readonly description: string;
  readonly measures: readonly Measure[];
}

const SIZES = {
  wide: { width: 1120, front: 340, section: 450, lip: 310, gap: 10 },
  tall: { width: 360, front: 360, section: 360, lip: 360, gap: 0 },
} as const;

/**
 * Draws a spinning position to scale from its setup and computed state: into the rotor, cut along the axis, the
 * nozzle's entry enlarged, and the twist along the yarn's path. A pure function; looks come from the style sheet.
 *
 * @throws RangeError for a mark at an unknown place
 */
export function drawPosition(
  setup: SpinningSetup,
  state: ComputedState,
  options: DrawOptions = {},
): PositionDrawing {
  const layout = options.layout ?? 'wide';
  const size = SIZES[layout];
  const drawn = drawnOf(setup, state);
  const was = options.before === undefined ? undefined : drawnOf(options.before.setup, options.before.state);
  const marks = options.marks ?? [];
  const both = was === undefined ? [drawn] : [drawn, was];
  const scale = Math.min(
    ...both.flatMap(({ geometry: g }) => [
      (size.front - 12) / (2 * (g.rotorRadius + 1.6)),
      (size.section - 10) / sectionExtent(g).width,
    ]),
    11,
  );
  const front = frontView(drawn, was, scale, size.front);
  const section = sectionView(drawn, was, scale, size.section);
  const lip = lipView(drawn, was, size.lip);
  const twist = twistView(drawn, was, size.lip);
  const path = marks.some((mark) => ![front, section, lip, twist].some((view) => mark.place in view.places))
    ? pathView(size.width)
    : undefined;
  const placed =
    layout === 'wide'
      ? besideEachOther({ front, section, lip, twist, path }, size)
      : belowEachOther([front, section, lip, twist, path]);
  const legendTop = Math.max(...placed.map(({ view, at }) => at.y + view.height));
  const legend = legendOf(marks, size.width, legendTop);
  const height = Math.ceil(legendTop + legend.height);

  const measures = measuresOf(drawn, was);
  const description = describeDrawing(drawn, measures, marks);
  const title = options.title ?? say('drawing.title');
  const id = `drawing-${layout}`;
  const picture = element(
    'svg',
    {
      class: `drawing drawing-${layout}`,
      viewBox: `0 0 ${size.width} ${height}`,
      width: size.width,
      height,
      role: 'img',
      'aria-labelledby': `${id}-title ${id}-text`,
      'data-scale': f(scale),
      xmlns: 'http://www.w3.org/2000/svg',
    },
    element('title', { id: `${id}-title` }, title),
    element('desc', { id: `${id}-text` }, description),
    ...placed.map(({ view, at }) =>
      element(
        'g',
        { class: 'dw-view', transform: `translate(${f(at.x)} ${f(at.y)})` },
        // Titles stand at the top even where a view was lowered to the common axis.
        label(
          { x: 8, y: layout === 'wide' && view.axis !== undefined ? 18 - at.y : 14 },
          view.title,
          'start',
          'dw-title',
        ),
        ...view.pictures,
        ...marksIn(view, marks),
      ),
    ),
    ...legend.pictures,
  );
  for (const mark of marks)
    if (!placed.some(({ view }) => mark.place in view.places))
      throw new RangeError(`place: "${mark.place}" is not on the drawing`);
  return { picture, svg: markupOf(picture), width: size.width, height, scale, description, measures };
}

/** A position with its geometry. */
export function drawnOf(setup: SpinningSetup, state: ComputedState): Drawn {
  return { setup, state, geometry: positionGeometry(setup, state) };
}

interface Placed {
  readonly view: View;
  readonly at: XY;
}

/** Front view and cut stand level on one axis, as on any drawing of a turned part; the other views to their right. */
function besideEachOther(
  views: { front: View; section: View; lip: View; twist: View; path: View | undefined },
  size: { readonly front: number; readonly section: number; readonly gap: number },
): Placed[] {
  const { front, section, lip, twist, path } = views;
  const axis = Math.max(front.axis ?? 0, section.axis ?? 0);
  const right = size.front + size.section + 2 * size.gap;
  const level = (view: View) => 4 + axis - (view.axis ?? axis);
  const below =
    Math.max(level(front) + front.height, level(section) + section.height, lip.height + 18 + twist.height) +
    8;
  return [
    { view: front, at: { x: 0, y: level(front) } },
    { view: section, at: { x: size.front + size.gap, y: level(section) } },
    { view: lip, at: { x: right, y: 4 } },
    { view: twist, at: { x: right, y: lip.height + 18 } },
    ...(path === undefined ? [] : [{ view: path, at: { x: 0, y: below } }]),
  ];
}

function belowEachOther(views: readonly (View | undefined)[]): Placed[] {
  let y = 4;
  return views.flatMap((view) => {
    if (view === undefined) return [];
    const placed = { view, at: { x: 0, y } };
    y += view.height + 20;
    return [placed];
  });
}

/** Numbered marks at the places of a view; several at one place stand side by side. */
function marksIn(view: View, marks: readonly DrawnMark[]): Picture[] {
  const taken = new Map<string, number>();
  return marks.flatMap((mark, i) => {
    const spot = Object.hasOwn(view.places, mark.place) ? view.places[mark.place] : undefined;
    if (spot === undefined) return [];
    const before = taken.get(mark.place) ?? 0;
    taken.set(mark.place, before + 1);
    const x = spot.x + before * 22;
    return [
      element(
        'g',
        { class: 'dw-mark', 'data-part': `mark-${mark.place}` },
        element('circle', { cx: f(x), cy: f(spot.y), r: 10 }),
        label({ x, y: spot.y + 4.5 }, String(i + 1), 'middle', 'dw-mark-number'),
      ),
    ];
  });
}

function legendOf(
  marks: readonly DrawnMark[],
  width: number,
  top: number,
): { pictures: Picture[]; height: number } {
  if (marks.length === 0) return { pictures: [], height: 6 };
  let y = top + 22;
  const pictures = marks.flatMap((mark, i) => {
    const lines = wrapText(`${mark.label} – ${mark.placeLabel}`, Math.floor((width - 44) / 7), 3);
    const group = element(
      'g',
      { class: 'dw-mark' },
      element('circle', { cx: 18, cy: y - 4, r: 10 }),
      label({ x: 18, y: y + 0.5 }, String(i + 1), 'middle', 'dw-mark-number'),
      label({ x: 36, y }, lines),
    );
    y += lines.length * 15 + 10;
    return [group];
  });
  return { pictures, height: y - top };
}
