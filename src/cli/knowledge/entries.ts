import type { EndUse } from '../../rules/knowledge/end-use-schema.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import type { Caution, Source } from '../../rules/knowledge/knowledge-base.js';
import type { Action, Cause, Check, Mechanism, Symptom } from '../../rules/knowledge/schema.js';
import type { FibreEntry } from '../../spinning/parameters.js';

/** Something that stands in the knowledge base under an id. */
export type Entry =
  | { readonly kind: 'cause'; readonly id: string; readonly entry: Cause }
  | { readonly kind: 'symptom'; readonly id: string; readonly entry: Symptom }
  | { readonly kind: 'check'; readonly id: string; readonly entry: Check }
  | { readonly kind: 'action'; readonly id: string; readonly entry: Action }
  | { readonly kind: 'mechanism'; readonly id: string; readonly entry: Mechanism }
  | { readonly kind: 'caution'; readonly id: string; readonly entry: Caution }
  | { readonly kind: 'source'; readonly id: string; readonly entry: Source }
  | { readonly kind: 'fibre'; readonly id: string; readonly entry: FibreEntry }
  | { readonly kind: 'end use'; readonly id: string; readonly entry: EndUse };

/** Everything under an id; several kinds may share one (`sliver-trash` is a cause and a check). */
export function findEntries(id: string, { book, fibres, endUses }: Knowledge): Entry[] {
  const found: Entry[] = [];
  const look = <T>(map: ReadonlyMap<string, T>, make: (entry: T) => Entry) => {
    const entry = map.get(id);
    if (entry !== undefined) found.push(make(entry));
  };
  look(book.causes, (entry) => ({ kind: 'cause', id, entry }));
  look(book.symptoms, (entry) => ({ kind: 'symptom', id, entry }));
  look(book.checks, (entry) => ({ kind: 'check', id, entry }));
  look(book.actions, (entry) => ({ kind: 'action', id, entry }));
  look(book.mechanisms, (entry) => ({ kind: 'mechanism', id, entry }));
  look(book.cautions, (entry) => ({ kind: 'caution', id, entry }));
  look(book.sources, (entry) => ({ kind: 'source', id, entry }));
  look(fibres, (entry) => ({ kind: 'fibre', id, entry }));
  look(endUses, (entry) => ({ kind: 'end use', id, entry }));
  return found;
}

/** All ids of all kinds. */
export function idsOf({ book, fibres, endUses }: Knowledge): string[] {
  return [
    book.causes,
    book.symptoms,
    book.checks,
    book.actions,
    book.mechanisms,
    book.cautions,
    book.sources,
    fibres,
    endUses,
  ].flatMap((map) => [...map.keys()]);
}
