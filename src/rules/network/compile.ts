import { keepFew } from '../keep-few.js';
import type { BucketTree } from './bucket-tree.js';
import { buildBucketTree } from './build-bucket-tree.js';
import { type Columns, completeColumns } from './columns.js';
import { type EliminationOrder, findEliminationOrder } from './elimination-order.js';
import { ImpossibleEvidenceError, NetworkError, TooComplexError } from './errors.js';
import { fillFactors } from './factor-values.js';
import {
  entriesOf,
  type Findings,
  MARKED,
  numberOf,
  PRESENT,
  readFindings,
  readNumbers,
  SET,
  SLIGHT,
  SOFT,
  UNKNOWN,
} from './findings.js';
import { sampleByImportance, type WeightedSamples } from './importance-sampling.js';
import type {
  CompiledNetwork,
  Evidence,
  Method,
  Network,
  NodeId,
  Observation,
  Posterior,
  QueryOptions,
} from './network.js';
import { collect, distribute } from './propagation.js';
import { RandomStream, seededRandom } from './random.js';
import { findRelevant } from './relevance.js';
import { presentSamples } from './samples.js';
import { layOut, type Shape } from './shape.js';
import { buildStructure, type Numbers, type Structure } from './structure.js';
import { sampleTree } from './tree-sampler.js';

/** Cells an exact run may use unless the query says otherwise. */
export const DEFAULT_MAX_CELLS = 4_000_000;
/** Below this P(evidence) the signed factors have cancelled too many digits. */
const LEAST_SIGNED_LOG10 = -9;
/** [absent, slight, marked] of a node whose grade is known. */
const CERTAIN_GRADES: readonly (readonly [number, number, number])[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
/** How far rounding may carry a probability outside [0, 1]. */
const ROUNDING = 1e-9;
/** Cells that products and messages may take in all, as a multiple of `maxCells`. */
const MEMORY_FACTOR = 5;
/**
 * Plans kept, for further questions about the same evidence: each takes some hundred kilobytes, and what is kept for longer
 * than a few cases costs the sweeping of memory more than making it anew.
 */
const KEPT_PLANS = 4;
/** Up to this many cells a run on the plan of more evidence is cheaper than a smaller plan of one's own. */
const SHARED_PLAN_CELLS = 100_000;

/** The numbers-free part of a run: kept for each pattern of evidence. `tree` only within the limit of cells. */
interface Plan {
  readonly shape: Shape;
  readonly found: EliminationOrder;
  tree: BucketTree | undefined;
}

/** What is told of a plan. Answers hold this and not the plan, which they would keep in memory. */
type PlanSize = Pick<EliminationOrder, 'width' | 'cells'>;

/** All that a query fixes. */
interface Task {
  readonly findings: Findings;
  readonly numbers: Numbers;
  readonly relevant: Uint8Array;
  readonly maxCells: number;
  readonly pattern: string;
}

/** Joint results of a run, or undefined when the numbers cannot be trusted. */
interface Run {
  readonly logEvidence: number;
  readonly marginals: Float64Array;
  readonly grades: Map<number, [number, number, number]>;
  readonly size: PlanSize;
}

/**
 * Checks and numbers a network and makes it ready for queries. Queries reuse the plan of earlier ones with the same
 * pattern of evidence (which nodes are observed, and how; not the numbers).
 * Throws `NetworkError` for a faulty network.
 */
export function compile(network: Network): CompiledNetwork {
  const structure = buildStructure(network);
  const engine = createEngine(structure);
  const find = (id: NodeId): number => {
    const n = structure.index.get(id);
    if (n === undefined) throw new NetworkError(`there is no node "${id}"`);
    return n;
  };
  return {
    network,
    ids: structure.ids,
    roots: structure.ids.filter((_, n) => isRoot(structure, n)),
    has: (id) => structure.index.has(id),
    node: (id) => structure.nodes[find(id)] as Network['nodes'][number],
    childrenOf: (id) =>
      (structure.children[find(id)] as readonly number[]).map((n) => structure.ids[n] as NodeId),
    query: engine,
  };
}

function isRoot(structure: Structure, n: number): boolean {
  return structure.linkStart[n] === structure.linkStart[n + 1];
}

function createEngine(structure: Structure): (evidence: Evidence, options?: QueryOptions) => Posterior {
  const plans = keepFew<Plan>(KEPT_PLANS);
  let cells = new Float64Array(0);
  let slopes = new Float64Array(0);

  /** @param keep whether further questions may come that need the plan */
  function planFor(task: Task, method: 'signed' | 'non-negative', keep = true): Plan {
    const key = `${method[0]}${task.pattern}`;
    const known = plans.get(key);
    if (known !== undefined) return known;
    const shape = layOut(structure, task.findings, task.relevant, method === 'non-negative');
    // Both factorisations usually have the same scopes; then the order of one serves the other.
    const other = plans.get(`${method === 'signed' ? 'n' : 's'}${task.pattern}`);
    const found =
      other !== undefined && sameScopes(other.shape, shape)
        ? other.found
        : findEliminationOrder(shape.scopes, shape.cards);
    const plan: Plan = { shape, found, tree: undefined };
    if (keep) plans.put(key, plan);
    return plan;
  }

  function treeOf(plan: Plan, maxCells: number): BucketTree {
    if (plan.found.cells > maxCells) throw new TooComplexError(plan.found.width, plan.found.cells, maxCells);
    plan.tree ??= buildBucketTree(plan.shape, plan.found);
    const { allCells } = plan.tree;
    if (allCells > MEMORY_FACTOR * maxCells)
      throw new TooComplexError(plan.found.width, allCells, MEMORY_FACTOR * maxCells);
    return plan.tree;
  }

  /** Fills in the numbers; returns the scale's logarithm. */
  function fillPlan(task: Task, plan: Plan): { tree: BucketTree; logScale: number } {
    const tree = treeOf(plan, task.maxCells);
    if (cells.length < tree.allCells) {
      cells = new Float64Array(Math.ceil(1.5 * tree.allCells));
      slopes = new Float64Array(cells.length);
    }
    const logScale = fillFactors(structure, plan.shape, task.numbers, task.findings, tree.places, cells);
    return { tree, logScale };
  }

  /** Fills and collects. */
  function collectPlan(task: Task, plan: Plan): { tree: BucketTree; logScale: number } {
    const filled = fillPlan(task, plan);
    collect(filled.tree, cells);
    return filled;
  }

  /**
   * One exact run; undefined when the signed factors have cancelled too far. -Infinity marks impossible evidence.
   * @param planned the task whose plan is used: the same, or one that is certain of more leaves
   */
  function run(task: Task, method: 'signed' | 'non-negative', planned = task): Run | undefined {
    const plan = planFor(planned, method);
    const { shape } = plan;
    const { tree, logScale } = collectPlan(task, plan);
    const least = method === 'signed' ? 10 ** LEAST_SIGNED_LOG10 : 0;
    let logEvidence = logScale;
    for (const root of tree.roots) {
      const sum = cells[root] as number;
      if (method === 'signed' && !(sum >= least)) return undefined;
      logEvidence += Math.log(sum);
    }
    const marginals = new Float64Array(structure.ids.length);
    const grades = new Map<number, [number, number, number]>();
    const { width, cells: used } = plan.found;
    const result: Run = { logEvidence, marginals, grades, size: { width, cells: used } };
    if (logEvidence === Number.NEGATIVE_INFINITY) return method === 'signed' ? undefined : result;
    distribute(tree, cells, slopes);
    let sound = true;
    for (let n = 0; n < marginals.length; n++) {
      const v = shape.variableOf[n] as number;
      if (v < 0 || shape.cards[v] !== 2) continue;
      const chance = chanceOfState(tree, v, 1);
      if (!isSound(chance)) sound = false;
      marginals[n] = settle(chance);
    }
    for (const { node: n, own, hidden, levels } of shape.families) {
      if (structure.graded[n] === 0 || (own < 0 && (hidden < 0 || levels.length !== 3))) continue;
      const chances =
        own >= 0
          ? [0, 1, 2].map((s) => chanceOfState(tree, own, s))
          : readSignedGrades(task, tree, hidden, n);
      if (!chances.every(isSound)) sound = false;
      grades.set(n, chances.map(settle) as [number, number, number]);
    }
    return sound || method === 'non-negative' ? result : undefined;
  }

  /** Chance of a variable's state given the evidence, after `distribute`. */
  function chanceOfState(tree: BucketTree, v: number, state: number): number {
    const at = (tree.places[v] as { offset: number }).offset + state;
    const total = cells[tree.roots[tree.component[v] as number] as number] as number;
    return ((cells[at] as number) * (slopes[at] as number)) / total;
  }

  /**
   * P(at least two of some nodes present | evidence), exactly: with t on the present state of each, P(evidence) is a
   * polynomial in t whose coefficients of 1 and t are P(none, evidence) and P(just one, evidence). The first is the sum
   * with those states struck out, the second its derivative, which `distribute` gives.
   */
  function chanceOfTwo(
    task: Task,
    planned: Task,
    logEvidence: number,
    method: Method,
    ids: readonly NodeId[],
  ): number {
    const plan = planFor(planned, method as 'signed' | 'non-negative');
    const { tree, logScale } = fillPlan(task, plan);
    const one = new Float64Array(tree.roots.length);
    const counted: { at: number; component: number; weight: number }[] = [];
    /** P(none present) and P(just one present) so far. */
    let chances: readonly [number, number] = [1, 0];
    const add = (none: number, just: number): void => {
      chances = [chances[0] * none, chances[0] * just + chances[1] * none];
    };
    for (const n of new Set(ids.map((id) => numberOf(structure, id, 'the question')))) {
      const v = plan.shape.variableOf[n] as number;
      if (v < 0) {
        const p = chanceOutside(task, n);
        add(1 - p, p);
        continue;
      }
      const at = (tree.places[v] as { offset: number }).offset + 1;
      counted.push({ at, component: tree.component[v] as number, weight: cells[at] as number });
      cells[at] = 0;
    }
    collect(tree, cells);
    distribute(tree, cells, slopes);
    for (const { at, component, weight } of counted)
      one[component] = (one[component] as number) + weight * (slopes[at] as number);
    tree.roots.forEach((root, c) => {
      add(cells[root] as number, one[c] as number);
    });
    const fewer = (chances[0] + chances[1]) * Math.exp(logScale - logEvidence);
    return Math.min(1, Math.max(0, 1 - fewer));
  }

  /** Chance of a two-state node that no variable stands for. */
  function chanceOutside({ findings, relevant, numbers }: Task, n: number): number {
    const state = findings.state[n] as number;
    const id = structure.ids[n];
    if (structure.graded[n] === 1)
      throw new NetworkError(`"${id}" has grades; the question is of two-state nodes`);
    if (state === SET) return findings.held[n] as number;
    if (state !== UNKNOWN) return state === PRESENT ? 1 : 0;
    if (relevant[n] === 1 || !isRoot(structure, n))
      throw new NetworkError(`"${id}" is not part of this answer; name it among the targets`);
    return structure.tables[n]?.[0] ?? (numbers.leak[n] as number);
  }

  /** Grades from the hidden variable of the signed form: its slopes by level are what each F_level would bring. */
  function readSignedGrades(task: Task, tree: BucketTree, hidden: number, n: number): number[] {
    const { findings, numbers } = task;
    const { offset } = tree.places[hidden] as { offset: number };
    const soft = findings.state[n] === SOFT;
    const weight = (s: number): number => (soft ? (findings.likelihood[3 * n + s] as number) : 1);
    let base0 = 1 - (numbers.leak[n] as number);
    let base1 = 1 - (numbers.leakMarked[n] as number);
    for (let link = structure.linkStart[n] as number; link < (structure.linkStart[n + 1] as number); link++) {
      const parent = structure.linkParent[link] as number;
      const state = findings.state[parent] as number;
      if (state !== PRESENT && !(state === SET && findings.held[parent] === 1)) continue;
      base0 *= 1 - (numbers.strength[link] as number);
      base1 *= 1 - (numbers.marked[link] as number);
    }
    const r0 = base0 * (slopes[offset] as number);
    const r1 = base1 * (slopes[offset + 1] as number);
    const r2 = slopes[offset + 2] as number;
    const parts = [weight(0) * r0, weight(1) * (r1 - r0), weight(2) * (r2 - r1)];
    const sum = parts.reduce((a, b) => a + b, 0);
    return parts.map((p) => p / sum);
  }

  function readTask(
    evidence: Evidence,
    options: QueryOptions,
    numbers = readNumbers(structure, options),
  ): Task {
    const findings = readFindings(structure, evidence, options);
    const relevant = findRelevant(structure, findings);
    const codes = new Uint8Array(relevant.length);
    for (let n = 0; n < codes.length; n++)
      codes[n] = 65 + 2 * (findings.state[n] as number) + (relevant[n] as number);
    const { maxCells = DEFAULT_MAX_CELLS } = options;
    if (!(maxCells > 0)) throw new NetworkError(`maxCells must be above 0, not ${maxCells}`);
    return { findings, numbers, relevant, maxCells, pattern: String.fromCharCode(...codes) };
  }

  function query(evidence: Evidence, options: QueryOptions = {}): Posterior {
    const task = readTask(evidence, options);
    try {
      return runExactly(task, evidence, options);
    } catch (error) {
      if (!(error instanceof TooComplexError) || options.beyondLimit !== 'sample') throw error;
      return estimate(task, evidence, options, error);
    }
  }

  /** The same question with some observations taken back, on the plan it has where that serves. */
  function queryWithout(
    whole: Task,
    size: PlanSize | undefined,
    evidence: Evidence,
    options: QueryOptions,
    left: readonly NodeId[],
  ): Posterior {
    const kept = new Map(entriesOf(evidence));
    for (const id of left) {
      if (!kept.delete(id)) throw new NetworkError(`"${id}" is not observed, so it cannot be left out`);
    }
    const task = readTask(kept, options, whole.numbers);
    const shared = size !== undefined && size.cells <= SHARED_PLAN_CELLS && isCovered(task, whole);
    return shared ? runExactly(task, kept, options, whole) : query(kept, options);
  }

  function runExactly(task: Task, evidence: Evidence, options: QueryOptions, planned = task): Posterior {
    const wanted = options.method ?? 'auto';
    let method: Method = 'signed';
    let result = wanted === 'non-negative' ? undefined : run(task, 'signed', planned);
    if (result === undefined) {
      if (wanted === 'signed') {
        throw new NetworkError(
          'the signed factors have cancelled too far for this evidence; leave the method to "auto"',
        );
      }
      method = 'non-negative';
      result = run(task, 'non-negative', planned) as Run;
      if (result.logEvidence === Number.NEGATIVE_INFINITY) throw findImpossible(evidence, options);
    }
    const { marginals, grades, size, logEvidence } = result;
    return present(task, {
      marginal: (n) => marginals[n] as number,
      grades,
      logEvidence,
      exact: true,
      method,
      width: size.width,
      cells: size.cells,
      standardError: 0,
      without: (left) => queryWithout(task, size, evidence, options, left),
      chanceOfTwo: (ids) => chanceOfTwo(task, planned, logEvidence, method, ids),
      draw: (count, seed) => {
        const ofSamples = planFor(task, 'non-negative', false);
        const { tree } = collectPlan(task, ofSamples);
        const random = new RandomStream(seed);
        const columns = sampleTree(tree, ofSamples.shape, cells, count, random);
        completeColumns(structure, task.numbers, task.findings, task.relevant, columns, count, random);
        return columns;
      },
    });
  }

  /** Adds the items one by one until the evidence becomes impossible. */
  function findImpossible(evidence: Evidence, options: QueryOptions): ImpossibleEvidenceError {
    const items = entriesOf(evidence);
    for (let count = 1; count < items.length; count++) {
      const part = readTask(new Map<NodeId, Observation>(items.slice(0, count)), options);
      if (run(part, 'non-negative')?.logEvidence === Number.NEGATIVE_INFINITY) {
        return new ImpossibleEvidenceError((items[count - 1] as [NodeId, Observation])[0]);
      }
    }
    return new ImpossibleEvidenceError(items.at(-1)?.[0] ?? '');
  }

  function estimate(
    task: Task,
    evidence: Evidence,
    options: QueryOptions,
    tooComplex: TooComplexError,
  ): Posterior {
    const { samples: count = 20_000, seed = 1 } = options;
    if (!(Number.isInteger(count) && count >= 2))
      throw new NetworkError(`samples must be an integer from 2 up, not ${count}`);
    const drawn = sampleByImportance(structure, task.numbers, task.findings, task.relevant, count, seed);
    if (!Number.isFinite(drawn.logEvidence)) throw tooComplex;
    const sum = drawn.weights.reduce((a, b) => a + b, 0);
    let standardError = 0;
    const marginals = drawn.columns.map((column) => {
      if (column === undefined) return 0;
      let mean = 0;
      for (let row = 0; row < count; row++) mean += (drawn.weights[row] as number) * (column[row] as number);
      mean /= sum;
      let square = 0;
      for (let row = 0; row < count; row++) {
        square += ((drawn.weights[row] as number) * ((column[row] as number) - mean)) ** 2;
      }
      standardError = Math.max(standardError, Math.sqrt(square) / sum);
      return mean;
    });
    const draw = (n: number, by: number): Columns => {
      const columns = resample(drawn, n, by);
      completeColumns(
        structure,
        task.numbers,
        task.findings,
        task.relevant,
        columns,
        n,
        new RandomStream(by + 1),
      );
      return columns;
    };
    return present(task, {
      marginal: (n) => marginals[n] ?? 0,
      grades: estimateGrades(task, drawn),
      logEvidence: drawn.logEvidence,
      exact: false,
      method: 'sampling',
      width: 0,
      cells: 0,
      standardError,
      without: (left) => queryWithout(task, undefined, evidence, options, left),
      chanceOfTwo: (ids) => {
        const columns = draw(count, seed);
        const some = ids.map((id) => columns[numberOf(structure, id, 'the question')]);
        let rows = 0;
        for (let row = 0; row < count; row++) {
          let active = 0;
          for (const column of some) active += column?.[row] ?? 0;
          if (active >= 2) rows++;
        }
        return rows / count;
      },
      draw,
    });
  }

  /** Grades of graded leaves seen softly or wanted, from weighted samples of their parents. */
  function estimateGrades(task: Task, drawn: WeightedSamples): Map<number, [number, number, number]> {
    const grades = new Map<number, [number, number, number]>();
    const { findings, numbers, relevant } = task;
    const count = drawn.weights.length;
    for (const n of structure.order) {
      const state = findings.state[n];
      if (structure.graded[n] === 0 || relevant[n] === 0 || (state !== UNKNOWN && state !== SOFT)) continue;
      const blank = { ...findings, state: findings.state.map((s, i) => (i === n ? UNKNOWN : s)) };
      const parents = presentSamples(structure, numbers, blank, drawn.columns, count);
      const { atLeastSlight, marked } = parents.gradeProbabilities(structure.ids[n] as NodeId);
      const sums: [number, number, number] = [0, 0, 0];
      for (let row = 0; row < count; row++) {
        const up = atLeastSlight[row] as number;
        const high = marked[row] as number;
        const parts = [1 - up, up - high, high].map(
          (p, s) => p * (state === SOFT ? (findings.likelihood[3 * n + s] as number) : 1),
        );
        const whole = parts.reduce((a, b) => a + b, 0);
        parts.forEach((p, s) => {
          if (whole > 0) sums[s] = (sums[s] as number) + ((drawn.weights[row] as number) * p) / whole;
        });
      }
      const all = sums.reduce((a, b) => a + b, 0);
      grades.set(n, sums.map((s) => s / all) as [number, number, number]);
    }
    return grades;
  }

  interface Answer {
    readonly marginal: (n: number) => number;
    readonly grades: ReadonlyMap<number, readonly [number, number, number]>;
    readonly logEvidence: number;
    readonly exact: boolean;
    readonly method: Method;
    readonly width: number;
    readonly cells: number;
    readonly standardError: number;
    readonly without: Posterior['without'];
    readonly chanceOfTwo: Posterior['chanceOfTwo'];
    readonly draw: (count: number, seed: number) => Columns;
  }

  function present(task: Task, answer: Answer): Posterior {
    const { findings, relevant, numbers } = task;
    const marginals = new Map<NodeId, number>();
    const grades = new Map<NodeId, readonly [number, number, number]>();
    for (let n = 0; n < structure.ids.length; n++) {
      const id = structure.ids[n] as NodeId;
      const state = findings.state[n] as number;
      const open = state === UNKNOWN || state === SOFT;
      if (structure.graded[n] === 1) {
        const known = answer.grades.get(n);
        if (open && relevant[n] === 1 && known !== undefined) grades.set(id, known);
        if (open) continue;
        const grade = state === SET ? findings.held[n] : state === SLIGHT ? 1 : state === MARKED ? 2 : 0;
        grades.set(id, CERTAIN_GRADES[grade as number] as readonly [number, number, number]);
      } else if (state === SET) marginals.set(id, findings.held[n] as number);
      else if (!open) marginals.set(id, state === PRESENT ? 1 : 0);
      else if (relevant[n] === 1) marginals.set(id, answer.marginal(n));
      else if (isRoot(structure, n))
        marginals.set(id, structure.tables[n]?.[0] ?? (numbers.leak[n] as number));
    }
    const { logEvidence, exact, method, width, cells: used, standardError } = answer;
    return {
      marginals,
      grades,
      logEvidence,
      exact,
      method,
      width,
      cells: used,
      standardError,
      without: answer.without,
      chanceOfTwo: answer.chanceOfTwo,
      probability(id) {
        const value = marginals.get(id);
        if (value !== undefined) return value;
        if (!structure.index.has(id)) throw new NetworkError(`there is no node "${id}"`);
        throw new NetworkError(`"${id}" is not part of this answer; name it among the targets`);
      },
      sample(count, seed) {
        if (!(Number.isInteger(count) && count > 0)) {
          throw new NetworkError(`the number of samples must be an integer above 0, not ${count}`);
        }
        return presentSamples(structure, numbers, findings, answer.draw(count, seed), count);
      },
    };
  }

  return query;
}

function isSound(chance: number): boolean {
  return chance >= -ROUNDING && chance <= 1 + ROUNDING;
}

function settle(chance: number): number {
  return Math.min(1, Math.max(0, chance));
}

/**
 * Whether the plan of `whole` serves a task that knows less: whatever `whole` knows beyond it must be of nodes that no
 * longer bear on anything. Their factors filled with ones, they sum to one.
 */
function isCovered(task: Task, whole: Task): boolean {
  const { state } = task.findings;
  for (let n = 0; n < state.length; n++) {
    if (state[n] !== whole.findings.state[n] && (state[n] !== UNKNOWN || task.relevant[n] === 1))
      return false;
  }
  return true;
}

function sameScopes(a: Shape, b: Shape): boolean {
  return (
    a.cards.length === b.cards.length &&
    a.scopes.length === b.scopes.length &&
    a.scopes.every((scope, f) => scope.every((v, i) => v === b.scopes[f]?.[i]))
  );
}

/** Equal-weight rows from weighted ones, by systematic resampling, then shuffled. */
function resample(drawn: WeightedSamples, count: number, seed: number): Columns {
  const random = seededRandom(seed);
  const { weights } = drawn;
  const step = weights.reduce((a, b) => a + b, 0) / count;
  const rows = new Int32Array(count);
  let at = random() * step;
  let row = 0;
  let reached = weights[0] as number;
  for (let i = 0; i < count; i++, at += step) {
    while (reached < at && row < weights.length - 1) reached += weights[++row] as number;
    rows[i] = row;
  }
  for (let i = count - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    const kept = rows[i] as number;
    rows[i] = rows[j] as number;
    rows[j] = kept;
  }
  return drawn.columns.map((column) => column && Uint8Array.from(rows, (r) => column[r] as number));
}
