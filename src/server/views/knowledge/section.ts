import { say } from '../../../language/say.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { Basis } from '../../../rules/knowledge/schema.js';
import { sentenceCase } from '../../../rules/words.js';
import type { EntryPage, EntrySection } from '../../../templates/models.js';
import type { GroundView } from '../../words.js';
import { sayCondition } from './condition-words.js';
import { groundOn, NO_GROUND, sayRestsOn } from './grounds.js';
import { type Kind, kindTitle } from './kinds.js';
import type { LinkMap, MappedLink } from './link-map.js';
import { type LinkPicture, sayStrength } from './link-picture.js';

/** Parts that the pages of entries are built from. */

export type Item = EntrySection['items'][number];

/** A section; {@link entryPage} leaves it out when there is nothing in it. */
export function section(
  id: string,
  title: string,
  items: readonly Item[],
  more: Partial<Omit<EntrySection, 'id' | 'title' | 'items'>> & {
    readonly drawn?: LinkPicture | undefined;
  } = {},
): EntrySection {
  const { drawn, ...rest } = more;
  return {
    id,
    title,
    intro: '',
    picture: drawn?.picture,
    caption: drawn?.caption ?? '',
    bars: [],
    ordered: false,
    items,
    ...rest,
  };
}

/** A statement with what it rests on. */
export function item(label: string, more: Partial<Omit<Item, 'label'>> = {}): Item {
  return { href: '', label, text: '', notes: [], ground: NO_GROUND, ...more };
}

/** One link, told from the end that the page is not about. */
export function linkItem(knowledge: Knowledge, map: LinkMap, end: 'from' | 'to'): (link: MappedLink) => Item {
  return (mapped) => {
    const { link } = mapped;
    const node = map.name(mapped[end]);
    const only = link['only-if'];
    return item(node.label, {
      href: node.href,
      text: `${sentenceCase(sayStrength(mapped))}. ${link.why}`,
      notes: [
        ...(only === undefined ? [] : [say('entry.only-if', { condition: sayCondition(only, knowledge) })]),
        ...(link.unless === undefined
          ? []
          : [say('entry.not-if', { condition: sayCondition(link.unless, knowledge) })]),
      ],
      ground: groundOn(knowledge.book, link.basis),
    });
  };
}

/** An entry named by id, with its page; nothing when there is no such entry. */
export function namedItem(
  knowledge: Knowledge,
  kind: 'causes' | 'checks' | 'actions',
  id: string,
  more: Partial<Item> = {},
): Item[] {
  const found = knowledge.book[kind].get(id);
  return found === undefined ? [] : [item(found.label, { href: `/knowledge/${kind}/${id}`, ...more })];
}

/** A page out of its parts. Sections with nothing in them are left out. */
export function entryPage(
  kind: Kind,
  id: string,
  knowledge: Knowledge,
  parts: {
    readonly label: string;
    readonly lead?: string;
    readonly file?: string;
    readonly cautions?: readonly string[];
    readonly facts?: EntryPage['facts'];
    readonly bases: readonly Basis[];
    readonly sections: readonly EntrySection[];
    readonly links?: EntryPage['links'];
    readonly worked?: EntryPage['worked'];
  },
): EntryPage {
  const restsOn = sayRestsOn(knowledge.book, parts.bases);
  return {
    kind: say(`knowledge-one.${kind}`),
    label: parts.label,
    lead: parts.lead ?? '',
    listHref: `/knowledge/${kind}`,
    listTitle: kindTitle(kind),
    file: parts.file ?? `${kind}/${id}.yaml`,
    cautions: (parts.cautions ?? []).filter((one) => one !== ''),
    facts: [
      ...(parts.facts ?? []),
      ...(restsOn === '' ? [] : [{ term: say('entry.rests-on'), text: restsOn }]),
    ],
    links: parts.links ?? [],
    sections: parts.sections.filter(
      (one) => one.items.length > 0 || one.bars.length > 0 || one.picture !== undefined,
    ),
    worked: parts.worked,
  };
}

export const grounded = (knowledge: Knowledge, basis: Basis): { readonly ground: GroundView } => ({
  ground: groundOn(knowledge.book, basis),
});
