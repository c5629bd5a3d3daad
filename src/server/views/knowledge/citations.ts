import { say } from '../../../language/say.js';
import { sourceText } from '../../../language/source-text.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import { entryHref } from './kinds.js';

/** A statement that names a source. */
export interface Citation {
  /** Empty where the statement's entry has no page. */
  readonly href: string;
  readonly label: string;
  readonly statement: string;
}

/** Fields that hold what a statement says, the most telling first. */
const TELLING = ['why', 'because', 'note', 'text', 'plain', 'look', 'ask', 'what'] as const;

/** Every statement that names a source, by the source's id. */
export function citationsOf(knowledge: Knowledge): ReadonlyMap<string, readonly Citation[]> {
  const { book, endUses, parameters } = knowledge;
  const found = new Map<string, Citation[]>();
  const walk = (value: unknown, at: Omit<Citation, 'statement'>, statement: string): void => {
    if (Array.isArray(value)) for (const one of value) walk(one, at, statement);
    if (typeof value !== 'object' || value === null || Array.isArray(value)) return;
    const own = tell(value) ?? statement;
    for (const [key, one] of Object.entries(value)) {
      if (key === 'source' && typeof one === 'string') {
        const list = found.get(one) ?? [];
        found.set(one, list);
        // The same statement may name its source for several of its parts.
        if (!list.some((known) => known.label === at.label && known.statement === own))
          list.push({ ...at, statement: own });
      } else walk(one, at, own);
    }
  };
  for (const kind of ['causes', 'mechanisms', 'symptoms', 'checks', 'actions'] as const)
    for (const entry of book[kind].values())
      walk(entry, { href: entryHref(kind, entry.id), label: entry.label }, '');
  for (const [id, caution] of book.cautions)
    walk(caution, { href: '', label: say('entry.of-caution', { name: sourceText(plain(id)) }) }, '');
  for (const one of endUses.values())
    walk(one, { href: '', label: say('entry.of-end-use', { name: one.label }) }, '');
  for (const one of Object.values(parameters.fibres))
    walk(one, { href: '', label: say('entry.of-fibre', { name: sourceText(one.label) }) }, '');
  for (const [name, one] of Object.entries(parameters.model))
    walk(one, { href: '', label: say('entry.of-model', { name: sourceText(plain(name)) }) }, '');
  return found;
}

function tell(value: object): string | undefined {
  for (const field of TELLING) {
    const text = Reflect.get(value, field);
    if (typeof text === 'string') return text;
  }
  return undefined;
}

/** `hairPerNotch` → "hair per notch". */
const plain = (id: string) =>
  id
    .replace(/([a-z])([A-Z0-9])/g, (_, before: string, after: string) => `${before} ${after.toLowerCase()}`)
    .replaceAll('-', ' ');
