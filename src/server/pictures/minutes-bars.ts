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
      'aria-label': rows
        .map(
          (row) =>
            `${row.label}: ${Math.round(row.checks)} minutes of checks, ${Math.round(row.search)} of search`,
        )
        .join('; '),
    },
    ...rows.map((row, n) => {
      const y = n * ROW;
      const first = width(row.checks);
      return element(
        'g',
        {},
        element(
          'text',
          { x: 4, y: y + 15 },
          `${row.label}: ${Math.round(row.checks)} + ${Math.round(row.search)} min`,
        ),
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
