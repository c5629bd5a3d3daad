import { logCountAtMost, logCountProbability } from './count-likelihood.js';
import type { CountOverHours } from './exposure.js';
import type { RateSpread } from './shrinkage.js';

/** Share of the positions, from the lowest rate up, that is taken to be ordinary. Judgement: fewer than a fifth of a frame is at fault. */
const ORDINARY_SHARE = 0.8;

/** Gain in ln likelihood that a spread must bring: the one-sided 5 % point of the likelihood-ratio test (half of 2.706). */
const SPREAD_GAIN = 1.353;

/** Gamma shapes tried for the spread of true rates; a shape of 0.5 is a coefficient of variation of 1.4. */
const SHAPES = [100, 50, 30, 20, 14, 10, 7, 5, 3.5, 2.5, 1.8, 1.2, 0.8, 0.5];

/**
 * The ordinary spread of true rates between positions, unspoilt by the bad ones: a gamma-mixed Poisson fitted by maximum
 * likelihood to the lower four fifths alone, each count conditioned on lying below the cut (an empirical null in the sense of
 * Efron 2004). Fitting to what is left after flagging would make the spread too narrow, fitting to all would let bad positions
 * hide themselves. Shape is Infinity when the counts scatter no more than chance. Expects 3 or more checked positions.
 */
export function fitOrdinarySpread(positions: readonly CountOverHours[]): RateSpread {
  const rates = positions.map((position) => position.count / position.rotorHours).sort((a, b) => a - b);
  const cut = rates[Math.min(rates.length - 1, Math.floor(ORDINARY_SHARE * rates.length))] ?? 0;
  const kept = positions
    .map((position) => ({ ...position, highest: Math.floor(cut * position.rotorHours + 1e-9) }))
    .filter((position) => position.count <= position.highest);
  const cells = countAlike(kept);
  const usual = kept.reduce((sum, position) => sum + position.count, 0);
  const hours = kept.reduce((sum, position) => sum + position.rotorHours, 0);
  if (usual === 0) return { mean: 0, shape: Number.POSITIVE_INFINITY };

  const logLikelihood = (mean: number, shape: number) =>
    cells.reduce((sum, { count, rotorHours, highest, times }) => {
      const expected = mean * rotorHours;
      const phi = 1 + expected / shape;
      return (
        sum + times * (logCountProbability(count, expected, phi) - logCountAtMost(highest, expected, phi))
      );
    }, 0);
  const best = (shape: number) => {
    const mean = maximise((x) => logLikelihood(Math.exp(x), shape), Math.log(usual / hours), 2);
    return { mean: Math.exp(mean), shape, value: logLikelihood(Math.exp(mean), shape) };
  };
  const chance = best(Number.POSITIVE_INFINITY);
  let spread = chance;
  for (const shape of SHAPES) {
    const candidate = best(shape);
    if (candidate.value > spread.value) spread = candidate;
  }
  return spread.value - chance.value > SPREAD_GAIN ? spread : chance;
}

/** Positions with the same count, hours and cut, counted once. */
function countAlike(positions: readonly (CountOverHours & { readonly highest: number })[]) {
  const cells = new Map<string, CountOverHours & { readonly highest: number; times: number }>();
  for (const position of positions) {
    const key = `${position.count}/${position.rotorHours}`;
    const cell = cells.get(key);
    if (cell) cell.times++;
    else cells.set(key, { ...position, times: 1 });
  }
  return [...cells.values()];
}

/** Golden-section search for the single peak of a function between from - 0.5 and from + width. */
function maximise(f: (x: number) => number, from: number, width: number): number {
  const golden = (Math.sqrt(5) - 1) / 2;
  let low = from - 0.5;
  let high = from + width;
  let a = high - golden * (high - low);
  let b = low + golden * (high - low);
  let fa = f(a);
  let fb = f(b);
  while (high - low > 1e-4) {
    if (fa > fb) {
      high = b;
      b = a;
      fb = fa;
      a = high - golden * (high - low);
      fa = f(a);
    } else {
      low = a;
      a = b;
      fa = fb;
      b = low + golden * (high - low);
      fb = f(b);
    }
  }
  return (low + high) / 2;
}
