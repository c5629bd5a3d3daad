import { type Kysely, sql } from 'kysely';
import { readInput } from '../input.js';
import { type Journal, read, storeOf } from '../store.js';
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
  const { engine } = storeOf(journal);
  return read(journal, async (db) => {
    const spread = engine === 'postgresql' ? spreadOfEngine : spreadByWalking;
    const [find, fix] = await Promise.all([
      spread(db, 'find_minutes', wanted),
      spread(db, 'fix_minutes', wanted),
    ]);
    return { find, fix };
  });
}

type Column = 'find_minutes' | 'fix_minutes';

/** Quartiles of a column, which only closed cases with a cause have, by PostgreSQL's own function, in one pass. */
async function spreadOfEngine(
  db: Kysely<Tables>,
  column: Column,
  wanted: ReadCaseFilter,
): Promise<Spread | null> {
  const { cases, quartiles } = await db
    .selectFrom('cases')
    .select((eb) => [
      eb.fn.countAll<number>().as('cases'),
      sql<
        [number, number, number]
      >`percentile_cont(array[0.25, 0.5, 0.75]) within group (order by ${sql.ref(column)})`.as('quartiles'),
    ])
    .where(column, 'is not', null)
    .where(caseCondition(wanted))
    .executeTakeFirstOrThrow();
  if (cases === 0) return null;
  const [lowerQuartile, median, upperQuartile] = quartiles;
  return { cases, lowerQuartile, median, upperQuartile };
}

/** The same where the engine has no such function: it walks its index to the places in question, and nothing is read in. */
async function spreadByWalking(
  db: Kysely<Tables>,
  column: Column,
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
    const high = Math.ceil(place);
    // From the nearer end.
    const rising = share <= 0.5;
    const found = await present()
      .select(`${column} as minutes`)
      .orderBy(column, rising ? 'asc' : 'desc')
      .limit(high - low + 1)
      .offset(rising ? low : cases - 1 - high)
      .execute();
    const minutes = found.map((row) => row.minutes ?? 0);
    const [first = 0, second = first] = rising ? minutes : minutes.reverse();
    return first + (second - first) * (place - low);
  };
  return { cases, lowerQuartile: await at(0.25), median: await at(0.5), upperQuartile: await at(0.75) };
}
