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
  /** A hidden variable with one state per cumulative level, some weights negative: the products are plain. */
  | 'signed'
  /**
   * A hidden variable that holds the worst level the parents bring: nothing is negative, but tables combine by the
   * worse of two levels (after Zhang & Poole 1996).
   */
  | 'worst'
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
  /** 1 for the hidden variables whose tables combine by the worse of two levels. */
  readonly combines: Uint8Array;
  /** Factors that judge what a family has brought as a whole, with the hidden variable of that family. */
  readonly judges: ReadonlyMap<number, number>;
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
 * @param nonNegative whether large families take the form `worst` instead of `signed`
 */
export function layOut(
  structure: Structure,
  findings: Findings,
  relevant: Uint8Array,
  nonNegative: boolean,
): Shape {
  const cards: number[] = [];
  const variableOf = new Int32Array(structure.ids.length).fill(-1);
  const addVariable = (card: number): number => {
    cards.push(card);
    return cards.length - 1;
  };
  for (const n of structure.order) {
    if (structure.graded[n] === 0 && isFree(findings, relevant, n)) variableOf[n] = addVariable(2);
  }
  const drafts: { family: Family; scopes: number[][] }[] = [];
  for (const n of structure.order) {
    if (relevant[n] === 1 && findings.state[n] !== SET) drafts.push(draftFamily(n));
  }
  const scopes = cards.map((_, v) => [v]);
  const combines = new Uint8Array(cards.length);
  const judges = new Map<number, number>();
  const families = drafts.map(({ family, scopes: own }): Family => {
    const first = scopes.length;
    scopes.push(...own);
    if (family.form === 'worst') {
      combines[family.hidden] = 1;
      const pairedWithNode = family.own >= 0 && family.own !== family.hidden;
      judges.set(pairedWithNode ? first + family.parents.length : family.hidden, family.hidden);
    }
    return { ...family, factors: own.map((_, i) => first + i) };
  });
  return { cards, combines, judges, variableOf, scopes, families };

  function draftFamily(n: number): { family: Family; scopes: number[][] } {
    const links: number[] = [];
    for (let link = structure.linkStart[n] as number; link < (structure.linkStart[n + 1] as number); link++) {
      if ((variableOf[structure.linkParent[link] as number] as number) >= 0) links.push(link);
    }
    const parents = links.map((link) => variableOf[structure.linkParent[link] as number] as number);
    const state = findings.state[n] as number;
    const gradedFree = structure.graded[n] === 1 && isFree(findings, relevant, n);
    const levels = gradedFree ? [0, 1, TOP] : (LEVELS_OF[state] ?? TWO_STATE_LEVELS);
    let own = variableOf[n] as number;
    const common = { node: n, links, parents, levels, factors: [], hidden: -1 };
    if (structure.tables[n] !== undefined) {
      const scope = own >= 0 ? [...parents, own] : parents;
      return { family: { ...common, form: 'own-table', own }, scopes: scope.length > 0 ? [scope] : [] };
    }
    if (state === ABSENT) return { family: { ...common, form: 'absent', own }, scopes: [] };
    const small = parents.length <= TABLE_PARENTS;
    if (gradedFree && (small || nonNegative)) {
      own = addVariable(3);
      variableOf[n] = own;
    }
    if (parents.length === 0) return { family: { ...common, form: 'alone', own }, scopes: [] };
    if (small)
      return { family: { ...common, form: 'table', own }, scopes: [own >= 0 ? [...parents, own] : parents] };
    // The hidden variable of a graded leaf can stand for the leaf itself where nothing is negative.
    const hidden = nonNegative && gradedFree ? own : addVariable(levels.length);
    const pairs = parents.map((parent) => [hidden, parent]);
    if (own >= 0 && own !== hidden) pairs.push([hidden, own]);
    return { family: { ...common, form: nonNegative ? 'worst' : 'signed', own, hidden }, scopes: pairs };
  }
}
