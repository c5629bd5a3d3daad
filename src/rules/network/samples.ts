import { type Columns, chancesGiven, cumulativeGiven } from './columns.js';
import { NetworkError } from './errors.js';
import { type Findings, UNKNOWN } from './findings.js';
import type { NodeId, PosteriorSamples } from './network.js';
import type { Numbers, Structure } from './structure.js';

/** Dresses columns as `PosteriorSamples`. Leaf probabilities are worked out once a leaf and kept. */
export function presentSamples(
  structure: Structure,
  numbers: Numbers,
  findings: Findings,
  columns: Columns,
  count: number,
): PosteriorSamples {
  const kept = new Map<number, Float64Array>();
  const find = (id: NodeId): number => {
    const n = structure.index.get(id);
    if (n === undefined) throw new NetworkError(`there is no node "${id}"`);
    return n;
  };
  const column = (id: NodeId): Uint8Array => {
    const found = columns[find(id)];
    if (found === undefined) throw new NetworkError(`"${id}" is not sampled; ask for its leaf probability`);
    return found;
  };
  const leaf = (id: NodeId): number => {
    const n = find(id);
    if (columns[n] !== undefined) throw new NetworkError(`"${id}" is sampled; read its column`);
    if (findings.state[n] !== UNKNOWN)
      throw new NetworkError(`"${id}" is observed or set; nothing is left to predict`);
    return n;
  };
  const leafProbabilities = (id: NodeId): Float64Array => {
    const n = leaf(id);
    const known = kept.get(n);
    if (known !== undefined) return known;
    const chances = new Float64Array(count);
    chancesGiven(structure, numbers, columns, n, chances);
    kept.set(n, chances);
    return chances;
  };
  const checkRow = (row: number): void => {
    if (!(Number.isInteger(row) && row >= 0 && row < count)) {
      throw new NetworkError(`row must be an integer from 0 to ${count - 1}, not ${row}`);
    }
  };
  return {
    count,
    ids: structure.ids.filter((_, n) => columns[n] !== undefined),
    column,
    value(row, id) {
      checkRow(row);
      return column(id)[row] === 1;
    },
    leafProbability(row, id) {
      checkRow(row);
      return leafProbabilities(id)[row] as number;
    },
    leafProbabilities,
    gradeProbabilities(id) {
      const n = leaf(id);
      if (structure.graded[n] === 0) throw new NetworkError(`"${id}" has no grades`);
      const { leakMarked, marked } = numbers;
      const below = new Float64Array(count);
      cumulativeGiven(structure, leakMarked[n] as number, marked, columns, n, below);
      return { atLeastSlight: leafProbabilities(id), marked: below.map((b) => 1 - b) };
    },
  };
}
