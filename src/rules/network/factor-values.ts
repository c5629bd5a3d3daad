import { type Findings, SET, SOFT, UNKNOWN } from './findings.js';
import { type Family, type Shape, TOP } from './shape.js';
import type { Numbers, Structure } from './structure.js';

/** Where the cells of a factor lie: its start, and the step of each variable in the order of its scope. */
export interface FactorPlace {
  readonly offset: number;
  readonly strides: readonly number[];
}

/** State of a parent that is not a variable: 1 present, 0 absent. */
function fixedState(findings: Findings, n: number): number {
  const state = findings.state[n] as number;
  return state === SET ? (findings.held[n] as number) : state > 1 ? 1 : 0;
}

/** Whether the shape takes the family's node for observed and the findings do not. */
function isTakenBack(findings: Findings, family: Family): boolean {
  // A graded leaf seen softly has three levels and no variable in the signed form; without likelihoods it sums to one.
  return findings.state[family.node] === UNKNOWN && family.own < 0 && family.levels.length < 3;
}

/** F_level of one link with the parent present. */
function linkFactor(numbers: Numbers, link: number, level: number): number {
  if (level === TOP) return 1;
  return 1 - ((level === 0 ? numbers.strength[link] : numbers.marked[link]) as number);
}

/** F_level of the leak and of all parents known to be present. */
function baseFactor(
  structure: Structure,
  numbers: Numbers,
  findings: Findings,
  variableOf: Int32Array,
  node: number,
  level: number,
): number {
  if (level === TOP) return 1;
  let value = 1 - ((level === 0 ? numbers.leak[node] : numbers.leakMarked[node]) as number);
  for (
    let link = structure.linkStart[node] as number;
    link < (structure.linkStart[node + 1] as number);
    link++
  ) {
    const parent = structure.linkParent[link] as number;
    if ((variableOf[parent] as number) < 0 && fixedState(findings, parent) === 1) {
      value *= linkFactor(numbers, link, level);
    }
  }
  return value;
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
  let logScale = findings.logScale;
  const { variableOf, cards } = shape;
  const place = (factor: number): FactorPlace => places[factor] as FactorPlace;
  cards.forEach((card, v) => {
    const { offset } = place(v);
    cells.fill(1, offset, offset + card);
  });
  const scaleUnary = (v: number, state: number, by: number): void => {
    const at = place(v).offset + state;
    cells[at] = (cells[at] as number) * by;
  };
  for (const family of shape.families) {
    const { node, own } = family;
    if (findings.state[node] === SOFT && own >= 0) {
      for (let s = 0; s < (cards[own] as number); s++) {
        scaleUnary(own, s, findings.likelihood[3 * node + s] as number);
      }
    }
    if (isTakenBack(findings, family)) fillWithOnes(family);
    else if (family.form === 'own-table') fillOwnTable(family);
    else fillNoisy(family);
  }
  return logScale;

  /** Factors whose product, summed over the hidden variable, is one for all states of the parents. */
  function fillWithOnes({ factors, parents, form, levels, hidden }: Family): void {
    const top = levels.length - 1;
    for (const factor of factors) {
      const { offset, strides } = place(factor);
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
    if (form === 'signed') for (let s = 0; s < top; s++) scaleUnary(hidden, s, 0);
  }

  function fillNoisy(family: Family): void {
    const { node, form, levels, links, parents, own, factors } = family;
    const base = levels.map((level) => baseFactor(structure, numbers, findings, variableOf, node, level));
    const top = levels.length - 1;
    const cumulative = (state: number): number => (state < 0 ? 0 : (base[state] as number));
    switch (form) {
      case 'absent': {
        logScale += Math.log(cumulative(0));
        links.forEach((link, i) => {
          scaleUnary(parents[i] as number, 1, linkFactor(numbers, link, 0));
        });
        return;
      }
      case 'alone': {
        if (own < 0) {
          logScale += Math.log(cumulative(top) - cumulative(top - 1));
          return;
        }
        levels.forEach((_, s) => {
          scaleUnary(own, s, cumulative(s) - cumulative(s - 1));
        });
        // Soft evidence on a root is no surprise to the rest: taken out here, it leaves the size of P(evidence) to
        // say how strongly the signed factors cancel.
        const { offset } = place(own);
        let sum = 0;
        for (let s = 0; s < (cards[own] as number); s++) sum += cells[offset + s] as number;
        if (sum > 0) {
          for (let s = 0; s < (cards[own] as number); s++) scaleUnary(own, s, 1 / sum);
          logScale += Math.log(sum);
        }
        return;
      }
      case 'table': {
        const { offset, strides } = place(factors[0] as number);
        const ownStride = own >= 0 ? (strides[parents.length] as number) : 0;
        for (let config = 0; config < 1 << parents.length; config++) {
          let at = offset;
          const f = [...base];
          links.forEach((link, i) => {
            if (((config >> i) & 1) === 0) return;
            at += strides[i] as number;
            levels.forEach((level, s) => {
              f[s] = (f[s] as number) * linkFactor(numbers, link, level);
            });
          });
          if (own >= 0) {
            for (let s = 0; s <= top; s++)
              cells[at + s * ownStride] = (f[s] as number) - (s > 0 ? (f[s - 1] as number) : 0);
          } else {
            cells[at] = (f[top] as number) - (f[top - 1] as number);
          }
        }
        return;
      }
      case 'signed': {
        fillSigned(family, base);
        return;
      }
      case 'worst': {
        fillWorst(family, base);
        return;
      }
    }
  }

  /** P(y | x) = Σ_a weight(y, a) · Π_i g_i(x_i, a), one state of `a` per cumulative level. */
  function fillSigned(family: Family, base: readonly number[]): void {
    const { node, levels, links, own, factors, hidden } = family;
    links.forEach((link, i) => {
      const { offset, strides } = place(factors[i] as number);
      const [byHidden, byParent] = strides as [number, number];
      levels.forEach((level, a) => {
        cells[offset + a * byHidden] = 1;
        cells[offset + a * byHidden + byParent] = linkFactor(numbers, link, level);
      });
    });
    const unary = place(hidden).offset;
    const top = levels.length - 1;
    if (own >= 0) {
      const { offset, strides } = place(factors[links.length] as number);
      const [byHidden, byOwn] = strides as [number, number];
      cells[offset] = base[0] as number;
      cells[offset + byOwn] = -(base[0] as number);
      cells[offset + byHidden] = 0;
      cells[offset + byHidden + byOwn] = 1;
      return;
    }
    // A graded leaf seen softly, or wanted as a target: Σ_y λ_y (F_y - F_(y-1)), gathered by level.
    const soft = levels.length === 3;
    const lambda = (s: number): number => {
      if (!soft) return s === top ? 1 : 0;
      return findings.state[node] === UNKNOWN ? 1 : (findings.likelihood[3 * node + s] as number);
    };
    levels.forEach((_, a) => {
      const weight = a === top ? lambda(a) : lambda(a) - lambda(a + 1);
      cells[unary + a] = weight * (base[a] as number);
    });
  }

  /** P(this link brings level s | x) for each parent; the leak goes with the first one. */
  function fillWorst(family: Family, base: readonly number[]): void {
    const { levels, links, own, factors, hidden } = family;
    links.forEach((link, i) => {
      const { offset, strides } = place(factors[i] as number);
      const [byHidden, byParent] = strides as [number, number];
      for (let x = 0; x < 2; x++) {
        let below = 0;
        levels.forEach((level, s) => {
          const upTo = (i === 0 ? (base[s] as number) : 1) * (x === 1 ? linkFactor(numbers, link, level) : 1);
          cells[offset + s * byHidden + x * byParent] = upTo - below;
          below = upTo;
        });
      }
    });
    const top = levels.length - 1;
    if (own < 0) {
      for (let s = 0; s < top; s++) scaleUnary(hidden, s, 0);
    } else if (own !== hidden) {
      // The node judges; the factor on the hidden variable alone brings nothing.
      for (let s = 1; s <= top; s++) scaleUnary(hidden, s, 0);
      const { offset, strides } = place(factors[links.length] as number);
      const [byHidden, byOwn] = strides as [number, number];
      for (let s = 0; s <= top; s++) {
        for (let y = 0; y <= top; y++) cells[offset + s * byHidden + y * byOwn] = s === y ? 1 : 0;
      }
    }
  }

  function fillOwnTable(family: Family): void {
    const { node, parents, own, factors } = family;
    const table = structure.tables[node] as Float64Array;
    const start = structure.linkStart[node] as number;
    const count = (structure.linkStart[node + 1] as number) - start;
    const factor = factors[0];
    const { offset, strides } = factor === undefined ? { offset: 0, strides: [] } : place(factor);
    for (let config = 0; config < 1 << parents.length; config++) {
      let row = 0;
      let at = offset;
      let freeParent = 0;
      for (let i = 0; i < count; i++) {
        const parent = structure.linkParent[start + i] as number;
        let present = 0;
        if ((variableOf[parent] as number) >= 0) {
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
        if (factor === undefined) logScale += Math.log(value);
        else cells[at] = value;
      }
    }
  }
}
