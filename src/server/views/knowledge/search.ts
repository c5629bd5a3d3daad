import { foreignAs, unmark } from '../../../language/foreign.js';
import { language } from '../../../language/scope.js';
import { compareTexts } from '../../../language/words.js';
import { nearestWord } from '../../../rules/case/nearest-word.js';
import type { Entry } from './catalogue.js';

/** An entry that fits, with the text in which it was found. */
export interface Found {
  readonly entry: Entry;
  readonly score: number;
  /** The sentence that shows why it was found. */
  readonly text: string;
}

export interface SearchResult {
  readonly words: readonly string[];
  /** Best first. */
  readonly found: readonly Found[];
  /** What may have been meant, when nothing was found; empty when nothing is near. */
  readonly meant: string;
}

const MOST_WORDS = 8;
/** Weight of a word found at the start of a word of the name, within the name, in what it is, in what it says. */
const SCORES = { nameStart: 8, name: 4, about: 3, says: 1 } as const;

/** Small letters without accents, apostrophes and hyphens aside. */
export const fold = (text: string) =>
  text
    .normalize('NFKD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase();

/** The words of a question; a plural finds the singular too: words are found by how they begin. */
export function wordsOf(question: string): string[] {
  const words = fold(question)
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '')
    .map((word) =>
      language() === 'de'
        ? word.replace(/(?<=^\p{L}{4,})n$/u, '')
        : word.length > 3 && word.endsWith('s') && !word.endsWith('ss')
          ? word.slice(0, -1)
          : word,
    );
  return [...new Set(words)].slice(0, MOST_WORDS);
}

/** Makes a search over the entries; their texts are folded once. */
export function searchOver(entries: readonly Entry[]): (question: string) => SearchResult {
  const folded = entries.map((entry) => ({
    entry,
    name: fold(`${entry.label} ${entry.id.replaceAll('-', ' ')}`),
    about: fold(entry.about),
    says: entry.says.map((text) => ({ text, folded: fold(text) })),
  }));
  const vocabulary = new Set(
    entries.flatMap(({ label }) => fold(label).split(/[^\p{L}\p{N}]+/u)).filter((word) => word.length > 3),
  );
  const find = (words: readonly string[]): Found[] =>
    folded.flatMap(({ entry, name, about, says }): Found[] => {
      let score = 0;
      let text = '';
      for (const word of words) {
        const own = scoreOf(word, name, about, says);
        if (own === 0) return [];
        score += own;
        // Shown: the first text that holds a word which the name does not show by itself.
        if (text === '' && own < SCORES.name)
          text = about.includes(word)
            ? entry.about
            : (says.find((one) => one.folded.includes(word))?.text ?? '');
      }
      return [{ entry, score, text: text === '' ? entry.about : text }];
    });
  return (question) => {
    const words = wordsOf(question);
    if (words.length === 0) return { words, found: [], meant: '' };
    const found = find(words).sort((a, b) => b.score - a.score || compareTexts(a.entry.label, b.entry.label));
    if (found.length > 0) return { words, found, meant: '' };
    const guessed = guess(words, vocabulary);
    return { words, found, meant: find(guessed).length > 0 ? guessed.join(' ') : '' };
  };
}

function scoreOf(
  word: string,
  name: string,
  about: string,
  says: readonly { readonly folded: string }[],
): number {
  const start = new RegExp(`(?:^|[^\\p{L}\\p{N}])${word}`, 'u');
  if (start.test(name)) return SCORES.nameStart;
  if (word.length > 2 && name.includes(word)) return SCORES.name;
  if (start.test(about)) return SCORES.about;
  return says.some((one) => start.test(one.folded)) ? SCORES.says : 0;
}

/** The words, each that is in no name replaced by its nearest neighbour. */
function guess(words: readonly string[], vocabulary: ReadonlySet<string>): string[] {
  const known = [...vocabulary];
  return words.map((word) =>
    known.some((one) => one.startsWith(word)) ? word : (nearestWord(word, known) ?? word),
  );
}

/** A text as pieces, those that hold one of the words marked. */
export function markWords(
  text: string,
  words: readonly string[],
): { readonly text: string; readonly hit: boolean }[] {
  // Folding keeps lengths for the letters in use; where it does not, nothing is marked.
  const plain = unmark(text);
  const folded = fold(plain);
  if (words.length === 0 || folded.length !== plain.length) return [{ text, hit: false }];
  const piece = (from: number, to?: number) => foreignAs(text, () => plain.slice(from, to));
  const pieces: { text: string; hit: boolean }[] = [];
  let from = 0;
  for (const match of folded.matchAll(new RegExp(`(?<![\\p{L}\\p{N}])(?:${words.join('|')})`, 'gu'))) {
    if (match.index > from) pieces.push({ text: piece(from, match.index), hit: false });
    from = match.index + match[0].length;
    pieces.push({ text: piece(match.index, from), hit: true });
  }
  if (from < plain.length) pieces.push({ text: piece(from), hit: false });
  return pieces;
}
