import { z } from 'zod';
import { isLanguage, type Language, SOURCE_LANGUAGE } from '../../language/languages.js';
import type { KnowledgeProblem } from './errors.js';
import type { Knowledge } from './knowledge.js';
import { folderNames, yamlNames } from './knowledge-files.js';
import { type FolderReader, readOne } from './load.js';
import { entriesOf, mapTexts, type TextTree, TRANSLATED_KINDS, type TranslatedKind } from './translatable.js';

/** Texts of one language: kind → id → texts. */
export type Translation = ReadonlyMap<TranslatedKind, ReadonlyMap<string, TextTree>>;
/** Texts of the knowledge base in other languages than English. */
export type Translations = ReadonlyMap<Language, Translation>;

/** Below it a folder for each language, with files of any name. */
export const LANGUAGES_FOLDER = 'languages';

const treeSchema: z.ZodType<TextTree> = z.lazy(() =>
  z.record(
    z.string(),
    z.union([z.string().trim().min(1), treeSchema, z.array(z.string().trim().min(1))]).transform(numbered),
  ),
) as unknown as z.ZodType<TextTree>;
/** A file maps kinds to ids to texts; the texts of one entry may be spread over files. */
const fileSchema = z.strictObject(
  Object.fromEntries(TRANSLATED_KINDS.map((kind) => [kind, z.record(z.string(), treeSchema).optional()])),
) as unknown as z.ZodType<Partial<Record<TranslatedKind, Record<string, TextTree>>>>;

/** A list as a tree by places, counted from 1. */
function numbered(value: string | TextTree | string[]): string | TextTree {
  return Array.isArray(value) ? Object.fromEntries(value.map((text, n) => [String(n + 1), text])) : value;
}

/**
 * Reads the translations below the knowledge base. Problems are noted in the reader: a text for something that does
 * not exist, one given twice, a list of another length, numbers of the English text that are gone.
 */
export function readTranslations(
  reader: FolderReader,
  knowledge: Pick<Knowledge, 'book' | 'endUses'>,
): Translations {
  const translations = new Map<Language, Translation>();
  for (const name of folderNames(reader.root, LANGUAGES_FOLDER)) {
    if (!isLanguage(name) || name === SOURCE_LANGUAGE) {
      reader.problems.push(
        problem(`${LANGUAGES_FOLDER}/${name}`, '', 'is no language the pages can be read in'),
      );
      continue;
    }
    translations.set(name, readLanguage(reader, `${LANGUAGES_FOLDER}/${name}`, knowledge));
  }
  return translations;
}

function readLanguage(
  reader: FolderReader,
  folder: string,
  knowledge: Pick<Knowledge, 'book' | 'endUses'>,
): Translation {
  const found = new Map<TranslatedKind, Map<string, TextTree>>(
    TRANSLATED_KINDS.map((kind) => [kind, new Map()]),
  );
  for (const name of yamlNames(reader.root, folder) ?? []) {
    const file = `${folder}/${name}`;
    const content = readOne(reader, file, fileSchema);
    if (content === undefined) continue;
    for (const kind of TRANSLATED_KINDS)
      for (const [id, texts] of Object.entries(content[kind] ?? {})) {
        const entry = entriesOf(knowledge, kind).get(id);
        const at = `${kind}.${id}`;
        if (entry === undefined) {
          reader.problems.push(problem(file, at, 'there is no such entry'));
          continue;
        }
        reader.problems.push(...checkTexts(file, at, kind, entry, texts));
        const known = found.get(kind) ?? new Map<string, TextTree>();
        const { merged, twice } = merge(known.get(id) ?? {}, texts);
        for (const place of twice) reader.problems.push(problem(file, `${at}.${place}`, 'is given twice'));
        known.set(id, merged);
      }
  }
  return found;
}

/** What is wrong with the texts given for an entry. */
function checkTexts(
  file: string,
  at: string,
  kind: TranslatedKind,
  entry: object,
  texts: TextTree,
): KnowledgeProblem[] {
  const wrong: KnowledgeProblem[] = [];
  const english = new Map<string, string>();
  mapTexts(entry, kind, (place, text) => {
    english.set(place.join('.'), text);
    return text;
  });
  const lists = new Map<string, number>();
  for (const [place, text] of leaves(texts)) {
    const original = english.get(place);
    if (original === undefined) wrong.push(problem(file, `${at}.${place}`, 'the entry has no such text'));
    else if (figuresOf(original) !== figuresOf(text))
      wrong.push(
        problem(
          file,
          `${at}.${place}`,
          `has other figures (${figuresOf(text) || 'none'}) than the English text (${figuresOf(original) || 'none'})`,
        ),
      );
    const list = /^(?:(.*)\.)?\d+$/.exec(place);
    if (list !== null) lists.set(list[1] ?? '', (lists.get(list[1] ?? '') ?? 0) + 1);
  }
  for (const [list, length] of lists) {
    const needed = [...english.keys()].filter(
      (place) => place.startsWith(`${list}.`) && /^\d+$/.test(place.slice(list.length + 1)),
    ).length;
    if (needed > 0 && length !== needed)
      wrong.push(problem(file, `${at}.${list}`, `has ${length} items where the English text has ${needed}`));
  }
  return wrong;
}

/** Figures of a text in order of size, decimal comma or point alike: what a translation must keep. */
function figuresOf(text: string): string {
  return [...text.matchAll(/\d+(?:[.,]\d+)?/g)]
    .map(([figure]) => figure.replace(',', '.'))
    .sort()
    .join(' ');
}

/** Texts of a tree with their places. */
export function leaves(tree: TextTree, above = ''): [place: string, text: string][] {
  return Object.entries(tree).flatMap(([key, value]) => {
    const place = above === '' ? key : `${above}.${key}`;
    return typeof value === 'string' ? [[place, value] as [string, string]] : leaves(value, place);
  });
}

function merge(one: TextTree, other: TextTree, above = ''): { merged: TextTree; twice: string[] } {
  const merged: Record<string, string | TextTree> = { ...one };
  const twice: string[] = [];
  for (const [key, value] of Object.entries(other)) {
    const place = above === '' ? key : `${above}.${key}`;
    const present = Object.hasOwn(merged, key) ? merged[key] : undefined;
    if (present === undefined) merged[key] = value;
    else if (typeof present === 'string' || typeof value === 'string') twice.push(place);
    else {
      const inner = merge(present, value, place);
      merged[key] = inner.merged;
      twice.push(...inner.twice);
    }
  }
  return { merged, twice };
}

const problem = (file: string, field: string, message: string): KnowledgeProblem => ({
  file,
  line: undefined,
  field,
  message,
});
