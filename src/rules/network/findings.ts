import { NetworkError } from './errors.js';
import type { ByNode, Evidence, Grade, NodeId, Observation, QueryOptions } from './network.js';
import type { Numbers, Structure } from './structure.js';

/** What is known of a node in one query. The code decides the shape of the computation, not its numbers. */
export const UNKNOWN = 0;
export const ABSENT = 1;
export const PRESENT = 2;
export const SLIGHT = 3;
export const MARKED = 4;
export const SOFT = 5;
export const SET = 6;

/** Evidence and interventions by node number. */
export interface Findings {
  readonly state: Uint8Array;
  /** Three likelihoods a node, largest 1; read where `state` is SOFT. */
  readonly likelihood: Float64Array;
  /** The state a node is held at by an intervention (grade as 0, 1, 2). */
  readonly held: Uint8Array;
  /** Logarithm of the factor taken out of the likelihoods. */
  readonly logScale: number;
  /** Wanted although nothing is known at or below them. */
  readonly targets: readonly number[];
}

const GRADES: readonly Grade[] = ['absent', 'slight', 'marked'];

/** Entries of a Map or of a plain object's own keys, in their order. */
export function entriesOf<T>(values: ByNode<T> | undefined): [NodeId, T][] {
  if (values === undefined) return [];
  return values instanceof Map ? [...values.entries()] : Object.entries(values as Record<NodeId, T>);
}

export function numberOf(structure: Structure, id: NodeId, what: string): number {
  const n = structure.index.get(id);
  if (n === undefined) throw new NetworkError(`${what} names the unknown node "${id}"`);
  return n;
}

function show(value: unknown): string {
  return JSON.stringify(value) ?? String(value);
}

function readLikelihood(id: NodeId, graded: boolean, values: readonly number[]): number[] {
  const size = graded ? 3 : 2;
  const good =
    values.length === size && values.every((v) => Number.isFinite(v) && v >= 0) && values.some((v) => v > 0);
  if (!good) {
    throw new NetworkError(
      `the likelihood of "${id}" must be ${size} numbers from 0 up, not all 0; it is ${show(values)}`,
    );
  }
  return [...values];
}

/** A definite state as likelihoods, so that definite and soft evidence go one way. */
function likelihoodOf(id: NodeId, graded: boolean, seen: Observation): number[] {
  if (Array.isArray(seen)) return readLikelihood(id, graded, seen as readonly number[]);
  if (!graded && typeof seen === 'boolean') return seen ? [0, 1] : [1, 0];
  const grade = GRADES.indexOf(seen as Grade);
  if (graded && grade >= 0) return GRADES.map((_, g) => (g === grade ? 1 : 0));
  const allowed = graded ? 'absent, slight, marked or three likelihoods' : 'true, false or two likelihoods';
  throw new NetworkError(`the observation of "${id}" must be ${allowed}, not ${show(seen)}`);
}

/**
 * Numbers the evidence, interventions and targets of a query. Likelihoods are scaled to a largest value of 1; those
 * that leave one state are definite, those that favour none say nothing.
 */
export function readFindings(structure: Structure, evidence: Evidence, options: QueryOptions): Findings {
  const count = structure.ids.length;
  const state = new Uint8Array(count);
  const likelihood = new Float64Array(3 * count);
  const held = new Uint8Array(count);
  let logScale = 0;
  for (const [id, value] of entriesOf(options.do)) {
    const n = numberOf(structure, id, 'do');
    if (Array.isArray(value))
      throw new NetworkError(`do sets "${id}" to likelihoods; it needs one definite state`);
    const lambda = likelihoodOf(id, structure.graded[n] === 1, value);
    state[n] = SET;
    held[n] = lambda.indexOf(1);
  }
  for (const [id, seen] of entriesOf(evidence)) {
    const n = numberOf(structure, id, 'the evidence');
    if (state[n] === SET) throw new NetworkError(`"${id}" is both observed and set by do`);
    const graded = structure.graded[n] === 1;
    const lambda = likelihoodOf(id, graded, seen);
    const top = Math.max(...lambda);
    logScale += Math.log(top);
    const possible = lambda.filter((v) => v > 0).length;
    if (possible === 1) {
      const only = lambda.findIndex((v) => v > 0);
      state[n] = only === 0 ? ABSENT : !graded ? PRESENT : only === 1 ? SLIGHT : MARKED;
    } else if (lambda.some((v) => v !== top)) {
      state[n] = SOFT;
      lambda.forEach((v, s) => {
        likelihood[3 * n + s] = v / top;
      });
    }
  }
  const wanted = options.targets ?? [];
  const targets =
    wanted === 'all'
      ? structure.ids.map((_, n) => n)
      : wanted.map((id) => numberOf(structure, id, 'targets'));
  return { state, likelihood, held, logScale, targets };
}

/** The network's numbers with a query's replacements; the network's own arrays when there are none. */
export function readNumbers(structure: Structure, options: QueryOptions): Numbers {
  const leaks = entriesOf(options.leaks);
  const strengths = options.strengths ?? [];
  if (leaks.length === 0 && strengths.length === 0) return structure.numbers;
  const { leak, leakMarked, strength, marked } = structure.numbers;
  const own: Numbers = {
    leak: leak.slice(),
    leakMarked,
    strength: strength.slice(),
    marked: marked.slice(),
  };
  for (const [id, value] of leaks) {
    const n = numberOf(structure, id, 'leaks');
    const low = structure.graded[n] === 1 ? (leakMarked[n] as number) : 0;
    if (structure.tables[n] !== undefined)
      throw new NetworkError(`"${id}" has a table and no leak to replace`);
    if (!(value >= low && value <= 1)) {
      throw new NetworkError(`the leak of "${id}" must lie in [${low}, 1], not ${value}`);
    }
    own.leak[n] = value;
  }
  for (const change of strengths) {
    const child = numberOf(structure, change.child, 'strengths');
    const parent = numberOf(structure, change.parent, 'strengths');
    const from = structure.linkStart[child] as number;
    const offset = structure.linkParent.subarray(from, structure.linkStart[child + 1]).indexOf(parent);
    const what = `the link "${change.parent}" -> "${change.child}"`;
    if (offset < 0) throw new NetworkError(`strengths names ${what}, which does not exist`);
    if (structure.tables[child] !== undefined)
      throw new NetworkError(`${what} has a table and no strength to replace`);
    const newMarked = change.marked ?? own.marked[from + offset] ?? 0;
    const graded = structure.graded[child] === 1;
    if (!(change.strength >= 0 && change.strength <= 1)) {
      throw new NetworkError(`the strength of ${what} must lie in [0, 1], not ${change.strength}`);
    }
    if (graded && !(newMarked >= 0 && newMarked <= change.strength)) {
      throw new NetworkError(
        `the marked strength of ${what} must lie in [0, ${change.strength}], not ${newMarked}`,
      );
    }
    own.strength[from + offset] = change.strength;
    own.marked[from + offset] = newMarked;
  }
  return own;
}
