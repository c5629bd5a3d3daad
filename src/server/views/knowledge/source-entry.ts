import { say } from '../../../language/say.js';
import { sourceText } from '../../../language/source-text.js';
import { compareTexts } from '../../../language/words.js';
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
    lead: sourceText(source.note ?? ''),
    file: 'sources',
    bases: [],
    facts: [
      { term: say('entry.seen'), text: say('entry.seen-read') },
      { term: say('entry.cited-by'), text: say('entry.cited-statements', { n: cited.length }) },
    ],
    links: /^https?:\/\//.test(source.address ?? '')
      ? [{ href: source.address ?? '', text: say('entry.writing') }]
      : [],
    sections: [
      section(
        'cited',
        say('entry.where-cited'),
        [...cited]
          .sort((a, b) => compareTexts(a.label, b.label))
          .map((one) => item(one.label, { href: one.href, text: one.statement })),
      ),
    ],
  });
}
