import { keepLayout } from '../keep-layout.js';
import { baseFactor, fixedState, isTakenBack, linkFactor } from './factor-numbers.js';
import { type Findings, SOFT, UNKNOWN } from './findings.js';
import type { Family, Shape } from './shape.js';
import type { Numbers, Structure } from './structure.js';

/** Where the cells of a factor lie: its start, and the step of each variable in the order of its scope. */
export interface FactorPlace {
  readonly offset: number;
  readonly strides: readonly number[];
}

/**
 * Writes the numbers of all factors into `cells` for one set of findings and link numbers. The findings may lack some
 * that the shape was laid out for: those families get factors of one.
 * @returns the logarithm of the factors that hold no variable; -Infinity when they are zero
 */
export function fillFactors(
  structure: Structure,
  shape: Shape,
  numbers: Numbers,
  findings: Findings,
  places: readonly FactorPlace[],
  cells: Float64Array,
): number {
  return keepLayout(new FactorFiller(structure, shape, numbers, findings, places, cells)).fill();
}

/** One filling of a tree's factors, family by family. */
class FactorFiller {
  private logScale: number;

  constructor(
    private readonly structure: Structure,
    private readonly shape: Shape,
    private readonly numbers: Numbers,
    private readonly findings: Findings,
    private readonly places: readonly FactorPlace[],
    private readonly cells: Float64Array,
  ) {
    this.logScale = findings.logScale;
  }

  fill(): number {
    const { cells, findings, shape } = this;
    for (let v = 0; v < shape.cards.length; v++) {
      const { offset } = this.place(v);
      cells.fill(1, offset, offset + (shape.cards[v] as number));
    }
    for (const family of shape.families) {
      const { node, own } = family;
      if (findings.state[node] === SOFT && own >= 0) {
        for (let s = 0; s < (shape.cards[own] as number); s++)
          this.scaleUnary(own, s, findings.likelihood[3 * node + s] as number);
      }
      if (isTakenBack(findings, family)) this.fillWithOnes(family);
      else if (family.form === 'own-table') this.fillOwnTable(family);
      else this.fillNoisy(family);
    }
    return this.logScale;
  }

  private place(factor: number | undefined): FactorPlace {
    return this.places[factor as number] as FactorPlace;
  }

  private scaleUnary(v: number, state: number, by: number): void {
    const at = this.place(v).offset + state;
    this.cells[at] = (this.cells[at] as number) * by;
  }

  /** Factors whose product, summed over the hidden variable, is one for all states of the parents. */
  private fillWithOnes({ factors, parents, form, levels, hidden }: Family): void {
    const { cells } = this;
    const top = levels.length - 1;
    for (const factor of factors) {
      const { offset, strides } = this.place(factor);
      if (hidden < 0) {
        for (let config = 0; config < 1 << parents.length; config++) {
          let at = offset;
          for (let i = 0; i < parents.length; i++) at += ((config >> i) & 1) * (strides[i] as number);
          cells[at] = 1;
        }
        continue;
      }
      const [byHidden, byParent] = strides as [number, number];
      for (let s = 0; s <= top; s++) {
        const value = form === 'worst' && s > 0 ? 0 : 1;
        cells[offset + s * byHidden] = value;
        cells[offset + s * byHidden + byParent] = value;
      }
    }
    if (form === 'signed') for (let s = 0; s < top; s++) this.scaleUnary(hidden, s, 0);
  }

  private fillNoisy(family: Family): void {
    const base = this.baseOf(family);
    switch (family.form) {
      case 'absent':
        this.logScale += Math.log(base[0] as number);
        for (let i = 0; i < family.links.length; i++)
          this.scaleUnary(
            family.parents[i] as number,
            1,
            linkFactor(this.numbers, family.links[i] as number, 0),
          );
        return;
      case 'alone':
        this.fillAlone(family, base);
        return;
      case 'table':
        this.fillTable(family, base);
        return;
      case 'signed':
        this.fillSigned(family, base);
        return;
      case 'worst':
        this.fillWorst(family, base);
        return;
    }
  }

  /** F of the leak and the parents known to be present, by level. */
  private baseOf({ node, levels }: Family): number[] {
    const { structure, numbers, findings, shape } = this;
    const base: number[] = [];
    for (const level of levels)
      base.push(baseFactor(structure, numbers, findings, shape.variableOf, node, level));
    return base;
  }

  private fillAlone({ levels, own }: Family, base: readonly number[]): void {
    const top = levels.length - 1;
    if (own < 0) {
      this.logScale += Math.log(stepUp(base, top));
      return;
    }
    for (let s = 0; s <= top; s++) this.scaleUnary(own, s, stepUp(base, s));
    // Soft evidence on a root is no surprise to the rest: taken out here, it leaves the size of P(evidence) to
    // say how strongly the signed factors cancel.
    const { offset } = this.place(own);
    const card = this.shape.cards[own] as number;
    let sum = 0;
    for (let s = 0; s < card; s++) sum += this.cells[offset + s] as number;
    if (sum > 0) {
      for (let s = 0; s < card; s++) this.scaleUnary(own, s, 1 / sum);
      this.logScale += Math.log(sum);
    }
  }

  private fillTable({ levels, links, parents, own, factors }: Family, base: readonly number[]): void {
    const { cells, numbers } = this;
    const { offset, strides } = this.place(factors[0]);
    const top = levels.length - 1;
    for (let config = 0; config < 1 << parents.length; config++) {
      let at = offset;
      const f = [...base];
      for (let i = 0; i < links.length; i++) {
        if (((config >> i) & 1) === 0) continue;
        at += strides[i] as number;
        for (let s = 0; s <= top; s++)
          f[s] = (f[s] as number) * linkFactor(numbers, links[i] as number, levels[s] as number);
      }
      if (own < 0) {
        cells[at] = (f[top] as number) - (f[top - 1] as number);
        continue;
      }
      const byOwn = strides[parents.length] as number;
      for (let s = 0; s <= top; s++)
        cells[at + s * byOwn] = (f[s] as number) - (s > 0 ? (f[s - 1] as number) : 0);
    }
  }

  /** P(y | x) = Σ_a weight(y, a) · Π_i g_i(x_i, a), one state of `a` per cumulative level. */
  private fillSigned({ node, levels, links, own, factors, hidden }: Family, base: readonly number[]): void {
    const { cells, findings, numbers } = this;
    for (let i = 0; i < links.length; i++) {
      const { offset, strides } = this.place(factors[i]);
      const [byHidden, byParent] = strides as [number, number];
      for (let a = 0; a < levels.length; a++) {
        cells[offset + a * byHidden] = 1;
        cells[offset + a * byHidden + byParent] = linkFactor(
          numbers,
          links[i] as number,
          levels[a] as number,
        );
      }
    }
    if (own >= 0) {
      const { offset, strides } = this.place(factors[links.length]);
      const [byHidden, byOwn] = strides as [number, number];
      cells[offset] = base[0] as number;
      cells[offset + byOwn] = -(base[0] as number);
      cells[offset + byHidden] = 0;
      cells[offset + byHidden + byOwn] = 1;
      return;
    }
    const unary = this.place(hidden).offset;
    const top = levels.length - 1;
    // A graded leaf seen softly, or wanted as a target: Σ_y λ_y (F_y - F_(y-1)), gathered by level.
    const soft = levels.length === 3;
    const blank = findings.state[node] === UNKNOWN;
    let above = 0;
    for (let a = top; a >= 0; a--) {
      const lambda = soft ? (blank ? 1 : (findings.likelihood[3 * node + a] as number)) : a === top ? 1 : 0;
      cells[unary + a] = (a === top ? lambda : lambda - above) * (base[a] as number);
      above = lambda;
    }
  }

  /** P(this link brings level s | x) for each parent; the leak goes with the first one. */
  private fillWorst({ levels, links, own, factors, hidden }: Family, base: readonly number[]): void {
    const { cells, numbers } = this;
    const top = levels.length - 1;
    for (let i = 0; i < links.length; i++) {
      const { offset, strides } = this.place(factors[i]);
      const [byHidden, byParent] = strides as [number, number];
      for (let x = 0; x < 2; x++) {
        let below = 0;
        for (let s = 0; s <= top; s++) {
          const upTo =
            (i === 0 ? (base[s] as number) : 1) *
            (x === 1 ? linkFactor(numbers, links[i] as number, levels[s] as number) : 1);
          cells[offset + s * byHidden + x * byParent] = upTo - below;
          below = upTo;
        }
      }
    }
    if (own < 0) {
      for (let s = 0; s < top; s++) this.scaleUnary(hidden, s, 0);
    } else if (own !== hidden) {
      // The node judges; the factor on the hidden variable alone brings nothing.
      for (let s = 1; s <= top; s++) this.scaleUnary(hidden, s, 0);
      const { offset, strides } = this.place(factors[links.length]);
      const [byHidden, byOwn] = strides as [number, number];
      for (let s = 0; s <= top; s++) {
        for (let y = 0; y <= top; y++) cells[offset + s * byHidden + y * byOwn] = s === y ? 1 : 0;
      }
    }
  }

  private fillOwnTable({ node, parents, own, factors }: Family): void {
    const { cells, findings, shape, structure } = this;
    const table = structure.tables[node] as Float64Array;
    const start = structure.linkStart[node] as number;
    const count = (structure.linkStart[node + 1] as number) - start;
    const factor = factors[0];
    const { offset, strides } = factor === undefined ? { offset: 0, strides: [] } : this.place(factor);
    for (let config = 0; config < 1 << parents.length; config++) {
      let row = 0;
      let at = offset;
      let freeParent = 0;
      for (let i = 0; i < count; i++) {
        const parent = structure.linkParent[start + i] as number;
        let present = 0;
        if ((shape.variableOf[parent] as number) >= 0) {
          present = (config >> freeParent) & 1;
          at += present * (strides[freeParent] as number);
          freeParent++;
        } else present = fixedState(findings, parent);
        row = 2 * row + present;
      }
      const chance = table[row] as number;
      if (own >= 0) {
        const byOwn = strides[parents.length] as number;
        cells[at] = 1 - chance;
        cells[at + byOwn] = chance;
      } else {
        const value = fixedState(findings, node) === 1 ? chance : 1 - chance;
        if (factor === undefined) this.logScale += Math.log(value);
        else cells[at] = value;
      }
    }
  }
}

/** What a cumulative gains at one of its levels. */
function stepUp(cumulative: readonly number[], level: number): number {
  return (cumulative[level] as number) - (level === 0 ? 0 : (cumulative[level - 1] as number));
}
