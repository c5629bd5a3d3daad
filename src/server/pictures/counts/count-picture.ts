import { localDecimal } from '../../../language/numbers.js';
import { say } from '../../../language/say.js';
import type { Picture } from '../svg.js';
import { element } from '../svg.js';

/** A picture of counts with the same numbers as rows of a table. */
export interface CountPicture {
  readonly picture: Picture;
  readonly table: PictureTable;
}

export interface PictureTable {
  readonly caption: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** Width of all pictures of counts: they fill a phone held upright and scale up from there. */
export const WIDTH = 340;

/** The frame of a picture: title, description and a view box that lets it scale. */
export function framePicture(
  kind: string,
  height: number,
  title: string,
  description: string,
  ...content: readonly (Picture | undefined)[]
): Picture {
  return element(
    'svg',
    {
      class: `picture counts ${kind}`,
      viewBox: `0 0 ${WIDTH} ${Math.ceil(height)}`,
      role: 'img',
      'aria-label': title,
    },
    element('title', {}, title),
    element('desc', {}, description),
    ...content,
  );
}

/** A number for a picture or its table: three digits, thousands parted, an open end in words. */
export function sayFigure(value: number): string {
  if (value === Number.POSITIVE_INFINITY) return say('count-picture.no-limit');
  if (!Number.isFinite(value)) return '–';
  if (value === 0) return '0';
  const digits = Math.max(0, Math.min(4, 2 - Math.floor(Math.log10(Math.abs(value)))));
  return localDecimal(
    value.toLocaleString('en-GB', { maximumFractionDigits: digits }).replace(/,/g, '\u202f'),
  );
}
