import { say } from '../../language/say.js';
import { element, type Picture, textLines, wrapText } from './svg.js';

/** How often one cause was put first while another one, or the same, was at work. */
export interface MixUp {
  readonly truth: string;
  readonly taken: string;
  readonly count: number;
  readonly right: boolean;
}

const WIDTH = 340;
const SIDE = 122;
const LINE = 13;
const GAP = 10;
const MOST_THICK = 12;
/** Counts below this are not drawn as if they were many. */
const USUAL = 4;

/** Draws causes at work on the left, causes put first on the right, and a line between them, thick where it happened often. */
export function drawMixUps(title: string, pairs: readonly MixUp[]): Picture {
  const left = place([...new Set(pairs.map((pair) => pair.truth))]);
  const right = place([...new Set(pairs.map((pair) => pair.taken))]);
  const height = Math.max(left.height, right.height);
  const most = Math.max(USUAL, ...pairs.map((pair) => pair.count));
  const lines = [...pairs]
    .sort((a, b) => Number(b.right) - Number(a.right))
    .map((pair) => {
      const y1 = left.middle.get(pair.truth) ?? 0;
      const y2 = right.middle.get(pair.taken) ?? 0;
      return element(
        'g',
        {},
        element('line', {
          class: pair.right ? 'mix-right' : 'mix-wrong',
          x1: SIDE + 6,
          x2: WIDTH - SIDE - 6,
          y1,
          y2,
          'stroke-width': Math.max(2, (MOST_THICK * pair.count) / most),
        }),
        element(
          'text',
          {
            x: SIDE + 6 + 22,
            y: y1 + (22 / (WIDTH - 2 * SIDE - 12)) * (y2 - y1) + 4,
            'text-anchor': 'middle',
          },
          String(pair.count),
        ),
      );
    });
  return element(
    'svg',
    { class: 'picture mix-ups', viewBox: `0 0 ${WIDTH} ${height}`, role: 'img', 'aria-label': title },
    element('title', {}, title),
    element(
      'desc',
      {},
      pairs
        .map((pair) =>
          pair.right
            ? say('course.pair-found', { cause: pair.truth, n: pair.count })
            : say('course.pair-taken', { cause: pair.truth, taken: pair.taken, n: pair.count }),
        )
        .join('; '),
    ),
    ...lines,
    ...left.labels.map(({ lines: words, y }) => textLines(words, { x: 2, y, step: LINE })),
    ...right.labels.map(({ lines: words, y }) => textLines(words, { x: WIDTH - SIDE, y, step: LINE })),
  );
}

function place(names: readonly string[]) {
  let y = 4;
  const middle = new Map<string, number>();
  const labels = names.map((name) => {
    const lines = wrapText(name, 19, 4);
    const top = y;
    y += lines.length * LINE + GAP;
    middle.set(name, top + (lines.length * LINE) / 2 + 2);
    return { lines, y: top + LINE };
  });
  return { labels, middle, height: y };
}
