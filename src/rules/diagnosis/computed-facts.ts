import type { SpinningSetup } from '../../spinning/setup.js';
import type { Simulation } from '../../spinning/simulation.js';
import type { QuantityField } from '../../spinning/state.js';
import { summariseColumn } from '../../spinning/summary.js';
import type { FactValue, GivenSetup } from '../case/types.js';
import type { COMPUTED_FACTS } from '../knowledge/facts.js';

/** Which computed quantity stands behind each fact, and which settings must have been given for it to be known. */
const FACTS: Record<
  (typeof COMPUTED_FACTS)[number],
  { field: QuantityField; needs: readonly (keyof SpinningSetup)[]; times?: number }
> = {
  'fibres-in-section': { field: 'fibresInSection', needs: ['countTex'] },
  draft: { field: 'draft', needs: ['countTex', 'sliverKtex'] },
  'rotor-to-staple': { field: 'rotorStapleRatio', needs: ['rotorDiameterMm', 'stapleMm'] },
  'nozzle-life-used': { field: 'nozzleLifeUsedPct', needs: ['nozzleHours'] },
  'yarn-temperature-rise': { field: 'yarnHeatingK', needs: ['rotorSpeedRpm'] },
  'tension-share': { field: 'tensionStrengthRatio', needs: ['rotorSpeedRpm', 'rotorDiameterMm'], times: 100 },
  'back-doublings': { field: 'backDoublings', needs: ['rotorDiameterMm', 'twistPerMetre'] },
  'rim-speed': { field: 'rimSpeedMPerS', needs: ['rotorDiameterMm', 'rotorSpeedRpm'] },
};

/** Medians as facts that are computed only when a rule asks; unknown where they would rest on assumed settings. */
export function computedFacts(
  simulation: Simulation,
  given: GivenSetup,
): [string, () => FactValue | undefined][] {
  return Object.entries(FACTS).map(([name, { field, needs, times }]) => [
    `computed.${name}`,
    () =>
      needs.every((setting) => given.values[setting] !== undefined)
        ? summariseColumn(simulation.base[field]).median * (times ?? 1)
        : undefined,
  ]);
}
