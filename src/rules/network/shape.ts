import { keepLayout } from '../keep-layout.js';
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
  const layout = keepLayout(new Layout(structure, findings, relevant, nonNegative));
  const drafts = layout.draftFamilies();
  const { cards, variableOf } = layout;
  const scopes: number[][] = [];
  for (let v = 0; v < cards.length; v++) scopes.push([v]);
  const combines = new Uint8Array(cards.length);
  const judges = new Map<number, number>();
  const families: Family[] = [];
  for (const { family, scopes: own } of drafts) {
    const first = scopes.length;
    const factors: number[] = [];
    for (const scope of own) factors.push(scopes.push(scope) - 1);
    if (family.form === 'worst') {
      combines[family.hidden] = 1;
      const pairedWithNode = family.own >= 0 && family.own !== family.hidden;
      judges.set(pairedWithNode ? first + family.parents.length : family.hidden, family.hidden);
    }
    families.push({ ...family, factors });
  }
  return { cards, combines, judges, variableOf, scopes, families };
}

/** A family and the scopes of its factors. */
interface Draft {
  readonly family: Family;
  readonly scopes: readonly number[][];
}

/** Variables and families in the making. */
class Layout {
  readonly cards: number[] = [];
  readonly variableOf: Int32Array;

  constructor(
    private readonly structure: Structure,
    private readonly findings: Findings,
    private readonly relevant: Uint8Array,
    private readonly nonNegative: boolean,
  ) {
    this.variableOf = new Int32Array(structure.ids.length).fill(-1);
  }

  draftFamilies(): Draft[] {
    const { structure, findings, relevant } = this;
    for (const n of structure.order) {
      if (structure.graded[n] === 0 && isFree(findings, relevant, n))
        this.variableOf[n] = this.addVariable(2);
    }
    const drafts: Draft[] = [];
    for (const n of structure.order) {
      if (relevant[n] === 1 && findings.state[n] !== SET) drafts.push(this.draftFamily(n));
    }
    return drafts;
  }

  private addVariable(card: number): number {
    this.cards.push(card);
    return this.cards.length - 1;
  }

  private draftFamily(n: number): Draft {
    const { structure, findings, relevant, nonNegative, variableOf } = this;
    const links: number[] = [];
    const parents: number[] = [];
    for (let link = structure.linkStart[n] as number; link < (structure.linkStart[n + 1] as number); link++) {
      const parent = variableOf[structure.linkParent[link] as number] as number;
      if (parent < 0) continue;
      links.push(link);
      parents.push(parent);
    }
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
      own = this.addVariable(3);
      variableOf[n] = own;
    }
    if (parents.length === 0) return { family: { ...common, form: 'alone', own }, scopes: [] };
    if (small)
      return { family: { ...common, form: 'table', own }, scopes: [own >= 0 ? [...parents, own] : parents] };
    // The hidden variable of a graded leaf can stand for the leaf itself where nothing is negative.
    const hidden = nonNegative && gradedFree ? own : this.addVariable(levels.length);
    const pairs = parents.map((parent) => [hidden, parent]);
    if (own >= 0 && own !== hidden) pairs.push([hidden, own]);
    return { family: { ...common, form: nonNegative ? 'worst' : 'signed', own, hidden }, scopes: pairs };
  }
}
