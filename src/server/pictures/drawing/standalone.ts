import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { unmark } from '../../../language/foreign.js';
import type { PositionDrawing } from './draw-position.js';

/** The drawing's own style sheet, the same from `src` and from `dist`. */
export const DRAWING_STYLE = fileURLToPath(
  new URL('../../../../src/templates/assets/drawing.css', import.meta.url),
);

/**
 * A drawing as a file of its own, with its style sheet inside and a size for paper: it fits a landscape A4 page.
 */
export function standaloneDrawing(drawing: PositionDrawing): string {
  const style = readFileSync(DRAWING_STYLE, 'utf8').replace(/\s+/g, ' ').trim();
  const millimetres = 270;
  const height = Math.round((millimetres * drawing.height) / drawing.width);
  // A file has no use for marks of texts of another language.
  const sized = unmark(drawing.svg).replace(
    ` width="${drawing.width}" height="${drawing.height}"`,
    ` width="${millimetres}mm" height="${height}mm"`,
  );
  // Both texts are made here; a style sheet holds no markup.
  return `<?xml version="1.0" encoding="UTF-8"?>\n${sized.replace(/^(<svg[^>]*>)/, `$1<style>${style}</style>`)}\n`;
}
