import { readInput } from '../input.js';
import { type Journal, read } from '../store.js';
import { type CaseFilter, caseCondition, caseFilterSchema } from './filters.js';

/** The middle of a list of times and how far they spread, in minutes. */
export interface Spread {
  readonly cases: number;
  readonly lowerQuartile: number;
  readonly median: number;
  readonly upperQuartile: number;
}

/** Time from opening a case to knowing its cause, and to running well; null without such cases. */
export interface Durations {
  readonly find: Spread | null;
  readonly fix: Spread | null;
}

/** Times to find and to fix of the closed cases in which a cause was found or suspected. @throws JournalInputError */
export async function measureDurations(journal: Journal, filter: CaseFilter = {}): Promise<Durations> {
  const wanted = readInput(caseFilterSchema, filter, 'filter');
  const rows = await read(journal, (db) =>
    db
      .selectFrom('cases')
      .select(['find_minutes', 'fix_minutes'])
      .where('outcome', 'in', ['confirmed', 'suspected'])
      .where(caseCondition(wanted))
      .execute(),
  );
  const present = (values: readonly (number | null)[]) => values.filter((value) => value !== null);
  return {
    find: spreadOf(present(rows.map((row) => row.find_minutes))),
    fix: spreadOf(present(rows.map((row) => row.fix_minutes))),
  };
}

/** Median and quartiles, values between two neighbours taken in proportion; null for an empty list. */
export function spreadOf(values: readonly number[]): Spread | null {
  if (values.length === 0) return null;
  const sorted = Float64Array.from(values).sort();
  const at = (share: number): number => {
    const place = share * (sorted.length - 1);
    const low = sorted[Math.floor(place)] ?? 0;
    const high = sorted[Math.ceil(place)] ?? low;
    return low + (high - low) * (place - Math.floor(place));
  };
  return { cases: values.length, lowerQuartile: at(0.25), median: at(0.5), upperQuartile: at(0.75) };
}
