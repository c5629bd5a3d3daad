import { language } from '../../language/scope.js';
import type { SpinningSetup } from '../../spinning/setup.js';
import { type SetupVariant, type Simulation, simulate } from '../../spinning/simulation.js';
import type { QuantityField } from '../../spinning/state.js';
import { type ResolvedSetup, resolveSetup } from '../case/resolve-setup.js';
import type { GivenSetup } from '../case/types.js';
import { keepRecent, type RecentKept } from '../keep-recent.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import { BUT_FOR } from '../knowledge/schema.js';
import { type ButFor, withReference } from './but-for.js';
import { USUAL_VARIANT } from './margins.js';

/** Draws of the simulations behind a diagnosis. */
export const DRAWS = 256;

/** A case's setup, completed and computed: what stays the same while signs and findings are added. */
export interface ComputedSetup {
  readonly resolved: ResolvedSetup;
  /** What coordination causes are held against: what was before the trouble where known, else the usual setup. */
  readonly reference: SpinningSetup;
  readonly simulation: Simulation;
}

/** Name of the variant in which one setting stands at its reference value. */
export const butForVariant = (setting: ButFor) => `but-for ${setting}`;

/** Quantities of a changed setup that anything is judged by: margins and side effects. */
export const JUDGED: readonly QuantityField[] = [
  'twistMargin',
  'tensionMargin',
  'fibresMargin',
  'heatMargin',
  'rotorStapleMargin',
  'hairinessIndex',
  'softnessIndex',
  'flyIndex',
  'outputGPerRotorH',
  'tensionStrengthRatio',
  'yarnTenacityCnPerTex',
];

/**
 * Setups kept per knowledge base: a hall's frames and some that people alter just now. Each takes some 400 kilobytes, and
 * most altered ones are not asked for again.
 */
const KEPT = 60;
const kept = new WeakMap<Knowledge, RecentKept<string, ComputedSetup>>();

/**
 * Completes a setup and runs the model on it and on each setting put back to its reference. The latest results are
 * kept: the same setup is asked for again with every sign that is added.
 */
export function computeSetup(
  knowledge: Knowledge,
  given: GivenSetup,
  before: GivenSetup | undefined,
): ComputedSetup {
  const key = JSON.stringify([language(), given.values, given.endUse, before?.values, before?.endUse]);
  const known = kept.get(knowledge) ?? keepRecent<string, ComputedSetup>(KEPT);
  kept.set(knowledge, known);
  const found = known.get(key);
  if (found !== undefined) return found;
  const resolved = resolveSetup(given, { endUses: knowledge.endUses, fibres: knowledge.parameters.fibres });
  const reference = before === undefined ? resolved.usual : { ...resolved.usual, ...before.values };
  const butFor = Object.fromEntries(
    BUT_FOR.map((setting): [string, SetupVariant] => [
      butForVariant(setting),
      (setup) => withReference(setup, reference, setting),
    ]),
  );
  const simulation = simulate(resolved.uncertain, knowledge.parameters, {
    draws: DRAWS,
    variants: { [USUAL_VARIANT]: () => resolved.usual, ...butFor },
    variantFields: JUDGED,
  });
  const computed: ComputedSetup = { resolved, reference, simulation };
  known.set(key, computed);
  return computed;
}
