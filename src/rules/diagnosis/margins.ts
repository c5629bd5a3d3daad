import { say } from '../../language/say.js';
import type { Simulation } from '../../spinning/simulation.js';
import { summariseColumn } from '../../spinning/summary.js';
import type { EndUse, Limited } from '../knowledge/end-use-schema.js';
import { MARGINS } from '../knowledge/schema.js';
import type { MarginResult } from './types.js';

/** Margins that coordination causes are judged by. */
export type MarginId = (typeof MARGINS)[number];

/** Label and meaning of each margin, in the language of the moment. */
export const MARGIN_WORDS: Readonly<Record<MarginId, { readonly label: string; readonly meaning: string }>> =
  Object.fromEntries(
    MARGINS.map((id) => [
      id,
      {
        get label() {
          return say(`margin.${id}`);
        },
        get meaning() {
          return say(`margin.${id}-meaning`);
        },
      },
    ]),
  ) as Record<MarginId, { readonly label: string; readonly meaning: string }>;

/** Name of the simulation variant that holds the end use's usual setup. */
export const USUAL_VARIANT = 'usual';

/**
 * One margin, draw by draw, for the base setup or a variant. The margins of character compare with the usual setup
 * of the end use in the same draw, so that what is doubtful about the indices cancels.
 */
export function marginColumn(
  simulation: Simulation,
  endUse: EndUse,
  margin: MarginId,
  variant?: string,
): Float64Array {
  const columns = variant === undefined ? simulation.base : simulation.variants[variant];
  const usual = simulation.variants[USUAL_VARIANT];
  if (columns === undefined || usual === undefined)
    throw new RangeError(`the simulation has no variant "${variant}"`);
  switch (margin) {
    case 'twist':
      return columns.twistMargin;
    case 'tension':
      return columns.tensionMargin;
    case 'fibres':
      return columns.fibresMargin;
    case 'heat':
      return columns.heatMargin;
    case 'rotor-size':
      return columns.rotorStapleMargin;
    case 'hairiness':
      return ratioColumn(
        usual.hairinessIndex,
        columns.hairinessIndex,
        1 + limitOf(endUse, 'hairiness').most / 100,
      );
    case 'softness':
      return ratioColumn(
        columns.softnessIndex,
        usual.softnessIndex,
        1 / Math.max(0.01, 1 + limitOf(endUse, 'softness').least / 100),
      );
    case 'fly':
      return ratioColumn(usual.flyIndex, columns.flyIndex, 1 + limitOf(endUse, 'fly').most / 100);
  }
}

/** Change of a quality against the usual setup that the end use still accepts, in percent; unlimited where it sets none. */
export function limitOf(endUse: EndUse, quality: Limited): { least: number; most: number; because: string } {
  const limit = endUse.limits.find((one) => one.on === quality);
  return {
    least: limit?.least ?? Number.NEGATIVE_INFINITY,
    most: limit?.most ?? Number.POSITIVE_INFINITY,
    because: limit?.because ?? '',
  };
}

/** Margin shown where the end use sets no limit. */
const FREE_MARGIN = 9;

function ratioColumn(above: Float64Array, below: Float64Array, factor: number): Float64Array {
  return above.map((value, i) => Math.min(FREE_MARGIN, (factor * value) / (below[i] ?? Number.NaN) - 1));
}

/** All margins with interval and chance of being negative. */
export function summariseMargins(simulation: Simulation, endUse: EndUse): MarginResult[] {
  return (Object.keys(MARGIN_WORDS) as MarginId[]).map((id) => {
    const summary = summariseColumn(marginColumn(simulation, endUse, id));
    return {
      id,
      ...MARGIN_WORDS[id],
      value: summary.median,
      low: summary.low,
      high: summary.high,
      chanceNegative: summary.negative,
    };
  });
}

/**
 * How much of a margin's shortfall would go if one setting stood at its reference value: the mean over the draws of
 * the share removed, 0 where nothing is short.
 */
export function shortfallShare(base: Float64Array, changed: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < base.length; i++) {
    const short = base[i] ?? 0;
    if (short < 0) sum += Math.min(1, Math.max(0, ((changed[i] ?? 0) - short) / -short));
  }
  return sum / base.length;
}
