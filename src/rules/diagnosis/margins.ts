import type { Simulation } from '../../spinning/simulation.js';
import { summariseColumn } from '../../spinning/summary.js';
import type { EndUse, Limited } from '../knowledge/end-use-schema.js';
import type { MARGINS } from '../knowledge/schema.js';
import type { MarginResult } from './types.js';

/** Margins that coordination causes are judged by. */
export type MarginId = (typeof MARGINS)[number];

/** Label and meaning of each margin. */
export const MARGIN_WORDS: Record<MarginId, { label: string; meaning: string }> = {
  twist: {
    label: 'Twist margin',
    meaning: 'Length over which the end is tied into the fibre ring, over the length it needs, less one.',
  },
  tension: {
    label: 'Tension margin',
    meaning:
      'Share of the yarn strength that the draw-off tension may take, over the share it takes, less one.',
  },
  fibres: {
    label: 'Fibres in the section',
    meaning: 'Fibres in the yarn section over the least that spin stably, less one.',
  },
  heat: {
    label: 'Heat margin',
    meaning: 'Friction power the nozzle may give up with this fibre, over what it does, less one.',
  },
  hairiness: {
    label: 'Hairiness',
    meaning: 'Hairiness the end use allows, over the computed index, less one.',
  },
  softness: { label: 'Softness', meaning: 'Computed softness over the least the end use allows, less one.' },
  fly: { label: 'Fly', meaning: 'Fly the end use allows, over the computed index, less one.' },
  'rotor-size': { label: 'Rotor size', meaning: 'Rotor diameter over the least for this staple, less one.' },
};

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
