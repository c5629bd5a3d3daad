import { LANGUAGES } from './languages.js';
import { say } from './say.js';
import { language } from './scope.js';

/** "a, b and c". */
export function joinWords(items: readonly string[], last: 'and' | 'or' | 'nor' = 'and'): string {
  if (items.length <= 1) return items[0] ?? '';
  return `${items.slice(0, -1).join(', ')} ${say(`words.${last}`)} ${items.at(-1)}`;
}

/** Capital first letter. A mark of a foreign text before it stays. */
export const sentenceCase = (text: string): string =>
  text.replace(/^(\uE000?)(\p{Ll})/u, (_, mark: string, letter: string) => mark + letter.toUpperCase());

/** A label within a sentence: small first letter, where the language writes its nouns small. */
export const inSentence = (label: string): string =>
  language() === 'de'
    ? label
    : label.replace(/^(\uE000?)(\p{Lu})(?=\p{Ll}|\s|$)/u, (_, mark, letter) => mark + letter.toLowerCase());

/** All letters small, where the language writes its nouns small. */
export const allInSentence = (text: string): string => (language() === 'de' ? text : text.toLowerCase());

/** Puts texts in the order of the language. */
export function compareTexts(a: string, b: string): number {
  return a.localeCompare(b, LANGUAGES[language()].tag);
}

/** A sentence without its full stop, to go on with it. */
export const withoutStop = (text: string): string => text.replace(/\.(\uE001?)$/, '$1');
