import { type FibreParameters, type ModelParameters, ParameterError } from './parameters.js';
import type { FibreShare } from './setup.js';

/**
 * Numbers of a fibre mix: the fibre's own, or for a blend their means by mass. A mean by mass is right for density
 * only nearly and for strength too high, since the partners do not break at the same stretch: see
 * {@link blendPurity}. Standing: judgement.
 *
 * @param fibres partners and mass shares; shares need not sum to 1
 * @throws ParameterError when there is no share above 0, or no data for a fibre
 */
export function blendFibres(fibres: readonly FibreShare[], parameters: ModelParameters): FibreParameters {
  const only = fibres.length === 1 ? fibres[0] : undefined;
  if (only !== undefined && only.share > 0) return fibreOf(only.fibre, parameters);
  // The variants of a setup are run one after the other on the same draw, and few of them change the fibres.
  if (fibres === latest?.fibres && parameters === latest.parameters) return latest.mix;
  const mix = mixFibres(fibres, parameters);
  latest = { fibres, parameters, mix };
  return mix;
}

let latest:
  | {
      readonly fibres: readonly FibreShare[];
      readonly parameters: ModelParameters;
      readonly mix: FibreParameters;
    }
  | undefined;

/** Every number by its name: a draw of the model asks for thousands of mixes, and names looked up in a list are slow. */
function mixFibres(fibres: readonly FibreShare[], parameters: ModelParameters): FibreParameters {
  let mass = 0;
  for (const { share } of fibres) mass += share;
  if (!(mass > 0)) throw new ParameterError('fibre: no fibre with a share above 0; give at least one');
  const parts = fibres
    .filter(({ share }) => share > 0)
    .map(({ fibre, share }) => ({ weight: share / mass, numbers: fibreOf(fibre, parameters) }));
  const mean = (of: (numbers: FibreParameters) => number): number => {
    let sum = 0;
    for (const { weight, numbers } of parts) sum += weight * of(numbers);
    return sum;
  };
  return {
    densityGPerCm3: mean((one) => one.densityGPerCm3),
    packing: mean((one) => one.packing),
    frictionCoefficient: mean((one) => one.frictionCoefficient),
    torsionalRigidity: mean((one) => one.torsionalRigidity),
    specificHeatJPerKgK: mean((one) => one.specificHeatJPerKgK),
    fibreTenacityCnPerTex: mean((one) => one.fibreTenacityCnPerTex),
    strengthTranslation: mean((one) => one.strengthTranslation),
    optimumAlphaE: mean((one) => one.optimumAlphaE),
    leastFibresInSection: mean((one) => one.leastFibresInSection),
    limitIrregularityFactor: mean((one) => one.limitIrregularityFactor),
    speedStrengthLossPct: mean((one) => one.speedStrengthLossPct),
    nozzleLifeH: mean((one) => one.nozzleLifeH),
    nozzleLifeReferencePowerW: mean((one) => one.nozzleLifeReferencePowerW),
    humidityLowPct: mean((one) => one.humidityLowPct),
    humidityHighPct: mean((one) => one.humidityHighPct),
    openingLowRpm: mean((one) => one.openingLowRpm),
    openingHighRpm: mean((one) => one.openingHighRpm),
    thermoplastic: mean((one) => one.thermoplastic),
    manMade: mean((one) => one.manMade),
    softensC: parts.reduce(
      (least, { numbers }) => Math.min(least, numbers.softensC),
      Number.POSITIVE_INFINITY,
    ),
  };
}

/**
 * How far a mix is from an even blend: 1 for one fibre alone, 0 for two in equal parts (or more partners).
 *
 * @returns 0–1: 2·Σ share² − 1, not below 0. Standing: judgement.
 */
export function blendPurity(fibres: readonly FibreShare[]): number {
  let mass = 0;
  let squares = 0;
  for (const { share } of fibres) {
    mass += share;
    squares += share * share;
  }
  return Math.max(0, (2 * squares) / (mass * mass) - 1);
}

function fibreOf(fibre: string, parameters: ModelParameters): FibreParameters {
  const found = parameters.fibres[fibre];
  if (found === undefined) {
    const known = Object.keys(parameters.fibres).join(', ');
    throw new ParameterError(`fibre: there are no data for "${fibre}"; allowed: ${known}`);
  }
  return found;
}
