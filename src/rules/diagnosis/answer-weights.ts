import type { Check } from '../knowledge/schema.js';
import type { PosteriorSamples } from '../network/network.js';
import type { Reasoner } from './prepare.js';

/** Share of answers that are unclear although nothing is wrong, for checks that have such an answer. */
export const LEAST_OPEN = 0.03;

/** For every answer of a check, its chance in each sample; undefined when nothing the case leads to bears on it. */
export function answerWeights(
  check: Check,
  samples: PosteriorSamples,
  { graph }: Reasoner,
): { id: string; weights: Float64Array }[] | undefined {
  const deviations = Object.entries(check.outcomes).filter(
    ([id, outcome]) => outcome.means === 'deviation' && graph.kinds.has(`${check.id}:${id}`),
  );
  if (deviations.length === 0) return undefined;
  const chances = deviations.map(([id]) => samples.leafProbabilities(`${check.id}:${id}`));
  const index = new Map(deviations.map(([id], i) => [id, i]));
  const answers = Object.entries(check.outcomes).filter(
    ([id, outcome]) => outcome.means !== 'deviation' || index.has(id),
  );
  const weights = answers.map(() => new Float64Array(samples.count));
  const open = answers.findIndex(([, outcome]) => outcome.means === 'open');
  const count = samples.count;
  const totals = new Float64Array(count);
  for (const [a, [id, outcome]] of answers.entries()) {
    const column = weights[a] as Float64Array;
    if (outcome.means === 'open') continue;
    const own = index.get(id);
    const chance = own === undefined ? undefined : chances[own];
    if (chance === undefined) column.fill(1);
    else column.set(chance);
    for (const [other, i] of index) {
      if (other === id) continue;
      if (outcome.excludes !== undefined && !outcome.excludes.includes(other)) continue;
      takeAgainst(column, chances[i] as Float64Array);
    }
    addTo(totals, column);
  }
  const rest = weights[open];
  if (rest !== undefined)
    for (let row = 0; row < count; row++) {
      const left = Math.max(LEAST_OPEN, 1 - (totals[row] as number));
      rest[row] = left;
      totals[row] = (totals[row] as number) + left;
    }
  for (const column of weights) divideBy(column, totals);
  return answers.map(([id], a) => ({ id, weights: weights[a] ?? new Float64Array(samples.count) }));
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

function divideBy(column: Float64Array, totals: Float64Array): void {
  for (let row = 0; row < column.length; row++)
    column[row] = (column[row] as number) / (totals[row] as number);
}
