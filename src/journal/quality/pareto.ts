import { type Interval, poissonInterval, shareInterval } from '../../statistics/index.js';
import { readInput } from '../input.js';
import { type Journal, read } from '../store.js';
import { type CaseFilter, caseCondition, caseFilterSchema } from './filters.js';
import { costInterval } from './sum-interval.js';

/** What causes are ranked by. */
export type ParetoMeasure = 'number' | 'rotor-hours' | 'minutes' | 'waste';

const COLUMN = { 'rotor-hours': 'rotor_hours', minutes: 'minutes', waste: 'waste_kg' } as const;

/** One bar. */
export interface ParetoRow {
  readonly cause: string;
  readonly cases: number;
  /** In the measure's unit: cases, rotor-hours, minutes or kg. */
  readonly value: number;
  /** 95 % interval of what a period like this would bring; null where nothing is known. */
  readonly interval: Interval | null;
  /** Share of the whole and shares up to and with this bar. */
  readonly share: number;
  readonly cumulative: number;
  /** Wilson interval of the share; only for numbers of cases. */
  readonly shareInterval: Interval | null;
}

export interface Pareto {
  readonly by: ParetoMeasure;
  readonly rows: readonly ParetoRow[];
  readonly cases: number;
  readonly total: number;
  /** Closed cases of the filter that have no confirmed cause: they are in no bar. */
  readonly suspected: number;
  readonly notFound: number;
}

/**
 * Confirmed root causes ranked by number of cases, lost rotor-hours, working minutes or waste, each with an interval:
 * Garwood's for numbers, the weighted-sum interval for costs.
 * @throws JournalInputError
 */
export async function rankRootCauses(
  journal: Journal,
  by: ParetoMeasure = 'number',
  filter: CaseFilter = {},
): Promise<Pareto> {
  const wanted = readInput(caseFilterSchema, filter, 'filter');
  const rows = await read(journal, (db) => {
    const column = by === 'number' ? undefined : COLUMN[by];
    return db
      .selectFrom('cases')
      .select((eb) => {
        // Every case has minutes. Counting them has PostgreSQL read the index that is in the order of the groups, where it
        // would else read the smallest, in no order, in three times the time.
        const number = eb.fn.count<number>('minutes');
        return [
          'outcome',
          'cause',
          number.as('cases'),
          (column === undefined ? number : eb.fn.sum<number>(column)).as('sum'),
          (column === undefined ? number : eb.fn.sum<number>(eb(column, '*', eb.ref(column)))).as('squares'),
          (column === undefined ? eb.lit(1) : eb.fn.max<number>(column)).as('largest'),
        ];
      })
      .where('outcome', 'is not', null)
      .where(caseCondition(wanted))
      .groupBy(['outcome', 'cause'])
      .execute();
  });
  const confirmed = rows
    .filter((row): row is typeof row & { cause: string } => row.outcome === 'confirmed' && row.cause !== null)
    .sort((a, b) => b.sum - a.sum || b.cases - a.cases || (a.cause < b.cause ? -1 : 1));
  const total = confirmed.reduce((sum, row) => sum + row.sum, 0);
  const cases = confirmed.reduce((sum, row) => sum + row.cases, 0);
  const countOf = (outcome: string) =>
    rows.filter((row) => row.outcome === outcome).reduce((sum, row) => sum + row.cases, 0);
  let running = 0;
  return {
    by,
    rows: confirmed.map((row) => {
      running += row.sum;
      return {
        cause: row.cause,
        cases: row.cases,
        value: row.sum,
        interval:
          by === 'number'
            ? poissonInterval(row.cases)
            : costInterval({ sum: row.sum, sumOfSquares: row.squares, largest: row.largest }),
        share: total === 0 ? 0 : row.sum / total,
        cumulative: total === 0 ? 0 : running / total,
        shareInterval: by === 'number' ? shareInterval(row.cases, cases) : null,
      };
    }),
    cases,
    total,
    suspected: countOf('suspected'),
    notFound: countOf('not-found'),
  };
}

/** What all cases of a filter with a confirmed cause cost together. @throws JournalInputError */
export async function sumCaseCosts(
  journal: Journal,
  filter: CaseFilter = {},
): Promise<{ readonly minutes: number; readonly rotorHours: number; readonly wasteKg: number }> {
  const wanted = readInput(caseFilterSchema, filter, 'filter');
  const sums = await read(journal, (db) =>
    db
      .selectFrom('cases')
      .select((eb) => [
        eb.fn.sum<number | null>('minutes').as('minutes'),
        eb.fn.sum<number | null>('rotor_hours').as('rotorHours'),
        eb.fn.sum<number | null>('waste_kg').as('wasteKg'),
      ])
      .where('outcome', '=', 'confirmed')
      .where('cause', 'is not', null)
      .where(caseCondition(wanted))
      .executeTakeFirstOrThrow(),
  );
  return { minutes: sums.minutes ?? 0, rotorHours: sums.rotorHours ?? 0, wasteKg: sums.wasteKg ?? 0 };
}
