import type { Interval } from '../../statistics/index.js';
import { type KeptDiagnosis, placeOf, type Ranked, rankedOf } from '../cases/ranked.js';
import { compare, type RankCase, type ReplayedCase } from '../learning/replay-closed-cases.js';
import { type Journal, read } from '../store.js';
import { type SampleSize, sampleClosedCases } from './sample.js';

/** How two versions of the knowledge do on the same closed cases. */
export interface VersionReplay {
  readonly sample: SampleSize;
  /** Closed, confirmed cases there are; those tried may be fewer. */
  readonly closed: number;
  /** Cases tried, newest first. */
  readonly cases: readonly ReplayedCase[];
  /** Ids of cases that the version in use cannot read; they are in no figure. */
  readonly unreadable: readonly string[];
  readonly first: Pair;
  readonly firstThree: Pair;
  /** Mean natural logarithm of the probability given to the confirmed cause, those below 0.0001 as 0.0001; higher is better. */
  readonly logScore: Pair;
  /**
   * Mean over the cases of the sum over all causes of (probability − whether it was the confirmed one)²; lower is
   * better.
   */
  readonly brier: Pair;
  /** 95 % interval of the mean gain in log score (paired t); null below 2 cases. */
  readonly gain: Interval | null;
}
export interface Pair {
  readonly before: number;
  readonly after: number;
}

/** How far a version may fall behind the one in use and still be taken over; both from the judgements. */
export interface Tolerance {
  /** Fall of the mean log score, natural logarithm, from 0. */
  readonly logScore: number;
  /** Fall of the share of cases whose cause stands among the first three, 0–1. */
  readonly firstThree: number;
}

/**
 * Runs closed, confirmed cases, or a sample of them, through two versions of the knowledge. A case that only the new
 * version cannot read counts as one in which it gave the confirmed cause nothing.
 * @param before the version in use
 * @param after the version to judge
 * @param tell called with the number of cases done and to be done, and waited for
 */
export async function replayVersions(
  journal: Journal,
  before: RankCase,
  after: RankCase,
  sample: SampleSize,
  tell: (done: number, of: number) => void | Promise<void> = () => {},
): Promise<VersionReplay> {
  const drawn = await sampleClosedCases(journal, sample);
  const cases: ReplayedCase[] = [];
  const squares: Pair[] = [];
  const unreadable: string[] = [];
  let done = 0;
  await tell(0, drawn.cases.length);
  for (const { id, cause } of drawn.cases) {
    const input = await inputOf(journal, id);
    const old = await before(input);
    if (old === undefined) unreadable.push(id);
    else {
      const ranked = { before: rankedOf(old), after: rankedOrNone(await after(input)) };
      cases.push({
        id,
        cause,
        before: placeOf(ranked.before, cause) ?? null,
        after: placeOf(ranked.after, cause) ?? null,
      });
      squares.push({ before: squareOf(ranked.before, cause), after: squareOf(ranked.after, cause) });
    }
    await tell(++done, drawn.cases.length);
  }
  const { first, firstThree, logScore, gain } = compare(cases);
  return {
    sample,
    closed: drawn.closed,
    cases,
    unreadable,
    first,
    firstThree,
    logScore,
    brier: { before: mean(squares.map((one) => one.before)), after: mean(squares.map((one) => one.after)) },
    gain: gain.interval,
  };
}

async function inputOf(journal: Journal, id: string): Promise<Record<string, unknown>> {
  const row = await read(journal, (db) =>
    db
      .selectFrom('diagnoses')
      .select('input')
      .where('case_id', '=', id)
      .where('number', '=', 1)
      .executeTakeFirstOrThrow(),
  );
  return JSON.parse(row.input) as Record<string, unknown>;
}

const rankedOrNone = (diagnosis: KeptDiagnosis | undefined): Ranked =>
  diagnosis === undefined ? [] : rankedOf(diagnosis);

/** Sum over all causes of (probability − whether it was the confirmed one)²; a cause not ranked had probability 0. */
function squareOf(ranked: Ranked, cause: string): number {
  const known = ranked.some(([id]) => id === cause);
  return ranked.reduce(
    (sum, [id, probability]) => sum + (probability - (id === cause ? 1 : 0)) ** 2,
    known ? 0 : 1,
  );
}

const mean = (values: readonly number[]) =>
  values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;

/**
 * Why a version should not be used without somebody looking; empty when it is no worse than the tolerance lets pass.
 * The cases are the same for both, so the fall on them is no matter of chance, whatever it says about cases to come.
 */
export function whyHeld(
  replay: Pick<VersionReplay, 'logScore' | 'firstThree'> & { readonly cases: readonly unknown[] },
  tolerance: Tolerance,
): string[] {
  const n = replay.cases.length;
  if (n === 0) return [];
  const fall = replay.logScore.before - replay.logScore.after;
  const share = (replay.firstThree.before - replay.firstThree.after) / n;
  return [
    ...(fall > tolerance.logScore
      ? [
          `the mean log score falls by ${fall.toFixed(3)}, more than the ${tolerance.logScore} that are let pass`,
        ]
      : []),
    ...(share > tolerance.firstThree
      ? [
          `the confirmed cause stands among the first three in ${replay.firstThree.after} instead of ${replay.firstThree.before} of ${n} cases, a fall of more than ${100 * tolerance.firstThree} in a hundred`,
        ]
      : []),
  ];
}

/** Least fall in natural logarithm that counts a case as worse though its place is the same: a tenth less likely. */
const NOTABLE = 0.1;
const LEAST_PROBABILITY = 1e-4;
const logOf = (place: ReplayedCase['before']) =>
  Math.log(Math.max(LEAST_PROBABILITY, place?.probability ?? 0));

/** Cases in which the confirmed cause lost a place or a tenth of its probability, worst first. */
export function casesThatGotWorse(cases: readonly ReplayedCase[]): ReplayedCase[] {
  const loss = (one: ReplayedCase) => logOf(one.before) - logOf(one.after);
  const place = (found: ReplayedCase['before']) => found?.place ?? Number.POSITIVE_INFINITY;
  return cases
    .filter((one) => place(one.after) > place(one.before) || loss(one) > NOTABLE)
    .sort((a, b) => loss(b) - loss(a) || a.id.localeCompare(b.id, 'en', { numeric: true }));
}
