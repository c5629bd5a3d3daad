import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { EntryPage } from '../../../templates/models.js';
import type { Citation } from './citations.js';
import { entryPage, item, section } from './section.js';

/** The page of a source that was read: what it is, and every statement that rests on it. */
export function viewSourceEntry(
  id: string,
  knowledge: Knowledge,
  citations: ReadonlyMap<string, readonly Citation[]>,
): EntryPage | undefined {
  const source = knowledge.book.sources.get(id);
  if (source?.seen !== 'read') return undefined;
  const cited = citations.get(id) ?? [];
  return entryPage('sources', id, knowledge, {
    label: source.cite,
    lead: source.note ?? '',
    file: 'sources',
    bases: [],
    facts: [
      { term: 'Seen', text: 'read, at least in part' },
      {
        term: 'Cited by',
        text: cited.length === 1 ? 'one statement' : `${cited.length} statements`,
      },
    ],
    links: /^https?:\/\//.test(source.address ?? '')
      ? [{ href: source.address ?? '', text: 'The writing itself' }]
      : [],
    sections: [
      section(
        'cited',
        'Where it is cited',
        [...cited]
          .sort((a, b) => a.label.localeCompare(b.label))
          .map((one) => item(one.label, { href: one.href, text: one.statement })),
      ),
    ],
  });
}
