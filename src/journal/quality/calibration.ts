import {
  type BrierScore,
  type Forecast,
  type Interval,
  scoreForecasts,
  shareInterval,
} from '../../statistics/index.js';
import type { Ranked } from '../cases/ranked.js';
import { readInput } from '../input.js';
import { type Journal, read } from '../store.js';
import { type CaseFilter, caseCondition, caseFilterSchema } from './filters.js';
import type { WhichRanking } from './hits.js';

/** Forecasts that lie close together and what came of them. */
export interface ReliabilityBin {
  readonly from: number;
  readonly until: number;
  readonly forecasts: number;
  readonly meanForecast: number;
  readonly happened: number;
  readonly share: number;
  /** Wilson interval of the share. */
  readonly interval: Interval;
}

/** How far the assistant's probabilities can be taken at their word. */
export interface Calibration {
  readonly cases: number;
  readonly forecasts: number;
  /** Mean squared difference between forecasts and what happened. */
  readonly score: number;
  /**
   * Brier score of the binned forecasts with its parts: score = reliability − resolution + uncertainty. It differs from
   * `score` a little, because within a bin all forecasts count as their mean.
   */
  readonly binned: BrierScore;
  /** Five bins of about equal numbers. */
  readonly bins: readonly ReliabilityBin[];
  /** Mean natural logarithm of the probability given to what was confirmed; causes at 0 count as 0.0001. */
  readonly logScore: number;
  /** Too few for a curve: show the counts. */
  readonly few: boolean;
}

/** Below this number of cases a reliability curve is mostly chance. */
const FEW_CASES = 50;
const BINS = 5;
const LEAST_PROBABILITY = 1e-4;

/**
 * Calibration of the kept rankings on confirmed cases.
 * @param over `first`: the first-ranked cause of each case, was it the root cause; `all`: every cause of every ranking
 *   (slower: the rankings themselves are read, most recent cases first, up to `most`)
 * @returns null without confirmed cases that kept a ranking
 */
export async function measureCalibration(
  journal: Journal,
  options: {
    readonly over?: 'first' | 'all';
    readonly which?: WhichRanking;
    readonly filter?: CaseFilter;
    readonly most?: number;
  } = {},
): Promise<Calibration | null> {
  const { over = 'first', which = 'first', most = 2000 } = options;
  const wanted = readInput(caseFilterSchema, options.filter ?? {}, 'filter');
  const cases = await read(journal, (db) => {
    const query = db
      .selectFrom('cases')
      .select(
        which === 'first'
          ? ['id', 'cause', 'first_cause as top', 'first_probability as probability', 'first_given as given']
          : ['id', 'cause', 'last_cause as top', 'last_probability as probability', 'last_given as given'],
      )
      .where('outcome', '=', 'confirmed')
      .where(which === 'first' ? 'first_cause' : 'last_cause', 'is not', null)
      .where(caseCondition(wanted));
    return over === 'first'
      ? query.execute()
      : query.orderBy('opened_at', 'desc').orderBy('id', 'desc').limit(most).execute();
  });
  if (cases.length === 0) return null;
  const forecasts: Forecast[] =
    over === 'first'
      ? cases.map((row) => ({ probability: row.probability ?? 0, happened: row.top === row.cause }))
      : await allForecasts(journal, which, new Map(cases.map((row) => [row.id, row.cause ?? ''])));
  const logScore =
    cases.reduce((sum, row) => sum + Math.log(Math.max(LEAST_PROBABILITY, row.given ?? 0)), 0) / cases.length;
  return {
    cases: cases.length,
    forecasts: forecasts.length,
    ...scoreInBins(forecasts),
    logScore,
    few: cases.length < FEW_CASES,
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

/** Brier score and reliability of forecasts in bins of about equal numbers. 1 or more forecasts. */
export function scoreInBins(forecasts: readonly Forecast[]): Pick<Calibration, 'score' | 'binned' | 'bins'> {
  const sorted = [...forecasts].sort((a, b) => a.probability - b.probability);
  const groups: Forecast[][] = [];
  for (let n = 0, start = 0; n < BINS && start < sorted.length; n++) {
    let end = Math.max(start + 1, Math.round(((n + 1) * sorted.length) / BINS));
    // Equal forecasts stay together.
    while (end < sorted.length && sorted[end]?.probability === sorted[end - 1]?.probability) end++;
    groups.push(sorted.slice(start, end));
    start = end;
  }
  const bins = groups.map((group): ReliabilityBin => {
    const happened = group.filter((one) => one.happened).length;
    return {
      from: group[0]?.probability ?? 0,
      until: group.at(-1)?.probability ?? 1,
      forecasts: group.length,
      meanForecast: group.reduce((sum, one) => sum + one.probability, 0) / group.length,
      happened,
      share: happened / group.length,
      interval: shareInterval(happened, group.length),
    };
  });
  const binned = groups.flatMap((group, n) =>
    group.map((one) => ({
      probability: Math.min(1, Math.max(0, bins[n]?.meanForecast ?? 0)),
      happened: one.happened,
    })),
  );
  return { score: scoreForecasts(forecasts).score, binned: scoreForecasts(binned), bins };
}
