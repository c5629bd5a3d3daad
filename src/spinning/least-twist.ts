import { computeState } from './model.js';
import type { ModelParameters } from './parameters.js';
import type { SpinningSetup } from './setup.js';
import { toTurnsPerMetre } from './units/twist.js';

/** Multipliers between which the search runs, and its first step (alpha-e). */
const FROM = 1;
const TO = 8;
const STEP = 0.05;

/**
 * Least twist at which the setup runs by the model's margins.
 *
 * @param criterion `twist`: the twist margin alone; `both`: the tension margin must hold as well
 * @returns alpha-e between 1 and 8 to 0.001, or undefined when no twist in that range will do. Standing: judgement,
 *   as the margins are; its U shape against rotor speed is published.
 */
export function findLeastTwist(
  setup: SpinningSetup,
  parameters: ModelParameters,
  criterion: 'twist' | 'both' = 'both',
): number | undefined {
  const holds = (alphaE: number): boolean => {
    const twistPerMetre = toTurnsPerMetre(alphaE, 'alpha-e', setup.countTex);
    const state = computeState({ ...setup, twistPerMetre }, parameters);
    return (criterion === 'twist' ? state.twistMargin : state.stabilityMargin) >= 0;
  };
  // With too much twist strength falls again, so the first crossing is looked for step by step.
  for (let high = FROM; high <= TO; high += STEP) {
    if (!holds(high)) continue;
    if (high === FROM) return FROM;
    let bad = high - STEP;
    let good = high;
    while (good - bad > 0.001) {
      const middle = (bad + good) / 2;
      if (holds(middle)) good = middle;
      else bad = middle;
    }
    return good;
  }
  return undefined;
}
