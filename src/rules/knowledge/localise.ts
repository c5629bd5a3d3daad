import { markForeign } from '../../language/foreign.js';
import { type Language, SOURCE_LANGUAGE } from '../../language/languages.js';
import { pseudoText } from '../../language/pseudo.js';
import { language } from '../../language/scope.js';
import type { Knowledge } from './knowledge.js';
import { entriesOf, mapTexts, type TextTree, TRANSLATED_KINDS, type TranslatedKind } from './translatable.js';

const kept = new WeakMap<Knowledge, Map<Language, Knowledge>>();
const plain = new WeakMap<Knowledge, Knowledge>();

/**
 * The knowledge with its texts in a language: ids, numbers and conditions are the same. A text that the language
 * lacks stands in English, marked as such.
 */
export function localise(knowledge: Knowledge, into: Language): Knowledge {
  const source = plain.get(knowledge) ?? knowledge;
  if (into === SOURCE_LANGUAGE) return source;
  let versions = kept.get(source);
  if (versions === undefined) {
    versions = new Map();
    kept.set(source, versions);
  }
  let version = versions.get(into);
  if (version === undefined) {
    version = translate(source, into);
    versions.set(into, version);
  }
  return version;
}

/**
 * Knowledge that answers in the language of the moment: whoever reads a text from it gets it in the language of the
 * request. What reads it must not keep parts of it between requests.
 */
export function speaking(knowledge: Knowledge): Knowledge {
  const source = plain.get(knowledge) ?? knowledge;
  const voice: Knowledge = {
    ...source,
    get book() {
      return localise(source, language()).book;
    },
    get endUses() {
      return localise(source, language()).endUses;
    },
  };
  plain.set(voice, source);
  return voice;
}

/** The knowledge as it was loaded, in English, without {@link speaking}. */
export const plainKnowledge = (knowledge: Knowledge): Knowledge => plain.get(knowledge) ?? knowledge;

function translate(source: Knowledge, into: Language): Knowledge {
  const translation = source.translations?.get(into);
  const translated = <Entry extends object>(
    kind: TranslatedKind,
    entries: ReadonlyMap<string, Entry>,
  ): ReadonlyMap<string, Entry> =>
    new Map(
      [...entries].map(([id, entry]) => {
        const texts = translation?.get(kind)?.get(id);
        return [
          id,
          mapTexts(entry, kind, (place, text) => {
            if (into === 'ar-XB') return pseudoText(text);
            return textAt(texts, place) ?? markForeign(text);
          }),
        ] as const;
      }),
    );
  const { book } = source;
  return {
    ...source,
    book: {
      ...book,
      symptoms: translated('symptoms', book.symptoms),
      causes: translated('causes', book.causes),
      mechanisms: translated('mechanisms', book.mechanisms),
      checks: translated('checks', book.checks),
      actions: translated('actions', book.actions),
      cautions: translated('cautions', book.cautions),
    },
    endUses: translated('end-uses', source.endUses),
  };
}

function textAt(texts: TextTree | undefined, place: readonly string[]): string | undefined {
  let at: string | TextTree | undefined = texts;
  for (const key of place) at = typeof at === 'object' && Object.hasOwn(at, key) ? at[key] : undefined;
  return typeof at === 'string' ? at : undefined;
}

/** How far a language has come: texts translated and texts there are, by kind. */
export function countTranslated(
  knowledge: Knowledge,
  into: Language,
): Record<TranslatedKind, { readonly done: number; readonly of: number }> {
  const source = plainKnowledge(knowledge);
  const translation = source.translations?.get(into);
  return Object.fromEntries(
    TRANSLATED_KINDS.map((kind) => {
      let done = 0;
      let of = 0;
      for (const [id, entry] of entriesOf(source, kind)) {
        const texts = translation?.get(kind)?.get(id);
        mapTexts(entry, kind, (place, text) => {
          of++;
          if (textAt(texts, place) !== undefined) done++;
          return text;
        });
      }
      return [kind, { done, of }];
    }),
  ) as ReturnType<typeof countTranslated>;
}
