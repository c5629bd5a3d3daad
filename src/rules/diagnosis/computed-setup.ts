import { language } from '../../language/scope.js';
import type { SpinningSetup } from '../../spinning/setup.js';
import { type Columns, type SetupVariant, type Simulation, simulate } from '../../spinning/simulation.js';
import type { ComputedState, QuantityField } from '../../spinning/state.js';
import { type ResolvedSetup, resolveSetup } from '../case/resolve-setup.js';
import type { GivenSetup } from '../case/types.js';
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
  /** Further variants computed so far, by name: see {@link computeVariants}. */
  readonly further: Map<string, FurtherVariant>;
}

interface FurtherVariant {
  readonly columns: Columns;
  readonly central: ComputedState;
}

/** Name of the variant in which one setting stands at its reference value. */
export const butForVariant = (setting: ButFor) => `but-for ${setting}`;

/** Quantities of a changed setup that anything is judged by: margins and side effects. */
const JUDGED: readonly QuantityField[] = [
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

/** Setups kept per knowledge base: a hall's frames and some that were altered. Each takes up to 1.5 megabytes. */
const KEPT = 40;
const kept = new WeakMap<Knowledge, Map<string, ComputedSetup>>();

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
  const known = kept.get(knowledge) ?? new Map<string, ComputedSetup>();
  kept.set(knowledge, known);
  const found = known.get(key);
  if (found !== undefined) {
    // Put last again, so that what is dropped is what was not asked for longest.
    known.delete(key);
    known.set(key, found);
    return found;
  }
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
  const computed: ComputedSetup = { resolved, reference, simulation, further: new Map() };
  known.set(key, computed);
  for (const oldest of known.keys()) {
    if (known.size <= KEPT) break;
    known.delete(oldest);
  }
  return computed;
}

/**
 * The simulation with further setups computed on the same draws. What a variant does to a setup does not depend on the
 * signs, so it is computed once a setup and kept with it.
 *
 * @param variants by name; a name must always stand for the same change of the same setup
 */
export function computeVariants(
  knowledge: Knowledge,
  { resolved, simulation, further }: ComputedSetup,
  variants: Readonly<Record<string, SetupVariant>>,
): Simulation {
  const missing = Object.entries(variants).filter(([name]) => !further.has(name));
  if (missing.length > 0) {
    const { variants: columns, centralVariants } = simulate(resolved.uncertain, knowledge.parameters, {
      draws: DRAWS,
      variants: Object.fromEntries(missing),
      variantFields: JUDGED,
    });
    for (const [name] of missing) {
      const [own, central] = [columns[name], centralVariants[name]];
      if (own !== undefined && central !== undefined) further.set(name, { columns: own, central });
    }
  }
  const all = Object.keys(variants).flatMap((name) => {
    const one = further.get(name);
    return one === undefined ? [] : [[name, one] as const];
  });
  return {
    ...simulation,
    variants: {
      ...simulation.variants,
      ...Object.fromEntries(all.map(([name, one]) => [name, one.columns])),
    },
    centralVariants: {
      ...simulation.centralVariants,
      ...Object.fromEntries(all.map(([name, one]) => [name, one.central])),
    },
  };
}
