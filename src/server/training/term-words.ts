import { sourceText } from '../../language/source-text.js';
import type { Glossary } from '../../rules/training/index.js';
import type { TextPiece } from '../../templates/training-models.js';

/** Finds trade terms in running text; each is explained where it first appears. */
export interface TermFinder {
  /** The text in pieces; terms already explained on the page stay plain text. */
  explain(text: string): TextPiece[];
}

/** A finder for one page. */
export function findTerms(glossary: Glossary): TermFinder {
  const words = new Map<string, { id: string; plain: string }>();
  for (const [id, entry] of Object.entries(glossary))
    for (const form of [entry.term, ...(entry.forms ?? [])])
      words.set(form.toLowerCase(), { id, plain: entry.plain });
  // Longer terms first, so that "false twist" is not read as "twist".
  const pattern = new RegExp(
    `(?<![\\p{L}-])(${[...words.keys()]
      .sort((a, b) => b.length - a.length)
      .map((word) => word.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'))
      .join('|')})(?![\\p{L}-])`,
    'giu',
  );
  const explained = new Set<string>();
  return {
    explain(text) {
      const pieces: TextPiece[] = [];
      let at = 0;
      for (const match of text.matchAll(pattern)) {
        const term = words.get(match[0].toLowerCase());
        if (term === undefined || explained.has(term.id)) continue;
        explained.add(term.id);
        if (match.index > at)
          pieces.push({ text: sourceText(text.slice(at, match.index)), plain: '', href: '' });
        pieces.push({
          text: sourceText(match[0]),
          plain: sourceText(term.plain),
          href: `/training/glossary#${term.id}`,
        });
        at = match.index + match[0].length;
      }
      if (at < text.length) pieces.push({ text: sourceText(text.slice(at)), plain: '', href: '' });
      return pieces;
    },
  };
}
