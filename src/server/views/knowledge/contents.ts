import { foreignAs } from '../../../language/foreign.js';
import { say } from '../../../language/say.js';
import { compareTexts } from '../../../language/words.js';
import { groupBy } from '../../../rules/group.js';
import type { KnowledgeList, KnowledgePage } from '../../../templates/models.js';
import type { Entry } from './catalogue.js';
import { countOf, KIND_IDS, type Kind, kindAbout, kindTitle } from './kinds.js';
import { markWords, type SearchResult } from './search.js';

/** Finds shown of each kind before the rest is folded away behind a link. */
const SHOWN = 6;
const LONGEST_TEXT = 220;

/**
 * The first page of the knowledge: kinds with counts, the causes by family, and what a search found.
 * @param only the kind a search is narrowed to
 */
export function viewKnowledge(
  entries: readonly Entry[],
  question: string,
  result: SearchResult,
  only: Kind | undefined,
): KnowledgePage {
  const counts = new Map(
    KIND_IDS.map((kind) => [kind, entries.filter((entry) => entry.kind === kind).length]),
  );
  const byKind = groupBy(result.found, ({ entry }) => entry.kind);
  const query = (kind: Kind | undefined) =>
    `/knowledge?q=${encodeURIComponent(question)}${kind === undefined ? '' : `&kind=${kind}`}`;
  const asked = result.words.length > 0;
  return {
    question,
    kind: only ?? '',
    asked,
    found: !asked
      ? ''
      : result.found.length === 0
        ? say('knowledge.nothing', { question })
        : only === undefined
          ? say('knowledge.found', { n: result.found.length, question })
          : say('knowledge.found-of', {
              n: result.found.length,
              question,
              count: countOf(only, byKind.get(only)?.length ?? 0),
            }),
    meant:
      result.meant === ''
        ? undefined
        : { href: `/knowledge?q=${encodeURIComponent(result.meant)}`, text: result.meant },
    filters:
      result.found.length === 0
        ? []
        : [undefined, ...KIND_IDS.filter((kind) => byKind.has(kind))].map((kind) => ({
            href: query(kind),
            text:
              kind === undefined
                ? say('knowledge.all', { n: result.found.length })
                : countOf(kind, byKind.get(kind)?.length ?? 0),
            chosen: kind === only,
          })),
    groups: KIND_IDS.filter((kind) => byKind.has(kind) && (only === undefined || only === kind)).map(
      (kind) => {
        const all = byKind.get(kind) ?? [];
        const shown = only === kind ? all : all.slice(0, SHOWN);
        return {
          id: `found-${kind}`,
          title: countOf(kind, all.length),
          items: shown.map(({ entry, text }) => ({
            href: entry.href,
            label: markWords(entry.label, result.words),
            text: markWords(shorten(text), result.words),
          })),
          more:
            shown.length < all.length
              ? { href: query(kind), text: say('knowledge.all-of', { count: countOf(kind, all.length) }) }
              : undefined,
        };
      },
    ),
    kinds: KIND_IDS.map((kind) => ({
      href: `/knowledge/${kind}`,
      title: kindTitle(kind),
      count: counts.get(kind) ?? 0,
      about: kindAbout(kind),
    })),
  };
}

/** The list of all entries of a kind, under their headings. */
export function viewList(kind: Kind, entries: readonly Entry[]): KnowledgeList {
  const own = entries.filter((entry) => entry.kind === kind);
  const groups = groupBy(own, (entry) => entry.group);
  return {
    title: kindTitle(kind),
    counts: say('knowledge.count-about', { count: countOf(kind, own.length), about: kindAbout(kind) }),
    note: kind === 'sources' ? say('knowledge.sources-note') : '',
    groups: [...groups].map(([title, items], i) => ({
      id: `group-${i + 1}`,
      title: groups.size === 1 ? '' : say('knowledge.group', { title, n: items.length }),
      items: [...items]
        .sort((a, b) => compareTexts(a.label, b.label))
        .map((entry) => ({ href: entry.href, text: entry.label, about: shorten(entry.about) })),
    })),
  };
}

/** Cuts a text after a sentence or word, so that lists stay lists. */
const shorten = (text: string): string =>
  foreignAs(text, (plain) => {
    if (plain.length <= LONGEST_TEXT) return plain;
    const cut = plain.slice(0, LONGEST_TEXT);
    const sentence = Math.max(cut.lastIndexOf('. '), cut.lastIndexOf('? '));
    if (sentence > LONGEST_TEXT / 2) return cut.slice(0, sentence + 1);
    return `${cut.slice(0, cut.lastIndexOf(' '))} …`;
  });
