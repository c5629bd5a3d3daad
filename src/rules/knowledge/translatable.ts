import type { Knowledge } from './knowledge.js';
import type { RuleBook } from './knowledge-base.js';

/** Kinds of entries that are shown to readers and so have texts to translate. */
export const TRANSLATED_KINDS = [
  'symptoms',
  'causes',
  'mechanisms',
  'checks',
  'actions',
  'cautions',
  'end-uses',
] as const;
export type TranslatedKind = (typeof TRANSLATED_KINDS)[number];

/**
 * Where the texts of an entry are: keys from its top, `*` for every key of a mapping, `[name]` for every item of a
 * list, known by that field, and `[]` for every item of a list, known by its place.
 */
export const TEXT_PATHS: Readonly<Record<TranslatedKind, readonly string[]>> = {
  symptoms: ['label', 'look', 'leads-to.[to].why'],
  causes: [
    'label',
    'what',
    'leads-to.[to].why',
    'rules.[id].because',
    'ruled-out.[].because',
    'look-alikes.[cause].told-apart-by',
    'actions.[do].note',
  ],
  mechanisms: ['label', 'plain', 'states.*.label', 'states.*.leads-to.[to].why'],
  checks: ['label', 'ask', 'how.[]', 'outcomes.*.label'],
  actions: ['label', 'steps.[]', 'parts', 'side-effects.[on].why', 'not-when.[].because', 'proof', 'go-back'],
  cautions: ['text'],
  'end-uses': ['label', 'matters.[]', 'limits.[on].because', 'forbids.[].because'],
};

/** Entries of a kind by their ids. */
export function entriesOf(
  knowledge: { readonly book: RuleBook; readonly endUses: Knowledge['endUses'] },
  kind: TranslatedKind,
): ReadonlyMap<string, object> {
  return kind === 'end-uses' ? knowledge.endUses : knowledge.book[kind];
}

/** Texts of a translation: nested like the entry they belong to. */
export interface TextTree {
  readonly [key: string]: string | TextTree;
}

/**
 * Goes through the texts of an entry and returns a copy in which each is replaced.
 *
 * @param replace new text for the text at a place; keys from the entry's top, places in lists counted from 1
 */
export function mapTexts<Entry extends object>(
  entry: Entry,
  kind: TranslatedKind,
  replace: (place: readonly string[], text: string) => string,
): Entry {
  return TEXT_PATHS[kind].reduce<Entry>((copy, path) => mapPath(copy, path.split('.'), [], replace), entry);
}

function mapPath<Value>(
  value: Value,
  path: readonly string[],
  place: readonly string[],
  replace: (place: readonly string[], text: string) => string,
): Value {
  const [step, ...rest] = path;
  if (step === undefined) return (typeof value === 'string' ? replace(place, value) : value) as Value;
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) {
    const key = /^\[(.*)\]$/.exec(step)?.[1] ?? '';
    return value.map((item, n) =>
      mapPath(item, rest, [...place, key === '' ? String(n + 1) : String(item[key])], replace),
    ) as Value;
  }
  const copy = { ...value } as Record<string, unknown>;
  for (const key of step === '*' ? Object.keys(value) : Object.hasOwn(value, step) ? [step] : [])
    copy[key] = mapPath(copy[key], rest, [...place, key], replace);
  return copy as Value;
}
