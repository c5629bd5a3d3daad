import { fileURLToPath } from 'node:url';
import { Eta } from 'eta';
import { foreignSpans } from '../language/foreign.js';
import { sayLoose } from '../language/say.js';
import type { PageModels, Shell } from '../templates/models.js';
import { mayOpen } from './access/requester.js';
import { drawBar } from './pictures/bar.js';
import { markupOf } from './pictures/svg.js';

/** Folder of the templates, the same from `src` and from `dist`. */
export const TEMPLATES = fileURLToPath(new URL('../../src/templates', import.meta.url));

/** What every template can call besides its model. */
const HELPERS = {
  /** The message of that key in the reader's language. */
  say: sayLoose,
  /** Own SVG, see `pictures/svg.ts`: refuses anything else. */
  svg: markupOf,
  /** A probability bar, to be printed with `svg`. */
  bar: drawBar,
  /** Whether the reader would be let through to an address, see `access/requester.ts`. */
  may: mayOpen,
  /** Those links that the reader would be let through to. */
  open: openLinks,
};

function openLinks<L extends { readonly href: string }>(links: readonly L[]): L[] {
  return links.filter((link) => mayOpen(link.href));
}

const eta = new Eta({
  views: TEMPLATES,
  cache: true,
  autoEscape: true,
  autoFilter: true,
  autoTrim: ['nl', false],
  // A missing value must not reach a page as the word "undefined".
  filterFunction: (value: unknown) => {
    if (typeof value === 'string') return value;
    if (typeof value === 'number') return String(value);
    throw new TypeError(`a template printed ${value === null ? 'null' : typeof value}`);
  },
});

/** Renders a whole page: the template of that name in its shell. */
export function renderPage<Name extends keyof PageModels>(
  name: Name,
  shell: Shell,
  model: PageModels[Name],
): string {
  return foreignSpans(eta.render(`/pages/${name}`, { ...HELPERS, shell, page: model }));
}

/** Renders a part of a page alone, for a swap. */
export function renderPart<Name extends keyof PageModels>(name: Name, model: PageModels[Name]): string {
  return foreignSpans(eta.render(`/pages/${name}`, { ...HELPERS, page: model }));
}
