import { say } from '../../language/say.js';
import { type AnalysisOptions, analyseCounts, type CountAnalysis } from '../../statistics/analysis/index.js';
import { StatisticsError } from '../../statistics/errors.js';
import { type BadRows, readTable, type TableMapping } from '../../statistics/tables/index.js';

/** A table of breaks with what its columns mean: what is to be said of it? */
export interface TableQuestion {
  readonly bytes: Uint8Array;
  readonly mapping: TableMapping;
  readonly leaveOut: boolean;
  readonly without: readonly string[];
  readonly options: AnalysisOptions;
}

/** Nothing was imported, or the table cannot be analysed. */
export interface TableRefusal {
  readonly problem: string;
  readonly bad: BadRows;
}

export type TableJudgement = CountAnalysis | TableRefusal;

/** Reads a whole table and analyses it: seconds of work for the largest ones. */
export async function judgeTable(question: TableQuestion): Promise<TableJudgement> {
  const reading = await readTable(question.bytes, question.mapping, {
    leaveOutBadRows: question.leaveOut,
    withoutReasons: question.without,
  });
  if (!reading.ok) return { problem: reading.problem, bad: reading.badRows };
  try {
    return analyseCounts(reading.table, question.options);
  } catch (error) {
    if (!(error instanceof StatisticsError)) throw error;
    return {
      problem: say('counts.allowed-is', { field: error.field, allowed: error.allowed }),
      bad: { total: 0, listed: [] },
    };
  }
}
