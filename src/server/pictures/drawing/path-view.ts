import { unmark } from '../../../language/foreign.js';
import { say, wordTable } from '../../../language/say.js';
import { element, type Picture } from '../svg.js';
import { label, stroke } from './strokes.js';
import type { View } from './view.js';

/** Stations of the fibre's way that lie outside the drawing, and the position between them. */
const STATIONS = wordTable('drawing-station', [
  'sliver',
  'feed',
  'opening-roller',
  'trash-slot',
  'fibre-channel',
  'position',
  'take-off-rollers',
  'winding',
  'fabric',
]);

/** The way of the fibre from sliver to fabric, as a row of names to put marks on. No sizes are meant. */
export function pathView(width: number): View {
  const gap = 10;
  const places: Record<string, { x: number; y: number }> = {};
  const pictures: Picture[] = [];
  let x = 8;
  let y = 30;
  for (const [id, text] of Object.entries(STATIONS)) {
    const words = unmark(text);
    const long = words.length * 7 + 16;
    if (x + long > width - 4) {
      x = 8;
      y += 44;
    }
    pictures.push(
      element('rect', {
        class: id === 'position' ? 'dw-station dw-here' : 'dw-station',
        x,
        y,
        width: long,
        height: 24,
        rx: 4,
      }),
      label({ x: x + long / 2, y: y + 16 }, words, 'middle', 'dw-small dw-on-station'),
    );
    if (x > 8) pictures.push(stroke({ x: x - gap, y: y + 12 }, { x, y: y + 12 }, 'dw-dim'));
    if (id !== 'position') places[id] = { x: x + long - 4, y };
    x += long + gap;
  }
  places.room = { x: width - 18, y: 10 };
  return { title: say('drawing-word.path'), width, height: y + 34, pictures, places };
}
