import { createHash } from 'node:crypto';
import type { Knowledge } from './knowledge.js';

/** Base rates stay within these, so that evidence can always move them. */
const LEAST = 0.0005;
const MOST = 0.9;

/**
 * The knowledge with other base rates: what a mill's closed cases have taught, in place of the expert's. Nothing else is
 * changed, and no file. The version says so, as a case must be known to have been answered from it.
 *
 * @param rates cause id → rate, 0–1; causes not named keep theirs, names without a cause are passed over
 */
export function withBaseRates(knowledge: Knowledge, rates: ReadonlyMap<string, number>): Knowledge {
  const causes = new Map(
    [...knowledge.book.causes].map(([id, cause]) => {
      const rate = rates.get(id);
      if (rate === undefined) return [id, cause] as const;
      const base = Math.min(MOST, Math.max(LEAST, rate));
      return [id, { ...cause, prior: { ...cause.prior, base } }] as const;
    }),
  );
  const mark = createHash('sha256')
    .update(JSON.stringify([...causes].map(([id, cause]) => [id, cause.prior.base])))
    .digest('hex')
    .slice(0, 8);
  return { ...knowledge, version: `${knowledge.version}+mill-${mark}`, book: { ...knowledge.book, causes } };
}

/** Whether a knowledge version stands on base rates learned by a mill. */
export const isLearnedVersion = (version: string): boolean => version.includes('+mill-');
