import { type Interval, shareInterval } from '../../statistics/index.js';
import { readInput } from '../input.js';
import { type Journal, read } from '../store.js';
import { type CaseFilter, caseCondition, caseFilterSchema } from './filters.js';

/** Which kept ranking is judged: the one at opening, or the last before closing. */
export type WhichRanking = 'first' | 'last';

/** How often the assistant was right. */
export interface HitRate {
  /** Confirmed cases with a kept ranking. */
  readonly cases: number;
  /** Cases whose root cause stood first, and among the first three. Shares with Wilson intervals; null without cases. */
  readonly first: { readonly cases: number; readonly share: number; readonly interval: Interval } | null;
  readonly firstThree: { readonly cases: number; readonly share: number; readonly interval: Interval } | null;
  /** Mean of 1/place, 0 where the ranking did not have the cause. */
  readonly meanReciprocalPlace: number | null;
  /** Cases whose root cause the ranking did not have at all. */
  readonly notListed: number;
}

/** How often the first-ranked cause was the confirmed one. @throws JournalInputError */
export async function measureHits(
  journal: Journal,
  which: WhichRanking = 'first',
  filter: CaseFilter = {},
): Promise<HitRate> {
  const wanted = readInput(caseFilterSchema, filter, 'filter');
  const place = which === 'first' ? 'first_place' : 'last_place';
  const rows = await read(journal, (db) =>
    db
      .selectFrom('cases')
      .select(`${place} as place`)
      .select((eb) => eb.fn.countAll<number>().as('cases'))
      .where('outcome', '=', 'confirmed')
      .where(which === 'first' ? 'first_cause' : 'last_cause', 'is not', null)
      .where(caseCondition(wanted))
      .groupBy(place)
      .execute(),
  );
  const cases = rows.reduce((sum, row) => sum + row.cases, 0);
  const upTo = (most: number) => {
    const hits = rows
      .filter((row) => row.place !== null && row.place <= most)
      .reduce((sum, row) => sum + row.cases, 0);
    return cases === 0 ? null : { cases: hits, share: hits / cases, interval: shareInterval(hits, cases) };
  };
  return {
    cases,
    first: upTo(1),
    firstThree: upTo(3),
    meanReciprocalPlace:
      cases === 0
        ? null
        : rows.reduce((sum, row) => sum + (row.place === null ? 0 : row.cases / row.place), 0) / cases,
    notListed: rows.filter((row) => row.place === null).reduce((sum, row) => sum + row.cases, 0),
  };
}
