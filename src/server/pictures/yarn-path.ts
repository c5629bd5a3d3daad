import { say } from '../../language/say.js';
import { inSentence } from '../../language/words.js';
import type { Place } from '../../rules/training/index.js';
import { element, type Picture, textLines, wrapText } from './svg.js';

/** Stations of the way from the can to the next machine, in order. */
const STATIONS = [
  'sliver',
  'feed',
  'opening-roller',
  'channel',
  'rotor',
  'nozzle',
  'tube',
  'take-off',
  'winding',
  'downstream',
] as const satisfies readonly Place[];

const WIDTH = 340;
const ROW = 30;
const LEFT = 30;

/**
 * Draws the way of the fibre through a position as a line with its stations, one of them pointed out. Not to scale: it
 * says where, not how large.
 */
export function drawYarnPath(place: Place): Picture {
  const height = STATIONS.length * ROW + 14;
  const found = STATIONS.find((id) => id === place);
  const title =
    place === 'room'
      ? say('yarn-path.room')
      : found === undefined
        ? say('yarn-path.way')
        : say('yarn-path.where', { station: inSentence(say(`yarn-path.${found}`)) });
  return element(
    'svg',
    { class: 'picture yarn-path', viewBox: `0 0 ${WIDTH} ${height}`, role: 'img', 'aria-label': title },
    element('title', {}, title),
    place === 'room'
      ? element('rect', { class: 'station-room', x: 4, y: 3, width: WIDTH - 8, height: height - 6, rx: 8 })
      : undefined,
    element('line', { class: 'path-line', x1: LEFT, x2: LEFT, y1: 18, y2: height - 20 }),
    ...STATIONS.map((id, n) => {
      const y = 18 + n * ROW;
      const here = id === place;
      return element(
        'g',
        { class: here ? 'station here' : 'station' },
        element('circle', { class: 'station-dot', cx: LEFT, cy: y, r: here ? 9 : 6 }),
        textLines(
          wrapText(say(`yarn-path.${id}`), 30, 1),
          { x: LEFT + 20, y: y + 5, step: 14 },
          here ? { class: 'here-name' } : {},
        ),
      );
    }),
  );
}
