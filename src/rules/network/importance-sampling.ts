import type { Columns } from './columns.js';
import { ABSENT, type Findings, MARKED, PRESENT, SET, SLIGHT, SOFT, UNKNOWN } from './findings.js';
import { seededRandom } from './random.js';
import type { Numbers, Structure } from './structure.js';

/** Weighted samples: an estimate for networks too tangled for an exact answer. */
export interface WeightedSamples {
  readonly columns: Columns;
  readonly weights: Float64Array;
  /** Logarithm of the estimated P(evidence). */
  readonly logEvidence: number;
}

const SWEEPS = 12;
/** No state is proposed with less than this, so that no weight can grow without bound. */
const LEAST_PROPOSAL = 0.005;

/** What an observation says of the states 0, 1, 2 of a node. */
function likelihoodOf(findings: Findings, n: number, graded: boolean): [number, number, number] {
  switch (findings.state[n]) {
    case ABSENT:
      return [1, 0, 0];
    case PRESENT:
      return [0, 1, 1];
    case SLIGHT:
      return [0, 1, 0];
    case MARKED:
      return [0, 0, 1];
    case SOFT: {
      const [a, b, c] = findings.likelihood.subarray(3 * n, 3 * n + 3) as unknown as [number, number, number];
      return [a, b, graded ? c : b];
    }
    default:
      return [1, 1, 1];
  }
}

/**
 * Samples the relevant nodes in topological order. The proposal is each node's own distribution times the support that
 * its children report after a few sweeps of belief propagation; weights make up for the difference (the idea of
 * evidence pre-propagation, Yuan & Druzdzel 2003, from memory). An estimate, unbiased in the limit only.
 * @param count samples, at least 2
 */
export function sampleByImportance(
  structure: Structure,
  numbers: Numbers,
  findings: Findings,
  relevant: Uint8Array,
  count: number,
  seed: number,
): WeightedSamples {
  const support = findSupport(structure, numbers, findings, relevant);
  const random = seededRandom(seed);
  const columns: Columns = [];
  const nodes = structure.order.filter((n) => relevant[n] === 1);
  for (const n of nodes) if (structure.graded[n] === 0) columns[n] = new Uint8Array(count);
  const logWeights = new Float64Array(count);
  const state = new Float64Array(structure.ids.length);
  const said = structure.ids.map((_, n) => likelihoodOf(findings, n, structure.graded[n] === 1));
  for (let row = 0; row < count; row++) {
    let logWeight = 0;
    for (const n of nodes) {
      if (findings.state[n] === SET) state[n] = findings.held[n] as number;
      else {
        const graded = structure.graded[n] === 1;
        const absent = chanceAbsent(structure, numbers.leak, numbers.strength, state, n);
        const [l0, l1, l2] = said[n] as [number, number, number];
        if (graded) {
          const atMostSlight = chanceAbsent(structure, numbers.leakMarked, numbers.marked, state, n);
          logWeight += Math.log(l0 * absent + l1 * (atMostSlight - absent) + l2 * (1 - atMostSlight));
          continue;
        }
        const up = support[n] as number;
        const odds1 = (1 - absent) * l1 * up;
        const odds0 = absent * l0 * (1 - up);
        let propose = odds1 / (odds0 + odds1);
        if (!(propose >= 0)) propose = 1 - absent;
        const possible0 = absent * l0 > 0;
        const possible1 = (1 - absent) * l1 > 0;
        if (possible0 && possible1) propose = Math.min(1 - LEAST_PROPOSAL, Math.max(LEAST_PROPOSAL, propose));
        else if (possible1) propose = 1;
        else propose = 0;
        const x = random() < propose ? 1 : 0;
        state[n] = x;
        logWeight += Math.log(x === 1 ? ((1 - absent) * l1) / propose : (absent * l0) / (1 - propose));
      }
      const column = columns[n];
      if (column !== undefined) column[row] = state[n] as number;
    }
    logWeights[row] = logWeight;
  }
  let top = Number.NEGATIVE_INFINITY;
  for (const w of logWeights) if (w > top) top = w;
  const weights = logWeights.map((w) => (top > Number.NEGATIVE_INFINITY ? Math.exp(w - top) : 0));
  const sum = weights.reduce((total, w) => total + w, 0);
  return { columns, weights, logEvidence: findings.logScale + top + Math.log(sum / count) };
}

/** P(absent | parents), or for the marked numbers P(at most slight | parents); parents given as probabilities. */
function chanceAbsent(
  structure: Structure,
  leak: Float64Array,
  strength: Float64Array,
  state: Float64Array,
  n: number,
): number {
  const table = structure.tables[n];
  const from = structure.linkStart[n] as number;
  const to = structure.linkStart[n + 1] as number;
  if (table !== undefined) {
    const parents = [...structure.linkParent.subarray(from, to)].map((p) => state[p] as number);
    return 1 - tableChance(table, parents);
  }
  let product = 1 - (leak[n] as number);
  for (let link = from; link < to; link++) {
    product *= 1 - (strength[link] as number) * (state[structure.linkParent[link] as number] as number);
  }
  return product;
}

/** Expectation of a table over independent parents. */
function tableChance(table: Float64Array, parents: readonly number[]): number {
  let chance = 0;
  for (let row = 0; row < table.length; row++) {
    let weight = table[row] as number;
    parents.forEach((p, i) => {
      weight *= ((row >> (parents.length - 1 - i)) & 1) === 1 ? p : 1 - p;
    });
    chance += weight;
  }
  return chance;
}

/** Belief propagation: for each node, the support of its children for "present", as a share of one. */
function findSupport(
  structure: Structure,
  numbers: Numbers,
  findings: Findings,
  relevant: Uint8Array,
): Float64Array {
  const count = structure.ids.length;
  const links = structure.linkParent.length;
  const down = new Float64Array(links).fill(0.5);
  const up = new Float64Array(links).fill(0.5);
  const belowOf: number[][] = structure.ids.map(() => []);
  for (let n = 0; n < count; n++) {
    if (relevant[n] === 0 || findings.state[n] === SET) continue;
    for (let link = structure.linkStart[n] as number; link < (structure.linkStart[n + 1] as number); link++) {
      (belowOf[structure.linkParent[link] as number] as number[]).push(link);
    }
  }
  const share = (one: number, zero: number): number => (one + zero > 0 ? one / (one + zero) : 0.5);
  const gather = (n: number, without: number): [number, number] => {
    let one = 1;
    let zero = 1;
    for (const link of belowOf[n] as number[]) {
      if (link === without) continue;
      one *= up[link] as number;
      zero *= 1 - (up[link] as number);
    }
    return [zero, one];
  };
  const nodes = structure.order.filter((n) => relevant[n] === 1);
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    for (const n of nodes) {
      if (structure.graded[n] === 1) continue;
      const present =
        findings.state[n] === SET ? (findings.held[n] as number) : 1 - expectedAbsent(n, -1, 0, 0);
      const [l0, l1] = likelihoodOf(findings, n, false);
      for (const link of belowOf[n] as number[]) {
        const [zero, one] = gather(n, link);
        down[link] =
          findings.state[n] === SET ? present : share(present * l1 * one, (1 - present) * l0 * zero);
      }
    }
    for (let i = nodes.length - 1; i >= 0; i--) {
      const n = nodes[i] as number;
      if (findings.state[n] === SET) continue;
      const graded = structure.graded[n] === 1;
      const [l0, l1, l2] = likelihoodOf(findings, n, graded);
      if (findings.state[n] === UNKNOWN && (belowOf[n] as number[]).length === 0) continue;
      const [zero, one] = graded ? [1, 1] : gather(n, -1);
      for (
        let link = structure.linkStart[n] as number;
        link < (structure.linkStart[n + 1] as number);
        link++
      ) {
        const message = (x: number): number => {
          const f0 = expectedAbsent(n, link, x, 0);
          if (!graded) return l0 * zero * f0 + l1 * one * (1 - f0);
          const f1 = expectedAbsent(n, link, x, 1);
          return l0 * f0 + l1 * (f1 - f0) + l2 * (1 - f1);
        };
        up[link] = share(message(1), message(0));
      }
    }
  }
  const support = new Float64Array(count);
  for (const n of nodes) {
    const [zero, one] = gather(n, -1);
    support[n] = share(one, zero);
  }
  return support;

  function expectedAbsent(n: number, fixed: number, x: number, level: number): number {
    const from = structure.linkStart[n] as number;
    const to = structure.linkStart[n + 1] as number;
    const told = (link: number): number => (link === fixed ? x : (down[link] as number));
    const table = structure.tables[n];
    if (table !== undefined) {
      const parents: number[] = [];
      for (let link = from; link < to; link++) parents.push(told(link));
      return 1 - tableChance(table, parents);
    }
    const strength = level === 0 ? numbers.strength : numbers.marked;
    let product = 1 - ((level === 0 ? numbers.leak[n] : numbers.leakMarked[n]) as number);
    for (let link = from; link < to; link++) product *= 1 - (strength[link] as number) * told(link);
    return product;
  }
}
