import { say } from '../../../language/say.js';
import { type DrawnLink, drawLinks } from '../../pictures/link-graph.js';
import type { Picture } from '../../pictures/svg.js';
import { sayPercent } from '../../words.js';
import type { LinkMap, MappedLink, NodeName } from './link-map.js';

/** Nodes drawn on either side of the one in the middle; with more, the picture says that it shows the strongest. */
const MOST_NODES = 12;
/** Links drawn of those that are given. */
const MOST_LINKS = 24;
/** Paths whose strengths multiply to less than this are not followed further. */
const LEAST_PATH = 0.12;

export interface LinkPicture {
  readonly picture: Picture;
  readonly caption: string;
}

/** How far a picture goes to either side. */
export interface Reach {
  readonly up: number;
  readonly down: number;
}

/**
 * Draws what leads to a node and what it leads to, the strongest paths first.
 * @returns undefined for a node without links
 */
export function pictureLinks(
  title: string,
  node: string,
  map: LinkMap,
  reach: Reach,
): LinkPicture | undefined {
  const up = follow(node, reach.up, (at) => map.to(at).map((link) => [link.from, link]));
  const down = follow(node, reach.down, (at) => map.from(at).map((link) => [link.to, link]));
  const links = [...new Set([...up.links, ...down.links])];
  const far = reach.up > 1 || reach.down > 1;
  return draw(title, node, links, map.name, up.clipped || down.clipped, far);
}

/**
 * Draws links as they are given, the strongest if there are many.
 * @param focus id of the entry the page is about
 */
export function pictureGiven(
  title: string,
  focus: string,
  links: readonly MappedLink[],
  name: (node: string) => NodeName,
): LinkPicture | undefined {
  const strongest = [...links].sort((a, b) => b.value - a.value).slice(0, MOST_LINKS);
  return draw(title, focus, strongest, name, strongest.length < links.length);
}

function draw(
  title: string,
  focus: string,
  links: readonly MappedLink[],
  name: (node: string) => NodeName,
  clipped: boolean,
  far = false,
): LinkPicture | undefined {
  if (links.length === 0) return undefined;
  const nodes = new Set(links.flatMap((link) => [link.from, link.to]));
  const picture = drawLinks(title, focus, new Map([...nodes].map((id) => [id, name(id)])), links.map(drawn));
  return {
    picture,
    caption: [
      say('entry.picture-left'),
      clipped ? say('entry.picture-clipped') : '',
      far ? say('entry.picture-far') : '',
    ]
      .filter((sentence) => sentence !== '')
      .join(' '),
  };
}

/** "strong, 80 %": the name of a strength and the chance it stands for. */
export const sayStrength = ({ link, value }: MappedLink) =>
  say('entry.strength-of', { strength: say(`strength.${link.strength}`), percent: sayPercent(value) });

const drawn = (link: MappedLink): DrawnLink => ({
  from: link.from,
  to: link.to,
  value: link.value,
  label: sayStrength(link),
});

/** Best-first from a node: the strongest path first, until there are enough nodes. */
function follow(
  start: string,
  depth: number,
  next: (node: string) => (readonly [string, MappedLink])[],
): { readonly links: readonly MappedLink[]; readonly clipped: boolean } {
  const taken = new Set([start]);
  const links: MappedLink[] = [];
  let clipped = false;
  let front = next(start).map(([node, link]) => ({ node, link, path: link.value, steps: 1 }));
  if (depth === 0) return { links, clipped };
  while (front.length > 0) {
    front.sort((a, b) => a.steps - b.steps || b.path - a.path);
    const best = front.shift();
    if (best === undefined) break;
    const known = taken.has(best.node);
    if (!known && taken.size > MOST_NODES) {
      clipped = true;
      continue;
    }
    links.push(best.link);
    if (known) continue;
    taken.add(best.node);
    if (best.steps >= depth) continue;
    front = [
      ...front,
      ...next(best.node)
        .map(([node, link]) => ({ node, link, path: best.path * link.value, steps: best.steps + 1 }))
        .filter((one) => one.path >= LEAST_PATH || one.steps === 1),
    ];
  }
  return { links, clipped };
}
