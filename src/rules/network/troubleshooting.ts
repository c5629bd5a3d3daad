/**
 * Expected cost of repair, and the worth of a question: arithmetic on probabilities that come from elsewhere. Costs are
 * in any one unit (minutes). Sources: Kadane & Simon 1977; Heckerman, Breese & Rommelse 1995; Jensen et al. 2001.
 */

/** An action against one fault. */
export interface Repair {
  /** P(its fault is the one), in [0, 1]. */
  readonly probability: number;
  /** Cost of trying it, paid whenever it is tried. Above 0. */
  readonly cost: number;
  /** P(it cures | its fault is the one); 1 unless given. */
  readonly success?: number;
  /** Cost paid only when the look finds the fault (observe first, then repair); 0 unless given. */
  readonly repairCost?: number;
}

function check(value: number, low: number, high: number, what: string): void {
  if (!(value >= low && value <= high))
    throw new RangeError(`${what} must lie in [${low}, ${high}], not ${value}`);
}

function checkRepair(repair: Repair): void {
  check(repair.probability, 0, 1, 'the probability of a repair');
  check(repair.success ?? 1, 0, 1, 'the success of a repair');
  check(repair.repairCost ?? 0, 0, Number.MAX_VALUE, 'the repair cost');
  check(repair.cost, Number.MIN_VALUE, Number.MAX_VALUE, 'the cost of a repair');
}

function cures(repair: Repair): number {
  return repair.probability * (repair.success ?? 1);
}

/**
 * Expected cost of trying repairs in this order until one works: Σ cost · P(still broken before it), with the service
 * call (default 0) for what is left. One fault at a time; each repair cures its own fault only.
 */
export function expectedCostOfRepair(sequence: readonly Repair[], serviceCost = 0): number {
  check(serviceCost, 0, Number.MAX_VALUE, 'the service cost');
  let broken = 1;
  let total = 0;
  for (const repair of sequence) {
    checkRepair(repair);
    total += broken * repair.cost + repair.probability * (repair.repairCost ?? 0);
    broken -= cures(repair);
  }
  if (broken < -1e-9) throw new RangeError(`the probabilities of the repairs sum to ${1 - broken}, above 1`);
  return total + Math.max(0, broken) * serviceCost;
}

/**
 * Order of the repairs (their indices) by falling chance of cure for the cost of trying. Optimal for one fault, repairs
 * that share none, constant costs and results seen at once. Ties keep their order.
 */
export function orderByRatio(repairs: readonly Repair[]): number[] {
  for (const repair of repairs) checkRepair(repair);
  const ratio = (i: number): number => cures(repairs[i] as Repair) / (repairs[i] as Repair).cost;
  return repairs.map((_, i) => i).sort((a, b) => ratio(b) - ratio(a) || a - b);
}

/** A sequence of actions, by index, and its expected cost. */
export interface RepairPlan {
  readonly order: readonly number[];
  readonly expectedCost: number;
}

/**
 * The best place to stop trying and call service: all prefixes of the order by ratio, the empty one (service at once)
 * among them. The shortest of equally cheap ones.
 */
export function planWithService(repairs: readonly Repair[], serviceCost: number): RepairPlan {
  const order = orderByRatio(repairs);
  let best: RepairPlan = { order: [], expectedCost: expectedCostOfRepair([], serviceCost) };
  for (let length = 1; length <= order.length; length++) {
    const prefix = order.slice(0, length);
    const expectedCost = expectedCostOfRepair(
      prefix.map((i) => repairs[i] as Repair),
      serviceCost,
    );
    if (expectedCost < best.expectedCost - 1e-12) best = { order: prefix, expectedCost };
  }
  return best;
}

/** Actions that may cure several faults, and share the cost of access. */
export interface RepairProblem {
  /** P(fault), one fault at a time; the sum is at most 1. */
  readonly faults: readonly number[];
  readonly actions: readonly SharedAction[];
  /** Cost of opening each access once; it stays open. */
  readonly access?: readonly number[];
  /** Cost of the service call when all else failed; without it the actions are all tried. */
  readonly serviceCost?: number;
}

export interface SharedAction {
  readonly cost: number;
  /** P(cures | fault), by fault. */
  readonly cures: readonly number[];
  /** Index of the access it needs. */
  readonly access?: number;
}

/** Most actions for which every order is compared. */
export const MAX_EXACT_ACTIONS = 14;

/** P(still broken) by the set of actions tried (bit i: action i). */
function brokenAfter(problem: RepairProblem, tried: readonly number[]): number {
  const undecided = 1 - problem.faults.reduce((a, b) => a + b, 0);
  return problem.faults.reduce(
    (sum, p, f) => {
      return (
        sum +
        tried.reduce((left, a) => left * (1 - ((problem.actions[a] as SharedAction).cures[f] as number)), p)
      );
    },
    Math.max(0, undecided),
  );
}

function costAfter(problem: RepairProblem, action: number, tried: readonly number[]): number {
  const { cost, access } = problem.actions[action] as SharedAction;
  if (access === undefined) return cost;
  const open = tried.some((a) => problem.actions[a]?.access === access);
  return open ? cost : cost + (problem.access?.[access] as number);
}

function checkProblem(problem: RepairProblem): void {
  for (const p of problem.faults) check(p, 0, 1, 'the probability of a fault');
  check(
    problem.faults.reduce((a, b) => a + b, 0),
    0,
    1 + 1e-9,
    'the sum of the fault probabilities',
  );
  for (const action of problem.actions) {
    check(action.cost, Number.MIN_VALUE, Number.MAX_VALUE, 'the cost of an action');
    if (action.cures.length !== problem.faults.length) {
      throw new RangeError(
        `an action has ${action.cures.length} chances of cure for ${problem.faults.length} faults`,
      );
    }
    for (const s of action.cures) check(s, 0, 1, 'a chance of cure');
    if (action.access !== undefined && problem.access?.[action.access] === undefined) {
      throw new RangeError(`an action needs the access ${action.access}, which has no cost`);
    }
  }
}

/** Expected cost of trying the actions in this order (indices). */
export function expectedCostOfSequence(problem: RepairProblem, order: readonly number[]): number {
  checkProblem(problem);
  let total = 0;
  order.forEach((action, k) => {
    const tried = order.slice(0, k);
    total += brokenAfter(problem, tried) * costAfter(problem, action, tried);
  });
  return total + brokenAfter(problem, order) * (problem.serviceCost ?? 0);
}

/** Each time the action with the best chance of cure, given that the ones before failed, for its cost. Not optimal. */
export function orderGreedily(problem: RepairProblem): number[] {
  checkProblem(problem);
  const order: number[] = [];
  const left = new Set(problem.actions.keys());
  while (left.size > 0) {
    const broken = brokenAfter(problem, order);
    let best = -1;
    let bestRatio = -1;
    for (const action of left) {
      const ratio = (broken - brokenAfter(problem, [...order, action])) / costAfter(problem, action, order);
      if (ratio > bestRatio + 1e-12) {
        best = action;
        bestRatio = ratio;
      }
    }
    order.push(best);
    left.delete(best);
  }
  return order;
}

/**
 * The cheapest sequence. Up to `MAX_EXACT_ACTIONS` actions by comparing all sets (what is left to pay depends on the set
 * tried, not on its order); beyond, the greedy order bettered by swaps of neighbours. With a service cost the sequence
 * ends where the call is cheaper; without one it goes on until nothing more can be cured.
 */
export function findBestSequence(problem: RepairProblem): RepairPlan {
  checkProblem(problem);
  return problem.actions.length <= MAX_EXACT_ACTIONS ? searchSets(problem) : improveGreedy(problem);
}

function searchSets(problem: RepairProblem): RepairPlan {
  const count = problem.actions.length;
  const full = (1 << count) - 1;
  const toPay = new Float64Array(full + 1);
  const next = new Int8Array(full + 1).fill(-1);
  const members = (set: number): number[] => problem.actions.flatMap((_, i) => ((set >> i) & 1 ? [i] : []));
  for (let set = full; set >= 0; set--) {
    const tried = members(set);
    const broken = brokenAfter(problem, tried);
    let best =
      set === full || problem.serviceCost !== undefined
        ? broken * (problem.serviceCost ?? 0)
        : Number.POSITIVE_INFINITY;
    // Nothing left that could be cured: stop.
    if (broken <= 1e-15 || broken - brokenAfter(problem, members(full)) <= 1e-15)
      best = broken * (problem.serviceCost ?? 0);
    for (let action = 0; action < count; action++) {
      if ((set >> action) & 1) continue;
      const cost = broken * costAfter(problem, action, tried) + (toPay[set | (1 << action)] as number);
      if (cost < best - 1e-12) {
        best = cost;
        next[set] = action;
      }
    }
    toPay[set] = best;
  }
  const order: number[] = [];
  for (let set = 0, action = next[0] as number; action >= 0; action = next[set] as number) {
    order.push(action);
    set |= 1 << action;
  }
  return { order, expectedCost: toPay[0] as number };
}

function improveGreedy(problem: RepairProblem): RepairPlan {
  let order = orderGreedily(problem);
  let cost = expectedCostOfSequence(problem, order);
  const accept = (candidate: number[]): boolean => {
    const other = expectedCostOfSequence(problem, candidate);
    if (other >= cost - 1e-12) return false;
    order = candidate;
    cost = other;
    return true;
  };
  for (let better = true; better; ) {
    better = false;
    for (let i = 0; i + 1 < order.length; i++) {
      const swapped = [...order];
      [swapped[i], swapped[i + 1]] = [swapped[i + 1] as number, swapped[i] as number];
      if (accept(swapped)) better = true;
    }
    if (problem.serviceCost === undefined) continue;
    // One action less may cost more, and ten less be cheaper: all prefixes are compared.
    for (let length = order.length - 1; length >= 0; length--)
      if (accept(order.slice(0, length))) better = true;
  }
  return { order, expectedCost: cost };
}

/** P(answer) and the posterior over the states for each answer. */
export interface AnswerOutlook {
  readonly probability: number;
  readonly posterior: readonly number[];
}

/**
 * Bayes' rule for a question over exclusive states.
 * @param prior P(state), summing to 1
 * @param likelihood likelihood[answer][state] = P(answer | state)
 */
export function outlookOfAnswers(
  prior: readonly number[],
  likelihood: readonly (readonly number[])[],
): AnswerOutlook[] {
  return likelihood.map((row) => {
    if (row.length !== prior.length) {
      throw new RangeError(`an answer has ${row.length} likelihoods for ${prior.length} states`);
    }
    const joint = row.map((l, s) => {
      check(l, 0, 1, 'a likelihood');
      return l * (prior[s] as number);
    });
    const probability = joint.reduce((a, b) => a + b, 0);
    return { probability, posterior: probability > 0 ? joint.map((j) => j / probability) : [...prior] };
  });
}

/** What a question saves: expected cost now, less expected cost after the answer, less the cost of asking. */
export function valueOfQuestion(
  costNow: number,
  answers: readonly { readonly probability: number; readonly cost: number }[],
  questionCost: number,
): number {
  const sum = answers.reduce((total, answer) => total + answer.probability, 0);
  if (Math.abs(sum - 1) > 1e-6) throw new RangeError(`the probabilities of the answers sum to ${sum}, not 1`);
  return (
    costNow - answers.reduce((total, { probability, cost }) => total + probability * cost, 0) - questionCost
  );
}

/** Entropy of a distribution, in bits. */
export function entropy(distribution: readonly number[]): number {
  return distribution.reduce((sum, p) => (p > 0 ? sum - p * Math.log2(p) : sum), 0);
}

/** Mutual information of an answer and the states, in bits: by how much the answer is expected to lower the entropy. */
export function mutualInformation(prior: readonly number[], answers: readonly AnswerOutlook[]): number {
  return answers.reduce(
    (left, { probability, posterior }) => left - probability * entropy(posterior),
    entropy(prior),
  );
}

/**
 * The second answer of a yes/no question from the first, without another run:
 * P(cause | no) = (P(cause) - P(cause | yes) P(yes)) / P(no). Undefined when "no" is all but impossible (below 1e-6).
 */
export function complementPosterior(now: number, givenYes: number, yes: number): number | undefined {
  const no = 1 - yes;
  if (no < 1e-6) return undefined;
  const given = (now - givenYes * yes) / no;
  check(given, -1e-6, 1 + 1e-6, 'the posterior given "no"');
  return Math.min(1, Math.max(0, given));
}

/** Best expected payoff. payoff[action][state]. */
export function bestExpectedPayoff(
  distribution: readonly number[],
  payoff: readonly (readonly number[])[],
): number {
  return Math.max(
    ...payoff.map((row) => row.reduce((sum, v, s) => sum + v * (distribution[s] as number), 0)),
  );
}

/** Expected value of an answer before deciding (before the cost of asking). Source: Raiffa 1968. */
export function valueOfAnswer(
  prior: readonly number[],
  answers: readonly AnswerOutlook[],
  payoff: readonly (readonly number[])[],
): number {
  const after = answers.reduce((sum, a) => sum + a.probability * bestExpectedPayoff(a.posterior, payoff), 0);
  return after - bestExpectedPayoff(prior, payoff);
}
