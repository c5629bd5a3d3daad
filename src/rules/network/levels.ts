import type { Step } from './bucket-tree.js';

/** Levels of hidden variables in one table: a column for each. */
export interface Levels {
  readonly variables: number[];
  readonly columns: Uint8Array[];
}

export const NO_LEVELS: Levels = { variables: [], columns: [] };

/** The states of a variable in the left and in the right operand, by row: one column twice if they are the same. */
export interface Part {
  readonly variable: number;
  readonly left: Uint8Array;
  readonly right: Uint8Array;
}

/** The column of a hidden variable, if it is in the table. */
export function columnOf(levels: Levels, variable: number): Uint8Array | undefined {
  return levels.columns[levels.variables.indexOf(variable)];
}

/**
 * Hands the levels of a step's result to its operands.
 * @param split those that both operands get, each its own part
 */
export function handOn(
  step: Step,
  levels: Levels,
  split: readonly Part[],
): { readonly left: Levels; readonly right: Levels } {
  const left: Levels = { variables: [], columns: [] };
  const right: Levels = { variables: [], columns: [] };
  for (const part of split) {
    add(left, part.variable, part.left);
    add(right, part.variable, part.right);
  }
  for (let i = 0; i < levels.variables.length; i++) {
    const v = levels.variables[i] as number;
    if (left.variables.includes(v)) continue;
    add(step.left.scope.includes(v) ? left : right, v, levels.columns[i] as Uint8Array);
  }
  return { left, right };
}

function add(levels: Levels, variable: number, column: Uint8Array): void {
  levels.variables.push(variable);
  levels.columns.push(column);
}
