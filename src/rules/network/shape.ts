import { ABSENT, type Findings, MARKED, SET, SLIGHT, SOFT, UNKNOWN } from './findings.js';
import type { Structure } from './structure.js';

/**
 * Levels of a node's cumulative probability: F_0 = P(absent), F_1 = P(at most slight), TOP = 1. A two-state node uses
 * F_0 and TOP. Each F_l is a product over the leak and the parents present (noisy-MAX: cumulatives multiply).
 */
export const TOP = 2;

/** How the family of one node enters the computation. */
export type FamilyForm =
  /** No free parents: a number, or a factor on the node alone. */
  | 'alone'
  /** Observed absent: one factor on each free parent. */
  | 'absent'
  /** A table over the few free parents, and the node if it is free. */
  | 'table'
  /** The two- or three-state hidden variable of the signed factorisation. */
  | 'signed'
  /** A chain of hidden variables, each holding the worst level so far: nothing negative. */
  | 'chain'
  /** A node with a table of its own. */
  | 'own-table';

export interface Family {
  readonly node: number;
  readonly form: FamilyForm;
  /** Links from free parents. */
  readonly links: readonly number[];
  /** Variable of each free parent. */
  readonly parents: readonly number[];
  /** Variable of the node itself, -1 when it is observed. */
  readonly own: number;
  /** Cumulative levels the hidden variables tell apart. */
  readonly levels: readonly number[];
  /** Factors of the family, in the order in which `fillFactors` writes them. */
  readonly factors: readonly number[];
  /** Hidden variable of the signed form, -1 otherwise. */
  readonly hidden: number;
}

/**
 * Variables, scopes and families of one pattern of evidence: all that does not depend on the numbers. Factor f < number
 * of variables is the factor on variable f alone. The first variable of a scope varies as the family sees fit.
 */
export interface Shape {
  readonly cards: readonly number[];
  readonly variableOf: Int32Array;
  readonly scopes: readonly (readonly number[])[];
  readonly families: readonly Family[];
}

/** Families with at most this many free parents stay tables: smaller than a hidden variable, and free of minus signs. */
const TABLE_PARENTS = 2;

const TWO_STATE_LEVELS = [0, TOP];
const LEVELS_OF: Readonly<Record<number, readonly number[]>> = { [SLIGHT]: [0, 1], [MARKED]: [1, TOP] };

/** Whether a node takes part as a variable: relevant and neither observed nor held. */
function isFree(findings: Findings, relevant: Uint8Array, n: number): boolean {
  const state = findings.state[n];
  return relevant[n] === 1 && (state === UNKNOWN || state === SOFT);
}

/**
 * Lays out the factors for one pattern of evidence.
 * @param parentRank for the chain form: the place of each node in a good elimination order; a chain takes its parents
 *   in that order so that it can be eliminated along with them. Undefined for the signed factorisation.
 */
export function layOut(
  structure: Structure,
  findings: Findings,
  relevant: Uint8Array,
  parentRank?: ArrayLike<number>,
): Shape {
  const cards: number[] = [];
  const variableOf = new Int32Array(structure.ids.length).fill(-1);
  const scopes: number[][] = [];
  const addVariable = (card: number): number => {
    cards.push(card);
    return cards.length - 1;
  };
  for (const n of structure.order) {
    if (structure.graded[n] === 0 && isFree(findings, relevant, n)) variableOf[n] = addVariable(2);
  }
  const drafts: { family: Family; scopes: number[][] }[] = [];
  for (const n of structure.order) {
    if (relevant[n] === 0 || findings.state[n] === SET) continue;
    drafts.push(draftFamily(n));
  }
  const families: Family[] = [];
  for (let v = 0; v < cards.length; v++) scopes.push([v]);
  for (const { family, scopes: own } of drafts) {
    const first = scopes.length;
    scopes.push(...own);
    families.push({ ...family, factors: own.map((_, i) => first + i) });
  }
  return { cards, variableOf, scopes, families };

  function draftFamily(n: number): { family: Family; scopes: number[][] } {
    const links: number[] = [];
    for (let link = structure.linkStart[n] as number; link < (structure.linkStart[n + 1] as number); link++) {
      if ((variableOf[structure.linkParent[link] as number] as number) >= 0) links.push(link);
    }
    if (parentRank !== undefined && structure.tables[n] === undefined) {
      const rank = (link: number): number => parentRank[structure.linkParent[link] as number] as number;
      links.sort((a, b) => rank(a) - rank(b) || a - b);
    }
    const parents = links.map((link) => variableOf[structure.linkParent[link] as number] as number);
    const state = findings.state[n] as number;
    const free = isFree(findings, relevant, n);
    const levels = structure.graded[n] === 1 && free ? [0, 1, TOP] : (LEVELS_OF[state] ?? TWO_STATE_LEVELS);
    let own = variableOf[n] as number;
    const common = { node: n, links, parents, levels, factors: [] };
    if (structure.tables[n] !== undefined) {
      const scope = own >= 0 ? [...parents, own] : parents;
      return {
        family: { ...common, form: 'own-table', own, hidden: -1 },
        scopes: scope.length > 0 ? [scope] : [],
      };
    }
    if (state === ABSENT) return { family: { ...common, form: 'absent', own, hidden: -1 }, scopes: [] };
    const gradedFree = structure.graded[n] === 1 && free;
    const small = parents.length <= TABLE_PARENTS;
    if (gradedFree && (small || parentRank !== undefined)) {
      own = addVariable(3);
      variableOf[n] = own;
    }
    if (parents.length === 0) return { family: { ...common, form: 'alone', own, hidden: -1 }, scopes: [] };
    if (small) {
      return {
        family: { ...common, form: 'table', own, hidden: -1 },
        scopes: [own >= 0 ? [...parents, own] : parents],
      };
    }
    if (parentRank === undefined) {
      const hidden = addVariable(levels.length);
      const pairs = parents.map((parent) => [hidden, parent]);
      if (own >= 0) pairs.push([hidden, own]);
      return { family: { ...common, form: 'signed', own, hidden }, scopes: pairs };
    }
    const chain: number[][] = [];
    let previous = -1;
    parents.forEach((parent, i) => {
      if (i === 0) return;
      const last = i === parents.length - 1;
      const next = last ? own : addVariable(levels.length);
      const before = i === 1 ? (parents[0] as number) : previous;
      chain.push(next >= 0 ? [before, parent, next] : [before, parent]);
      previous = next;
    });
    return { family: { ...common, form: 'chain', own, hidden: -1 }, scopes: chain };
  }
}
