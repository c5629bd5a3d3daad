import { say } from '../../language/say.js';
import { nearestWord } from './nearest-word.js';
import type { CaseProblem, CaseVocabulary, CaseWarning } from './types.js';

/** Keys from the top of the case file down to a value. */
export type Path = readonly string[];

/** What the readers of the parts of a case share: where problems and warnings go, and what ids there are. */
export interface Reading {
  readonly vocabulary: CaseVocabulary;
  readonly problems: CaseProblem[];
  readonly warnings: CaseWarning[];
  /** Line of the value at a path, or of the nearest thing above it. */
  lineOf(path: Path): number | undefined;
}

/** Notes a problem. */
export function refuse(
  reading: Reading,
  path: Path,
  value: unknown,
  message: string,
  allowed: readonly string[],
): undefined {
  const line = reading.lineOf(path);
  reading.problems.push({
    field: path.join('.'),
    value: showValue(value),
    message,
    allowed,
    ...(line === undefined ? {} : { line }),
  });
  return undefined;
}

/** Notes something unusual. */
export function warn(reading: Reading, path: Path, message: string): void {
  reading.warnings.push({ field: path.join('.'), message });
}

/** True for what counts as left out: no key, an empty value, an empty text. */
export function isLeftOut(value: unknown): value is undefined | null | '' {
  return value === undefined || value === null || (typeof value === 'string' && value.trim() === '');
}

/**
 * The own entries of a mapping, or undefined (with a problem noted) when it is none. Left-out values are dropped;
 * keys that are not allowed are noted, with the nearest one that is.
 */
export function readMap(
  reading: Reading,
  path: Path,
  value: unknown,
  keys: Iterable<string>,
  hints: ReadonlyMap<string, string> = new Map(),
): Map<string, unknown> | undefined {
  const allowed = [...keys];
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    return refuse(reading, path, value, say('case-file.group'), allowed);
  }
  const known = new Set(allowed);
  const entries = new Map<string, unknown>();
  for (const [key, one] of Object.entries(value)) {
    if (!known.has(key)) {
      const meant = hints.get(key.toLowerCase()) ?? nearestWord(key, allowed);
      refuse(
        reading,
        [...path, key],
        one,
        meant === undefined
          ? say('case-file.no-field', { key: shorten(key) })
          : say('case-file.no-field-meant', { key: shorten(key), meant }),
        allowed,
      );
    } else if (!isLeftOut(one)) entries.set(key, one);
  }
  return entries;
}

/** One of a list of words; case and surrounding spaces do not matter. */
export function readWord<W extends string>(
  reading: Reading,
  path: Path,
  value: unknown,
  words: readonly W[],
): W | undefined {
  if (typeof value === 'string' || typeof value === 'number') {
    const text = String(value).trim().toLowerCase();
    const found = words.find((word) => word.toLowerCase() === text);
    if (found !== undefined) return found;
    const meant = nearestWord(text, words);
    return refuse(
      reading,
      path,
      value,
      meant === undefined
        ? say('case-file.no-word', { value: shorten(String(value)) })
        : say('case-file.no-word-meant', { value: shorten(String(value)), meant }),
      words,
    );
  }
  return refuse(reading, path, value, say('case-file.one-word'), words);
}

/** One word or a list of words, each once. */
export function readWords<W extends string>(
  reading: Reading,
  path: Path,
  value: unknown,
  words: readonly W[],
): W[] {
  if (!Array.isArray(value)) {
    const word = readWord(reading, path, value, words);
    return word === undefined ? [] : [word];
  }
  const found = new Set<W>();
  value.forEach((one, index) => {
    const word = readWord(reading, [...path, String(index)], one, words);
    if (word !== undefined) found.add(word);
  });
  return [...found];
}

/** A value for showing in a message: never longer than 60 characters. */
export function showValue(value: unknown): string {
  if (value === undefined) return say('case-file.nothing');
  if (typeof value === 'string') return shorten(value);
  if (typeof value === 'object' && value !== null) {
    return Array.isArray(value)
      ? say('case-file.list-of', { n: value.length })
      : say('case-file.group-value');
  }
  return shorten(String(value));
}

function shorten(text: string): string {
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}
