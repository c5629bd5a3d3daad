import { sayFixed } from '../../../language/numbers.js';
import { say } from '../../../language/say.js';
import { element, type Picture } from '../svg.js';
import { f, label, scaleBar, stroke } from './strokes.js';
import { type Drawn, sized, type View } from './view.js';

/** Length of yarn that is shown of each stretch, mm. */
const SHOWN = 10;
const ROW = 56;

/**
 * The twist along the yarn's path: ten millimetres each of the arm, of the stretch between nozzle and bend, and behind
 * the bend, with a stroke for every turn at its true distance.
 */
export function twistView(drawn: Drawn, was: Drawn | undefined, width: number): View {
  const { geometry: g, state } = drawn;
  const scale = (width - 24) / SHOWN;
  const b = was?.geometry;
  const rows = [
    {
      id: 'arm',
      words: say('drawing-word.in-arm', { size: sized(g.twist.arm, b?.twist.arm, 't/m', 0) }),
      detail: say('drawing-word.false-twist', {
        all: state.falseTwistPct.toFixed(0),
        nozzle: state.falseTwistNozzlePct.toFixed(0),
        tube: state.falseTwistBendPct.toFixed(0),
      }),
      twist: g.twist.arm,
      was: b?.twist.arm,
    },
    {
      id: 'before-bend',
      words: say('drawing-word.to-bend', {
        size: sized(g.twist.beforeBend, b?.twist.beforeBend, 't/m', 0),
      }),
      detail: say('drawing-word.held-back'),
      twist: g.twist.beforeBend,
      was: b?.twist.beforeBend,
    },
    {
      id: 'set',
      words: say('drawing-word.after-bend', { size: sized(g.twist.set, b?.twist.set, 't/m', 0) }),
      detail: say('drawing-word.set-twist', { value: sayFixed(state.twistAlphaE, 2) }),
      twist: g.twist.set,
      was: b?.twist.set,
    },
  ];
  const thickness = Math.min(20, Math.max(9, g.yarnDiameter * scale));
  const pictures: Picture[] = rows.flatMap((row, i) => {
    const y = 36 + i * ROW;
    const middle = y + 27;
    return [
      label({ x: 8, y }, row.words, 'start', 'dw-label dw-strong'),
      label({ x: 8, y: y + 14 }, row.detail, 'start', 'dw-small'),
      ribbon(row.id, row.twist, scale, middle, thickness),
      ...(row.was === undefined || Math.abs(row.was - row.twist) < 0.5
        ? []
        : [ghostTurns(row.was, scale, middle + thickness / 2 + 4)]),
    ];
  });
  const bottom = 36 + rows.length * ROW;
  pictures.push(scaleBar({ x: 8, y: bottom + 4 }, scale, 2));
  pictures.push(label({ x: width - 4, y: bottom + 8 }, say('drawing-word.strokes'), 'end', 'dw-small'));
  return {
    title: say('drawing-word.twist'),
    width,
    height: bottom + 18,
    pictures,
    places: {},
  };
}

/** A stretch of yarn with its turns, drawn in the sense of Z twist. */
function ribbon(id: string, twistPerMetre: number, scale: number, y: number, thickness: number): Picture {
  const pitch = (1000 / twistPerMetre) * scale;
  const length = SHOWN * scale;
  const turns: Picture[] = [];
  for (let s = pitch / 2; s <= length + 1e-6; s += pitch) {
    const half = Math.min(pitch / 4, thickness);
    turns.push(
      stroke(
        { x: 8 + Math.max(0, s - half), y: y + thickness / 2 },
        { x: 8 + Math.min(length, s + half), y: y - thickness / 2 },
        'dw-stroke',
        `turn-${id}`,
      ),
    );
  }
  return element(
    'g',
    { 'data-part': `twist-${id}`, 'data-length': f(length) },
    element('rect', {
      class: 'dw-ribbon',
      x: 8,
      y: f(y - thickness / 2),
      width: f(length),
      height: f(thickness),
      rx: f(thickness / 2),
    }),
    ...turns,
  );
}

/** Ticks where the turns were before. */
function ghostTurns(twistPerMetre: number, scale: number, y: number): Picture {
  const pitch = (1000 / twistPerMetre) * scale;
  const ticks: Picture[] = [];
  for (let s = pitch / 2; s <= SHOWN * scale + 1e-6; s += pitch)
    ticks.push(stroke({ x: 8 + s, y }, { x: 8 + s, y: y + 5 }, 'dw-ghost'));
  return element('g', { class: 'dw-was' }, ...ticks);
}
