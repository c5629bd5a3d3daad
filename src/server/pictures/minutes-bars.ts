import { say } from '../../language/say.js';
import { element, type Picture } from './svg.js';

/** Minutes spent, in the parts of which they are made up. */
export interface MinutesRow {
  readonly label: string;
  readonly checks: number;
  readonly search: number;
}

const WIDTH = 340;
const ROW = 46;

/** Draws minutes of checks and of search one above the other for comparison; the text beside gives the figures. */
export function drawMinutes(rows: readonly MinutesRow[]): Picture {
  const most = Math.max(1, ...rows.map((row) => row.checks + row.search));
  const width = (minutes: number) => ((WIDTH - 20) * minutes) / most;
  return element(
    'svg',
    {
      class: 'picture minutes',
      viewBox: `0 0 ${WIDTH} ${rows.length * ROW + 6}`,
      role: 'img',
      'aria-label': rows.map((row) => say('marking.bar', figures(row))).join('; '),
    },
    ...rows.map((row, n) => {
      const y = n * ROW;
      const first = width(row.checks);
      return element(
        'g',
        {},
        element('text', { x: 4, y: y + 15 }, say('marking.bar-label', figures(row))),
        element('rect', { class: 'minutes-checks', x: 4, y: y + 22, width: first, height: 14 }),
        element('rect', {
          class: 'minutes-search',
          x: 4 + first,
          y: y + 22,
          width: Math.max(1, width(row.search)),
          height: 14,
        }),
      );
    }),
  );
}

const figures = (row: MinutesRow) => ({
  name: row.label,
  checks: Math.round(row.checks),
  search: Math.round(row.search),
});
