import { say } from '../../../language/say.js';
import type { RuleBook } from '../../../rules/knowledge/knowledge-base.js';
import type { Basis } from '../../../rules/knowledge/schema.js';
import { STANDINGS, type Standing } from '../../../rules/knowledge/vocabulary.js';
import { joinWords, sentenceCase } from '../../../rules/words.js';
import { type GroundView, STANDING_WORDS } from '../../words.js';
import { entryHref } from './kinds.js';

export const NO_GROUND: GroundView = { words: '', cite: '', address: '' };

/** What a statement rests on, with the page of its source; only a source that was read is named. */
export function groundOn(book: RuleBook, basis: Basis): GroundView {
  const source = basis.source === undefined ? undefined : book.sources.get(basis.source);
  const words = STANDING_WORDS[basis.standing];
  if (source?.seen !== 'read' || basis.source === undefined) return { words, cite: '', address: '' };
  return { words, cite: source.cite, address: entryHref('sources', basis.source) };
}

/** "7 published (3 sources), 4 common practice and 2 judgement". */
export function sayRestsOn(book: RuleBook, bases: readonly Basis[]): string {
  const counts = new Map<Standing, number>();
  const sources = new Set<string>();
  for (const { standing, source } of bases) {
    counts.set(standing, (counts.get(standing) ?? 0) + 1);
    if (source !== undefined && book.sources.get(source)?.seen === 'read') sources.add(source);
  }
  const parts = STANDINGS.flatMap((standing) => {
    const count = counts.get(standing) ?? 0;
    return count === 0 ? [] : [say('entry.ground-count', { n: count, standing: STANDING_WORDS[standing] })];
  });
  if (parts.length === 0) return '';
  return say('entry.grounds', {
    n: bases.length,
    grounds: sentenceCase(joinWords(parts)),
    sources: sources.size === 0 ? '' : say('entry.grounds-sources', { n: sources.size }),
  });
}
