import { type Findings, SET, UNKNOWN } from './findings.js';
import { type Family, TOP } from './shape.js';
import type { Numbers, Structure } from './structure.js';

/** State of a parent that is not a variable: 1 present, 0 absent. */
export function fixedState(findings: Findings, n: number): number {
  const state = findings.state[n] as number;
  return state === SET ? (findings.held[n] as number) : state > 1 ? 1 : 0;
}

/** Whether the shape takes the family's node for observed and the findings do not. */
export function isTakenBack(findings: Findings, family: Family): boolean {
  // A graded leaf seen softly has three levels and no variable in the signed form; without likelihoods it sums to one.
  return findings.state[family.node] === UNKNOWN && family.own < 0 && family.levels.length < 3;
}

/** F_level of one link with the parent present. */
export function linkFactor(numbers: Numbers, link: number, level: number): number {
  if (level === TOP) return 1;
  return 1 - ((level === 0 ? numbers.strength[link] : numbers.marked[link]) as number);
}

/** F_level of the leak and of all parents known to be present. */
export function baseFactor(
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
