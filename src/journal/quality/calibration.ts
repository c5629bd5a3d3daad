import { sql } from 'kysely';
import type { Forecast } from '../../statistics/index.js';
import type { Ranked } from '../cases/ranked.js';
import { readInput } from '../input.js';
import { type Journal, read } from '../store.js';
import { type CaseFilter, caseCondition, caseFilterSchema, type ReadCaseFilter } from './filters.js';
import { type BinnedScore, type ForecastSums, scoreInBins, sumForecasts } from './forecast-groups.js';
import type { WhichRanking } from './hits.js';

export type { ReliabilityBin } from './forecast-groups.js';

/** How far the assistant's probabilities can be taken at their word. */
export interface Calibration extends BinnedScore {
  readonly cases: number;
  readonly forecasts: number;
  /** Mean natural logarithm of the probability given to what was confirmed; causes at 0 count as 0.0001. */
  readonly logScore: number;
  /** Too few for a curve: show the counts. */
  readonly few: boolean;
}

/** Below this number of cases a reliability curve is mostly chance. */
const FEW_CASES = 50;
const LEAST_PROBABILITY = 1e-4;

interface CalibrationOptions {
  readonly over?: 'first' | 'all';
  readonly which?: WhichRanking;
  readonly filter?: CaseFilter;
  readonly most?: number;
}

/**
 * Calibration of the kept rankings on confirmed cases.
 * @param over `first`: the first-ranked cause of each case, was it the root cause; `all`: every cause of every ranking
 *   (slower: the rankings themselves are read, most recent cases first, up to `most`)
 * @returns null without confirmed cases that kept a ranking
 */
export async function measureCalibration(
  journal: Journal,
  options: CalibrationOptions = {},
): Promise<Calibration | null> {
  const { over = 'first', which = 'first', most = 2000 } = options;
  const wanted = readInput(caseFilterSchema, options.filter ?? {}, 'filter');
  const summed =
    over === 'first' ? await sumFirst(journal, which, wanted) : await sumAll(journal, which, wanted, most);
  if (summed.cases === 0) return null;
  return {
    cases: summed.cases,
    forecasts: summed.groups.reduce((sum, group) => sum + group.n, 0),
    ...scoreInBins(summed.groups),
    logScore: summed.logs / summed.cases,
    few: summed.cases < FEW_CASES,
  };
}

interface Summed {
  readonly cases: number;
  readonly groups: readonly ForecastSums[];
  /** Sum of the logarithms of what was given to the root causes. */
  readonly logs: number;
}

/** The first-ranked causes, summed up by the engine: a thousand rows come back, however many cases there are. */
async function sumFirst(journal: Journal, which: WhichRanking, wanted: ReadCaseFilter): Promise<Summed> {
  const [mille, top, probability, given] =
    which === 'first'
      ? (['first_mille', 'first_cause', 'first_probability', 'first_given'] as const)
      : (['last_mille', 'last_cause', 'last_probability', 'last_given'] as const);
  const p = sql.ref<number>(probability);
  const right = sql`${sql.ref(top)} = cause`;
  const least = sql.lit(LEAST_PROBABILITY);
  const known = sql.ref<number>(given);
  const rows = await read(journal, (db) =>
    db
      .selectFrom('cases')
      .select((eb) => [
        eb.fn.countAll<number>().as('n'),
        sql<number>`sum(case when ${right} then 1 else 0 end)`.as('happened'),
        sql<number>`sum(${p})`.as('sum'),
        sql<number>`sum(${p} * ${p})`.as('squares'),
        sql<number>`sum(case when ${right} then ${p} else 0.0 end)`.as('sumHappened'),
        sql<number>`min(${p})`.as('least'),
        sql<number>`max(${p})`.as('most'),
        sql<number>`sum(case when ${known} > ${least} then ln(${known}) else ln(${least}) end)`.as('logs'),
      ])
      .where('outcome', '=', 'confirmed')
      .where(mille, 'is not', null)
      .where(caseCondition(wanted))
      .groupBy(mille)
      .orderBy(mille)
      .execute(),
  );
  return {
    cases: rows.reduce((sum, row) => sum + row.n, 0),
    groups: rows,
    logs: rows.reduce((sum, row) => sum + row.logs, 0),
  };
}

async function sumAll(
  journal: Journal,
  which: WhichRanking,
  wanted: ReadCaseFilter,
  most: number,
): Promise<Summed> {
  const cases = await read(journal, (db) =>
    db
      .selectFrom('cases')
      .select(['id', 'cause', which === 'first' ? 'first_given as given' : 'last_given as given'])
      .where('outcome', '=', 'confirmed')
      .where(which === 'first' ? 'first_cause' : 'last_cause', 'is not', null)
      .where(caseCondition(wanted))
      .orderBy('opened_at', 'desc')
      .orderBy('id', 'desc')
      .limit(most)
      .execute(),
  );
  const forecasts = await allForecasts(
    journal,
    which,
    new Map(cases.map((row) => [row.id, row.cause ?? ''])),
  );
  return {
    cases: cases.length,
    groups: sumForecasts(forecasts),
    logs: cases.reduce((sum, row) => sum + Math.log(Math.max(LEAST_PROBABILITY, row.given ?? 0)), 0),
  };
}

async function allForecasts(
  journal: Journal,
  which: WhichRanking,
  causeOf: ReadonlyMap<string, string>,
): Promise<Forecast[]> {
  const ids = [...causeOf.keys()];
  const forecasts: Forecast[] = [];
  for (let start = 0; start < ids.length; start += 200) {
    const rows = await read(journal, (db) =>
      db
        .selectFrom('diagnoses')
        .select(['case_id', 'number', 'ranked'])
        .where('case_id', 'in', ids.slice(start, start + 200))
        .orderBy('number', which === 'first' ? 'desc' : 'asc')
        .execute(),
    );
    // The last row of a case wins: the lowest number for the first ranking, the highest for the last.
    const chosen = new Map(rows.map((row) => [row.case_id, row.ranked]));
    for (const [id, ranked] of chosen)
      for (const [cause, probability] of JSON.parse(ranked) as Ranked)
        forecasts.push({ probability, happened: cause === causeOf.get(id) });
  }
  return forecasts;
}
