import { wordTable } from '../../language/say.js';
import type { ComputedState } from '../../spinning/state.js';
import { OBJECTIVES, type Objective, type PlanBook } from '../knowledge/plan-schema.js';

/** Values of all objectives, each so that more is better: chance 0–1, qualities in percent of now, effort in minutes. */
export type ObjectiveValues = Readonly<Record<Objective, number>>;

const LABELS = wordTable('objective', OBJECTIVES);
const info = (objective: Objective, better: 1 | -1): { readonly label: string; readonly better: 1 | -1 } => ({
  get label() {
    return LABELS[objective];
  },
  better,
});

/** Words and the sign that makes more of it better. */
export const OBJECTIVE_INFO: Readonly<
  Record<Objective, { readonly label: string; readonly better: 1 | -1 }>
> = {
  chance: info('chance', 1),
  hairiness: info('hairiness', -1),
  hand: info('hand', 1),
  fly: info('fly', -1),
  tenacity: info('tenacity', 1),
  output: info('output', 1),
  'nozzle-life': info('nozzle-life', 1),
  effort: info('effort', -1),
};

/** The quantity behind each quality. */
export const QUALITY_FIELDS = {
  hairiness: 'hairinessIndex',
  hand: 'softnessIndex',
  fly: 'flyIndex',
  tenacity: 'yarnTenacityCnPerTex',
  output: 'outputGPerRotorH',
  'nozzle-life': 'nozzleLifeH',
} as const;
export type Quality = keyof typeof QUALITY_FIELDS;

/** Changes of the qualities at the central values, percent. */
export function centralChanges(before: ComputedState, after: ComputedState): Record<Quality, number> {
  const change = (quality: Quality) => {
    const field = QUALITY_FIELDS[quality];
    return 100 * (after[field] / before[field] - 1);
  };
  return {
    hairiness: change('hairiness'),
    hand: change('hand'),
    fly: change('fly'),
    tenacity: change('tenacity'),
    output: change('output'),
    'nozzle-life': change('nozzle-life'),
  };
}

/**
 * An objective in whole grains, more being better: what two plans share here the model cannot tell apart.
 */
export function inGrains(objective: Objective, value: number, grains: PlanBook['grains']): number {
  // The last digits are dropped first, so that a value on the edge of a grain falls the same way on every machine.
  const grain = grains[objective].value;
  return Math.round(Math.round(((OBJECTIVE_INFO[objective].better * value) / grain) * 1e6) / 1e6) + 0;
}

/** All but the chance in grains, in the order of {@link OBJECTIVES}; the chance's place holds 0. */
export function grainVector(
  changes: Readonly<Record<Quality, number>>,
  effort: number,
  grains: PlanBook['grains'],
): Int32Array {
  const vector = new Int32Array(OBJECTIVES.length);
  for (let i = 0; i < OBJECTIVES.length; i++) {
    const objective = OBJECTIVES[i];
    if (objective === undefined || objective === 'chance') continue;
    vector[i] = inGrains(objective, objective === 'effort' ? effort : changes[objective], grains);
  }
  return vector;
}
