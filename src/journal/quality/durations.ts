import type { Kysely } from 'kysely';
import { readInput } from '../input.js';
import { type Journal, read } from '../store.js';
import type { Tables } from '../tables.js';
import { type CaseFilter, caseCondition, caseFilterSchema, type ReadCaseFilter } from './filters.js';

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
  return read(journal, async (db) => ({
    find: await spreadIn(db, 'find_minutes', wanted),
    fix: await spreadIn(db, 'fix_minutes', wanted),
  }));
}

/**
 * The quartiles of a column, which only closed cases with a cause have. Exact: the engine walks its index to the places in question, and nothing is read in.
 */
async function spreadIn(
  db: Kysely<Tables>,
  column: 'find_minutes' | 'fix_minutes',
  wanted: ReadCaseFilter,
): Promise<Spread | null> {
  const present = () => db.selectFrom('cases').where(column, 'is not', null).where(caseCondition(wanted));
  const { cases } = await present()
    .select((eb) => eb.fn.countAll<number>().as('cases'))
    .executeTakeFirstOrThrow();
  if (cases === 0) return null;
  const at = async (share: number): Promise<number> => {
    const place = share * (cases - 1);
    const low = Math.floor(place);
    const rows = await present()
      .select(`${column} as minutes`)
      .orderBy(column)
      .limit(2)
      .offset(low)
      .execute();
    const first = rows[0]?.minutes ?? 0;
    return first + ((rows[1]?.minutes ?? first) - first) * (place - low);
  };
  return { cases, lowerQuartile: await at(0.25), median: await at(0.5), upperQuartile: await at(0.75) };
}
