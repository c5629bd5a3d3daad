import type { Check } from '../knowledge/schema.js';
import type { PosteriorSamples } from '../network/network.js';
import type { CausalGraph } from './causal-graph.js';

/** Share of answers that are unclear although nothing is wrong, for checks that have such an answer. */
export const LEAST_OPEN = 0.03;

/** An answer of a check with its chance in each sample. */
export interface AnswerWeights {
  readonly id: string;
  readonly weights: Float64Array;
}

/** Predicts the answers of one check after the other from the same samples, in the same columns. */
export class AnswerPredictor {
  private readonly columns: Float64Array[] = [];
  private readonly totals: Float64Array;

  constructor(
    private readonly samples: PosteriorSamples,
    private readonly graph: CausalGraph,
  ) {
    this.totals = new Float64Array(samples.count);
  }

  /**
   * For every answer of a check, its chance in each sample; undefined when nothing the case leads to bears on it. The next
   * call overwrites the columns.
   */
  predict(check: Check): AnswerWeights[] | undefined {
    const { nodes, answers, open } = planOf(this.graph, check);
    if (nodes.length === 0) return undefined;
    const { totals } = this;
    const chances = nodes.map((node) => this.samples.leafProbabilities(node));
    totals.fill(0);
    for (let a = 0; a < answers.length; a++) {
      const { isOpen, own, against } = answers[a] as Answer;
      const column = this.column(a);
      const chance = chances[own];
      if (isOpen) column.fill(0);
      else if (chance === undefined) column.fill(1);
      else column.set(chance);
      for (const other of against) takeAgainst(column, chances[other] as Float64Array);
      if (!isOpen) addTo(totals, column);
    }
    if (open >= 0) leaveRest(this.column(open), totals);
    return answers.map(({ id }, a) => {
      const weights = this.column(a);
      divideBy(weights, totals);
      return { id, weights };
    });
  }

  private column(a: number): Float64Array {
    const known = this.columns[a];
    if (known !== undefined) return known;
    const column = new Float64Array(this.samples.count);
    this.columns[a] = column;
    return column;
  }
}

/** What an answer means for the deviations of its check, by their places. */
interface Answer {
  readonly id: string;
  readonly isOpen: boolean;
  /** The deviation that it states, -1 for none. */
  readonly own: number;
  /** Those that it excludes. */
  readonly against: readonly number[];
}

/** The answers of a check that can come, and the nodes of its deviations. */
interface CheckPlan {
  readonly nodes: readonly string[];
  readonly answers: readonly Answer[];
  /** Place of the first answer that says nothing, -1 for none. */
  readonly open: number;
}

const plans = new WeakMap<CausalGraph, WeakMap<Check, CheckPlan>>();

function planOf(graph: CausalGraph, check: Check): CheckPlan {
  const ofGraph = plans.get(graph) ?? new WeakMap<Check, CheckPlan>();
  plans.set(graph, ofGraph);
  const known = ofGraph.get(check);
  if (known !== undefined) return known;
  const made = planCheck(graph, check);
  ofGraph.set(check, made);
  return made;
}

function planCheck(graph: CausalGraph, check: Check): CheckPlan {
  const outcomes = Object.entries(check.outcomes);
  const deviations = outcomes
    .filter(([id, outcome]) => outcome.means === 'deviation' && graph.kinds.has(`${check.id}:${id}`))
    .map(([id]) => id);
  const answers = outcomes
    .filter(([id, outcome]) => outcome.means !== 'deviation' || deviations.includes(id))
    .map(([id, { means, excludes }]): Answer => {
      const isOpen = means === 'open';
      const against = deviations.flatMap((other, i) =>
        isOpen || other === id || (excludes !== undefined && !excludes.includes(other)) ? [] : [i],
      );
      return { id, isOpen, own: deviations.indexOf(id), against };
    });
  return {
    nodes: deviations.map((id) => `${check.id}:${id}`),
    answers,
    open: answers.findIndex((answer) => answer.isOpen),
  };
}

/** Times the chance, row by row, that something does not show. */
function takeAgainst(column: Float64Array, chance: Float64Array): void {
  for (let row = 0; row < column.length; row++)
    column[row] = (column[row] as number) * (1 - (chance[row] as number));
}

function addTo(totals: Float64Array, column: Float64Array): void {
  for (let row = 0; row < totals.length; row++)
    totals[row] = (totals[row] as number) + (column[row] as number);
}

/** Gives an answer what the others leave, and a little in any case. */
function leaveRest(rest: Float64Array, totals: Float64Array): void {
  for (let row = 0; row < rest.length; row++) {
    const left = Math.max(LEAST_OPEN, 1 - (totals[row] as number));
    rest[row] = left;
    totals[row] = (totals[row] as number) + left;
  }
}

function divideBy(column: Float64Array, totals: Float64Array): void {
  for (let row = 0; row < column.length; row++)
    column[row] = (column[row] as number) / (totals[row] as number);
}
