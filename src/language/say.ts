import { IntlMessageFormat } from 'intl-messageformat';
import { markForeign } from './foreign.js';
import { LANGUAGES, type Language, SOURCE_LANGUAGE } from './languages.js';
import type { ArgumentsOf } from './message-arguments.js';
import { GERMAN } from './messages/de/index.js';
import { ENGLISH } from './messages/en/index.js';
import { pseudoMessage } from './pseudo.js';
import { language } from './scope.js';

type Areas = typeof ENGLISH;
type AreaName = keyof Areas & string;
/** Messages by their full keys: area, dot, key within the area. */
type Messages = {
  [Key in {
    [Area in AreaName]: `${Area}.${keyof Areas[Area] & string}`;
  }[AreaName]]: Key extends `${infer Area extends AreaName}.${infer Name}`
    ? Name extends keyof Areas[Area]
      ? Areas[Area][Name]
      : never
    : never;
};

/** Keys of all messages: `bench.heading`. */
export type MessageKey = keyof Messages;
/** What a message must be given. */
export type MessageArguments<Key extends MessageKey> = ArgumentsOf<Messages[Key] & string>;
/** Values needed by any of the messages, where a key may be one of several. */
type Needed<Key extends MessageKey> = Key extends MessageKey ? keyof MessageArguments<Key> : never;
type Rest<Key extends MessageKey> = [Needed<Key>] extends [never] ? [] : [values: MessageArguments<Key>];

/** Keys of one area, without its name. */
export type KeysOf<Area extends AreaName> = keyof Areas[Area] & string;

/** Catalogues other than English: area → key → message. What one lacks is said in English. */
const TRANSLATED: Partial<Record<Language, Readonly<Record<string, Readonly<Record<string, string>>>>>> = {
  de: GERMAN,
};

type Said = string | IntlMessageFormat;
const kept = new Map<Language, Map<string, Said>>();

/**
 * The message in the language of the moment.
 *
 * @param key area and key, see `messages/en`
 * @param values one for each placeholder; numbers for reading come formatted, except where a plural hangs on them
 * @throws Error when a value is missing, which the compiler sees first
 */
export function say<Key extends MessageKey>(key: Key, ...[values]: Rest<Key>): string {
  return sayLoose(key, values as Readonly<Record<string, string | number>> | undefined);
}

/** {@link say} for templates alone, whose keys and values the compiler does not see; a test reads them instead. */
export function sayLoose(key: string, values?: Readonly<Record<string, string | number>>): string {
  const now = language();
  let messages = kept.get(now);
  if (messages === undefined) {
    messages = new Map();
    kept.set(now, messages);
  }
  let message = messages.get(key);
  if (message === undefined) {
    message = prepare(now, key);
    messages.set(key, message);
  }
  return typeof message === 'string' ? message : String(message.format(values));
}

/** Whether there is such a message. */
export const isMessageKey = (key: string): key is MessageKey => textOf(ENGLISH, key) !== undefined;

/** @throws RangeError for a key that no catalogue has */
function prepare(now: Language, key: string): Said {
  const english = textOf(ENGLISH, key);
  if (english === undefined) throw new RangeError(`there is no message "${key}"`);
  const own = textOf(TRANSLATED[now] ?? {}, key);
  const { tag } = LANGUAGES[now];
  if (now === 'ar-XB') return new IntlMessageFormat(pseudoMessage(english), LANGUAGES.en.tag);
  if (own !== undefined) return own.includes('{') ? new IntlMessageFormat(own, tag) : own;
  const text = now === SOURCE_LANGUAGE ? english : markForeign(english);
  return text.includes('{') ? new IntlMessageFormat(text, LANGUAGES.en.tag) : text;
}

function textOf(areas: object, key: string): string | undefined {
  const dot = key.indexOf('.');
  const area: unknown = Object.hasOwn(areas, key.slice(0, dot)) ? Reflect.get(areas, key.slice(0, dot)) : {};
  const name = key.slice(dot + 1);
  return typeof area === 'object' && area !== null && Object.hasOwn(area, name)
    ? String(Reflect.get(area, name))
    : undefined;
}

/**
 * The word of an area for an id that came with data; undefined where the area has none. For ids the program knows,
 * `say` with the id in the key lets the compiler see that none is missing.
 */
export function wordFor<Area extends AreaName>(
  area: Needed<`${Area}.${KeysOf<Area>}` & MessageKey> extends never ? Area : never,
  id: string,
): string | undefined {
  const key = `${area}.${id}`;
  return isMessageKey(key) ? sayLoose(key) : undefined;
}

/** An id with dots or strokes as part of a key: `rotor.speed` is `rotor-speed` there, `t/m` is `t-m`. */
export const keyPart = <Id extends string>(id: Id): KeyPart<Id> => id.replace(/[./]/g, '-') as KeyPart<Id>;

type KeyPart<Id extends string> = Id extends `${infer Before}.${infer After}`
  ? KeyPart<`${Before}-${After}`>
  : Id extends `${infer Before}/${infer After}`
    ? KeyPart<`${Before}-${After}`>
    : Id;

/**
 * Words by id whose texts are messages of one area, read anew each time they are asked for, so that the table may be
 * a constant: `wordTable('scope', ['position', …])` has the texts of `scope.position` and so on.
 */
export function wordTable<Area extends AreaName, Word extends KeysOf<Area>>(
  area: Area,
  words: readonly Word[],
): Readonly<Record<Word, string>> {
  const table = {};
  for (const word of words)
    Object.defineProperty(table, word, { enumerable: true, get: () => sayLoose(`${area}.${word}`) });
  return table as Readonly<Record<Word, string>>;
}
