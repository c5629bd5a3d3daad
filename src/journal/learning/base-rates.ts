import { logBeta, logGamma } from '../../statistics/distributions.js';
import { beliefFromShare, type Interval, summariseBelief, updateBelief } from '../../statistics/index.js';
import type { Journal } from '../store.js';
import { presentInstant } from '../time.js';
import { type ClosedCase, loadClosedCases } from './confirmed-cases.js';

/** What the expert says of a cause: its base rate, and the checks that could have found it. */
export interface ExpertCause {
  readonly id: string;
  readonly family: string;
  /** Probability of the cause in a frame in trouble, strictly between 0 and 1. */
  readonly base: number;
  readonly checks: readonly string[];
}

export interface LearningOptions {
  /** Cases that the expert's rate is worth, by family; others `expertCases`. */
  readonly expertCasesByFamily?: Readonly<Record<string, number>>;
  /** Default 20. */
  readonly expertCases?: number;
  /** What a case still counts after a month, 0–1; default 0.97. */
  readonly keptPerMonth?: number;
  /** The day from which age counts; default now. */
  readonly at?: string;
  /** Only cases closed from here on. */
  readonly from?: string;
}

/** A cause's rate as the expert has it and as this mill's cases have moved it, side by side. */
export interface LearnedRate {
  readonly causeId: string;
  readonly expert: number;
  readonly learned: number;
  /** 95 % interval of the learned rate. */
  readonly interval: Interval;
  /** Cases in which it was confirmed or checked, and those in which it was confirmed; as counted, aged weights aside. */
  readonly cases: number;
  readonly confirmed: number;
  /** What those cases weigh together. */
  readonly weight: number;
  readonly expertCases: number;
  /**
   * Chance of a number of confirmed cases as unlikely as this or more so, if the expert's rate and its weight were
   * right. Small: the mill and the expert disagree; have somebody look before the learned rate is used.
   */
  readonly agreement: number;
}

/** What a way of closing counts for: a repair proved by a trial, by the part or by the eye is a case, a symptom that went away without proof a third. */
const WEIGHT = { confirmed: 1, symptomGone: 0.3, unconfirmed: 0 } as const;

/** Mean length of a month, ms. */
const MONTH = 30.436875 * 86_400_000;

/** What a closed case counts for. */
export function caseWeight(
  closed: Pick<ClosedCase, 'how' | 'symptomGone' | 'closedAt'>,
  at: string,
  keptPerMonth: number,
): number {
  const proof =
    closed.how !== 'unconfirmed'
      ? WEIGHT.confirmed
      : closed.symptomGone
        ? WEIGHT.symptomGone
        : WEIGHT.unconfirmed;
  const months = Math.max(0, (Date.parse(at) - Date.parse(closed.closedAt)) / MONTH);
  return proof * keptPerMonth ** months;
}

/**
 * Base rates learned from closed cases, on top of the expert's. Each cause has a beta belief worth `expertCases` at the
 * expert's rate. A case counts for a cause when it was found there, against it when one of its checks was made and
 * something else was found; a cause that was not checked loses nothing. Old cases count less by a fixed factor a month
 * (power prior). Nothing is learned from unconfirmed causes, except a little where the symptom went away. No file is
 * touched: the result stands beside the expert's rates.
 *
 * Causes are independent in the network, so each has a belief of its own; shares that add up to one would be wrong.
 * @throws StatisticsError for a rate outside (0, 1) or a weight that is not positive
 */
export async function learnBaseRates(
  journal: Journal,
  expert: readonly ExpertCause[],
  options: LearningOptions = {},
): Promise<LearnedRate[]> {
  const cases = await loadClosedCases(journal, options.from === undefined ? {} : { from: options.from });
  return learnFrom(cases, expert, options);
}

/** The arithmetic of {@link learnBaseRates}, on cases at hand. */
export function learnFrom(
  cases: readonly ClosedCase[],
  expert: readonly ExpertCause[],
  options: LearningOptions = {},
): LearnedRate[] {
  const { expertCases = 20, expertCasesByFamily = {}, keptPerMonth = 0.97, at = presentInstant() } = options;
  const weighed = cases
    .map((one) => ({
      weight: caseWeight(one, at, keptPerMonth),
      causes: new Set(one.causes),
      checks: new Set(one.checks),
      proved: one.how !== 'unconfirmed',
    }))
    .filter((one) => one.weight > 0);
  return expert.map((cause) => {
    let yes = 0;
    let no = 0;
    let confirmed = 0;
    let provedCases = 0;
    let cases = 0;
    for (const one of weighed) {
      const found = one.causes.has(cause.id);
      if (!found && !cause.checks.some((check) => one.checks.has(check))) continue;
      cases++;
      if (found) yes += one.weight;
      else no += one.weight;
      if (one.proved) provedCases++;
      if (one.proved && found) confirmed++;
    }
    const worth = expertCasesByFamily[cause.family] ?? expertCases;
    const start = beliefFromShare(cause.base, worth);
    const { mean, interval } = summariseBelief(updateBelief(start, yes, no));
    return {
      causeId: cause.id,
      expert: cause.base,
      learned: mean,
      interval,
      cases,
      confirmed,
      weight: yes + no,
      expertCases: worth,
      agreement: agreement(confirmed, provedCases, start.yes, start.no),
    };
  });
}

/** Two-sided prior-predictive probability of `found` of `n` under a beta-binomial: all outcomes no likelier than it. */
function agreement(found: number, n: number, yes: number, no: number): number {
  if (n === 0) return 1;
  const logChance = (k: number) =>
    logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1) + logBeta(k + yes, n - k + no) - logBeta(yes, no);
  const seen = logChance(found);
  let sum = 0;
  for (let k = 0; k <= n; k++) {
    const log = logChance(k);
    if (log <= seen + 1e-9) sum += Math.exp(log);
  }
  return Math.min(1, sum);
}
