import { logBeta, logGamma } from '../../statistics/distributions.js';
import { gammaQuantile } from '../../statistics/incomplete-gamma.js';
import { type Interval, StatisticsError } from '../../statistics/index.js';
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
  /** Cases that the expert's word is worth for each family of causes; default 20. */
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
  /** 95 % interval of the learned rate, the rates of the other causes taken as known. */
  readonly interval: Interval;
  /** Cases in which it was found or checked, and those in which it was found; as counted, aged weights aside. */
  readonly cases: number;
  readonly found: number;
  /**
   * Chance of a number of proved cases as unlikely as this or more so, if the expert's rates and their weight were
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
 * Base rates learned from closed cases, on top of the expert's.
 *
 * A closed case tells which of the causes that were looked at was the one: those found, and those one of whose checks
 * was made. So the shares of the causes have a Dirichlet belief worth `expertCases` for each family at the expert's
 * rates, and a case weighs in by the chance of what was found among what was looked at. Then a cause that was found
 * gains, one that was checked in vain loses, and one that was never checked keeps its rate exactly. A case in which
 * nothing but the cause found was looked at moves nothing, since it holds nothing against anything. The sum of all
 * rates stays the expert's: cases are closed when one cause is found and cannot tell how many there were.
 *
 * Proved causes count 1, a symptom that went away without proof 0.3, anything else 0; old cases count less by a fixed
 * factor a month (power prior). No file is touched: the result stands beside the expert's rates.
 * @throws StatisticsError for a rate outside (0, 1)
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
  const { expertCases = 20, keptPerMonth = 0.97, at = presentInstant() } = options;
  for (const { id, base } of expert) requireShare(`expert ${id}.base`, base);
  if (!(expertCases > 0)) throw new StatisticsError('expertCases', expertCases, 'more than 0');
  const total = expert.reduce((sum, cause) => sum + cause.base, 0);
  const worth = expertCases * new Set(expert.map((cause) => cause.family)).size;
  const shares = expert.map((cause) => cause.base / total);
  const groups = gather(cases, expert, (one) => caseWeight(one, at, keptPerMonth));
  const found = expert.map((_, c) =>
    groups.reduce((sum, group) => sum + (group.found.includes(c) ? group.weight : 0), 0),
  );
  const { learned, stake } = solve(shares, worth, groups, found);
  return expert.map((cause, c) => {
    const within = groups.filter((group) => group.looked.includes(c));
    const proved = within.reduce((sum, group) => sum + group.proved, 0);
    const provedHere = within.reduce((sum, group) => sum + (group.found.includes(c) ? group.proved : 0), 0);
    const looked = within.reduce(
      (sum, group) => sum + group.proved * group.looked.reduce((part, one) => part + (shares[one] ?? 0), 0),
      0,
    );
    const share = shares[c] ?? 0;
    const meanLooked = proved === 0 ? 1 : looked / proved;
    const shape = worth * share + (found[c] ?? 0);
    const rate = worth + (stake[c] ?? 0);
    return {
      causeId: cause.id,
      expert: cause.base,
      learned: asRate(total * (learned[c] ?? share)),
      interval: {
        lower: asRate((total * gammaQuantile(shape, 0.025)) / rate),
        upper: asRate((total * gammaQuantile(shape, 0.975)) / rate),
        confidence: 0.95,
      },
      cases: within.reduce((sum, group) => sum + group.cases, 0),
      found: within.reduce((sum, group) => sum + (group.found.includes(c) ? group.cases : 0), 0),
      agreement: agreement(provedHere, proved, worth * share, worth * Math.max(1e-9, meanLooked - share)),
    };
  });
}

/** Rates are probabilities; one that would reach 1 stops short of it. */
const asRate = (rate: number): number => Math.min(0.99, rate);

function requireShare(field: string, value: number): void {
  if (!(value > 0 && value < 1)) throw new StatisticsError(field, value, 'between 0 and 1, both excluded');
}

/** Closed cases in which the same causes were looked at and found; causes by their place in the expert's list. */
interface CaseGroup {
  readonly looked: readonly number[];
  readonly found: readonly number[];
  weight: number;
  cases: number;
  proved: number;
}

function gather(
  cases: readonly ClosedCase[],
  expert: readonly ExpertCause[],
  weightOf: (one: ClosedCase) => number,
): CaseGroup[] {
  const place = new Map(expert.map((cause, c) => [cause.id, c]));
  const byCheck = new Map<string, number[]>();
  expert.forEach((cause, c) => {
    for (const check of cause.checks) byCheck.set(check, [...(byCheck.get(check) ?? []), c]);
  });
  const groups = new Map<string, CaseGroup>();
  for (const one of cases) {
    const weight = weightOf(one);
    const found = one.causes.map((id) => place.get(id)).filter((c) => c !== undefined);
    if (weight <= 0 || found.length === 0) continue;
    const looked = [...new Set([...found, ...one.checks.flatMap((check) => byCheck.get(check) ?? [])])];
    const key = `${[...found].sort((a, b) => a - b).join()};${looked.sort((a, b) => a - b).join()}`;
    const group = groups.get(key) ?? { looked, found, weight: 0, cases: 0, proved: 0 };
    group.weight += weight;
    group.cases++;
    group.proved += one.how === 'unconfirmed' ? 0 : 1;
    groups.set(key, group);
  }
  return [...groups.values()];
}

/**
 * The most likely shares under the Dirichlet belief and the cases: share = (worth × expert's share + found) / (worth +
 * stake), where a cause's stake is the sum over the cases in which it was looked at of weight / share of all that was
 * looked at. Solved by repeating; each round raises the likelihood (Hunter 2004, from memory).
 */
function solve(
  shares: readonly number[],
  worth: number,
  groups: readonly CaseGroup[],
  found: readonly number[],
): { readonly learned: readonly number[]; readonly stake: readonly number[] } {
  let learned = [...shares];
  for (let round = 0; ; round++) {
    const stake = shares.map(() => 0);
    for (const { looked, weight, found: causes } of groups) {
      const sum = looked.reduce((part, c) => part + (learned[c] ?? 0), 0);
      for (const c of looked) stake[c] = (stake[c] ?? 0) + (weight * causes.length) / sum;
    }
    const next = shares.map((share, c) => (worth * share + (found[c] ?? 0)) / (worth + (stake[c] ?? 0)));
    const change = Math.max(0, ...next.map((value, c) => Math.abs(value - (learned[c] ?? 0))));
    learned = next;
    if (change < 1e-12 || round >= 2000) return { learned, stake };
  }
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
