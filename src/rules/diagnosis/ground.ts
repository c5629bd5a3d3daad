import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { Basis } from '../knowledge/schema.js';
import type { Ground } from './types.js';

/** What a statement rests on, with its citation where the source was read. */
export function groundOf(book: RuleBook, basis: Basis): Ground {
  const source = basis.source === undefined ? undefined : book.sources.get(basis.source);
  if (source?.seen !== 'read') return { standing: basis.standing };
  return {
    standing: basis.standing,
    cite: source.cite,
    ...(source.address === undefined ? {} : { address: source.address }),
  };
}
