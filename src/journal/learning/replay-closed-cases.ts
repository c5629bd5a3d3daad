import { binomialAtMost, studentCritical, studentTail } from '../../statistics/distributions.js';
import type { Interval } from '../../statistics/index.js';
import { type KeptDiagnosis, placeOf, type Ranked, rankedOf } from '../cases/ranked.js';
import { readInstant } from '../input.js';
import { type Journal, read } from '../store.js';

/** Ranks a case file with some version of the knowledge; undefined when that version cannot read the case. */
export type RankCase = (input: Readonly<Record<string, unknown>>) => Promise<KeptDiagnosis | undefined>;

/** One closed case under two versions of the knowledge. */
export interface ReplayedCase {
  readonly id: string;
  readonly cause: string;
  /** Place and probability of the confirmed cause; null where the ranking does not have it. */
  readonly before: { readonly place: number; readonly probability: number } | null;
  readonly after: { readonly place: number; readonly probability: number } | null;
}

/** How two versions of the knowledge do on the same closed cases. */
export interface Replay {
  readonly versions: { readonly before: readonly string[]; readonly after: readonly string[] };
  readonly cases: readonly ReplayedCase[];
  /** Ids of cases that a version could not read; they are in no figure. */
  readonly unreadable: readonly string[];
  /** Mean natural logarithm of the probability given to the confirmed cause; higher is better. */
  readonly logScore: { readonly before: number; readonly after: number };
  /** Mean gain in log score with its 95 % interval (paired t); null below 2 cases. */
  readonly gain: { readonly mean: number; readonly interval: Interval | null };
  readonly first: { readonly before: number; readonly after: number };
  readonly firstThree: { readonly before: number; readonly after: number };
  /** Exact McNemar p for a difference in first places, two-sided. */
  readonly firstP: number;
  /** `worse`: the log score dropped beyond noise, so the version should not be used as it is. */
  readonly verdict: 'better' | 'no-difference-shown' | 'worse' | 'no-cases';
}

/** What a probability of 0 counts as: one in ten thousand. */
const LEAST_PROBABILITY = 1e-4;

/**
 * Runs closed, confirmed cases through a version of the knowledge and holds it against another one, or (left out)
 * against the ranking that was kept when the case was opened.
 * @param rank the version to judge
 */
export async function replayClosedCases(
  journal: Journal,
  rank: RankCase,
  options: {
    readonly against?: RankCase;
    readonly from?: string;
    readonly until?: string;
    /** Most cases, newest first; default 1000. */
    readonly most?: number;
  } = {},
): Promise<Replay> {
  const rows = await read(journal, (db) => {
    let query = db
      .selectFrom('cases')
      .innerJoin('diagnoses', 'diagnoses.case_id', 'cases.id')
      .select(['cases.id as id', 'cases.cause as cause'])
      .where('diagnoses.number', '=', 1)
      .where('cases.outcome', '=', 'confirmed');
    if (options.from !== undefined)
      query = query.where('cases.closed_at', '>=', readInstant('from', options.from));
    if (options.until !== undefined)
      query = query.where('cases.closed_at', '<', readInstant('until', options.until));
    return query
      .orderBy('cases.closed_at', 'desc')
      .orderBy('cases.id', 'desc')
      .limit(options.most ?? 1000)
      .execute();
  });
  const cases: ReplayedCase[] = [];
  const unreadable: string[] = [];
  const before = new Set<string>();
  const after = new Set<string>();
  for (const { id, cause } of rows) {
    const kept = await read(journal, (db) =>
      db
        .selectFrom('diagnoses')
        .select(['input', 'ranked', 'knowledge_version'])
        .where('case_id', '=', id)
        .where('number', '=', 1)
        .executeTakeFirstOrThrow(),
    );
    const input = JSON.parse(kept.input) as Record<string, unknown>;
    const now = await rank(input);
    const then =
      options.against === undefined
        ? { version: kept.knowledge_version, ranked: JSON.parse(kept.ranked) as Ranked }
        : await ranking(options.against, input);
    if (now === undefined || then === undefined || cause === null) {
      unreadable.push(id);
      continue;
    }
    before.add(then.version);
    after.add(now.knowledgeVersion);
    cases.push({
      id,
      cause,
      before: placeOf(then.ranked, cause) ?? null,
      after: placeOf(rankedOf(now), cause) ?? null,
    });
  }
  return { versions: { before: [...before], after: [...after] }, cases, unreadable, ...compare(cases) };
}

async function ranking(
  rank: RankCase,
  input: Readonly<Record<string, unknown>>,
): Promise<{ readonly version: string; readonly ranked: Ranked } | undefined> {
  const diagnosis = await rank(input);
  return diagnosis === undefined
    ? undefined
    : { version: diagnosis.knowledgeVersion, ranked: rankedOf(diagnosis) };
}

type Place = ReplayedCase['before'];
const logOf = (place: Place) => Math.log(Math.max(LEAST_PROBABILITY, place?.probability ?? 0));
const mean = (values: readonly number[]) =>
  values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;

/** The figures of a replay, from its cases. */
export function compare(
  cases: readonly ReplayedCase[],
): Pick<Replay, 'logScore' | 'gain' | 'first' | 'firstThree' | 'firstP' | 'verdict'> {
  const upTo = (which: 'before' | 'after', most: number) =>
    cases.filter((one) => (one[which]?.place ?? Number.POSITIVE_INFINITY) <= most).length;
  const gains = cases.map((one) => logOf(one.after) - logOf(one.before));
  const gained = cases.filter((one) => one.after?.place === 1 && one.before?.place !== 1).length;
  const lost = cases.filter((one) => one.before?.place === 1 && one.after?.place !== 1).length;
  const { interval, p } = pairedInterval(gains);
  const gain = mean(gains);
  return {
    logScore: {
      before: mean(cases.map((one) => logOf(one.before))),
      after: mean(cases.map((one) => logOf(one.after))),
    },
    gain: { mean: gain, interval },
    first: { before: upTo('before', 1), after: upTo('after', 1) },
    firstThree: { before: upTo('before', 3), after: upTo('after', 3) },
    firstP: Math.min(1, 2 * binomialAtMost(Math.min(gained, lost), gained + lost, 0.5)),
    verdict:
      cases.length === 0
        ? 'no-cases'
        : p !== undefined && p < 0.025
          ? gain > 0
            ? 'better'
            : 'worse'
          : 'no-difference-shown',
  };
}

function pairedInterval(values: readonly number[]): {
  readonly interval: Interval | null;
  readonly p: number | undefined;
} {
  if (values.length < 2) return { interval: null, p: undefined };
  const centre = mean(values);
  const variance = values.reduce((sum, value) => sum + (value - centre) ** 2, 0) / (values.length - 1);
  const error = Math.sqrt(variance / values.length);
  const degrees = values.length - 1;
  const half = studentCritical(0.025, degrees) * error;
  return {
    interval: { lower: centre - half, upper: centre + half, confidence: 0.95 },
    p: error === 0 ? (centre === 0 ? 0.5 : 0) : studentTail(Math.abs(centre) / error, degrees),
  };
}
