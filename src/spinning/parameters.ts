import type { FibreId } from './setup.js';

/** What a figure rests on, the strongest first. */
export type Standing = 'physics' | 'published' | 'common-practice' | 'judgement' | 'memory';

/**
 * The doubt about a parameter. `normal`: standard deviation in the parameter's unit. `lognormal`: `sd` is the
 * standard deviation of the natural logarithm and the value is the median. `uniform`: anywhere from low to high.
 */
export type Spread =
  | { readonly kind: 'normal'; readonly sd: number }
  | { readonly kind: 'lognormal'; readonly sd: number }
  | { readonly kind: 'uniform'; readonly low: number; readonly high: number };

/** One parameter as the knowledge base holds it. */
export interface ParameterEntry {
  /** Central value. */
  readonly value: number;
  readonly spread: Spread;
  readonly unit: string;
  readonly standing: Standing;
  /** Id of a source; left out where there is none to show. */
  readonly source?: string | undefined;
  readonly note: string;
}

/** Parameters of the model that do not depend on the fibre. Units and meaning stand in `knowledge-base/model`. */
export const MODEL_PARAMETERS = [
  // geometry
  'nozzleBoreRadiusMm',
  'fibreExtentRatio',
  // friction and tension
  'howellExponent',
  'howellReferenceLoadNPerM',
  'axialGainShare',
  'tensionShareLimit',
  'insertWrapDeg',
  // texture and insert
  'falseTwistFactor',
  'falseTwistSaturation',
  'notchTextureStep',
  'extraNotchTextureStep',
  'spiralTexture',
  'knurledTexture',
  'bendTwistShareNone',
  'bendTwistShareSmooth',
  'bendTwistShareGroove1',
  'bendTwistShareGroove2',
  'bendTwistShareGroove3',
  // groove
  'torsionalCouplingFactor',
  'grooveFriction',
  'grooveWedgeNarrow',
  'grooveWedgeMedium',
  'grooveWedgeWide',
  'ribbonCohesionNPerTex',
  'requiredBindingLengthMm',
  'requiredBindingStapleMm',
  'requiredBindingExponent',
  'wrapperShareLimit',
  'rotorStapleRatioLeast',
  'narrowGrooveStrengthGain',
  'wideGrooveStrengthLoss',
  // heat and life
  'heatShareCeramic',
  'heatShareSteel',
  'heatShareCeramicHead',
  'heatPowerLimitW',
  'heatLimitSoftensC',
  'lifeFactorSteel',
  'lifeFactorCeramicHead',
  'lifeFactorSemiDull',
  'lifeFactorDull',
  'lifeFactorLeast',
  'lifeFactorMost',
  // strength
  'twistStrengthCurvature',
  'twistRatioMost',
  'speedLossFromRpm',
  'speedLossToRpm',
  'speedLossRotorMm',
  'speedLossTail',
  'recycledStapleLoss',
  'recycledStrengthLoss',
  'blendStrengthLoss',
  // indices
  'referenceTwistRatio',
  'hairPerNotch',
  'hairSpiral',
  'hairKnurled',
  'hairInsertSmooth',
  'hairInsertPerGroove',
  'hairTwistExponent',
  'hairRecycled',
  'softTwistExponent',
  'softHairShare',
  'softWrapperSlope',
  'softWrapperReference',
  'flyPerNotch',
  'flyKnurled',
  'flyInsertPerGroove',
  'flyRecycled',
  'flyDrynessPerPct',
  // opening and groove dirt
  'openingRollerDiameterMm',
  'openingRollerPoints',
  'trashPastOpening',
  'trashKeptByGroove',
] as const;

/** Name of a model parameter. */
export type ModelParameterName = (typeof MODEL_PARAMETERS)[number];

/** Parameters each fibre file gives. */
export const FIBRE_PARAMETERS = [
  'densityGPerCm3',
  'packing',
  'frictionCoefficient',
  'torsionalRigidity',
  'specificHeatJPerKgK',
  'fibreTenacityCnPerTex',
  'strengthTranslation',
  'optimumAlphaE',
  'leastFibresInSection',
  'limitIrregularityFactor',
  'speedStrengthLossPct',
  'nozzleLifeH',
  'nozzleLifeReferencePowerW',
  'humidityLowPct',
  'humidityHighPct',
  'openingLowRpm',
  'openingHighRpm',
] as const;

/** Name of a fibre parameter. */
export type FibreParameterName = (typeof FIBRE_PARAMETERS)[number];

/** Numbers for one fibre, as the model uses them. */
export type FibreParameters = Readonly<Record<FibreParameterName, number>> & {
  /** 1 for a fibre that softens in the heat, 0 for one that does not. */
  readonly thermoplastic: number;
  /** 1 for a man-made fibre (it may be dulled), 0 for a natural one. */
  readonly manMade: number;
  /** Temperature at which it starts to stick, °C; infinite for a fibre that does not soften. */
  readonly softensC: number;
};

/** Every number the model uses: the central values or one random draw. */
export type ModelParameters = Readonly<Record<ModelParameterName, number>> & {
  readonly fibres: Readonly<Record<FibreId, FibreParameters>>;
};

/** A fibre as its file in the knowledge base describes it. */
export interface FibreEntry {
  readonly id: FibreId;
  readonly label: string;
  readonly thermoplastic: boolean;
  readonly 'man-made': boolean;
  /** °C at which the fibre starts to stick, and melts; left out where it does neither. */
  readonly 'softens-c'?: number | undefined;
  readonly 'melts-c'?: number | undefined;
  /** Usual fineness (mtex) and staple (mm): low, usual, high. */
  readonly 'usual-fineness-mtex': { readonly low: number; readonly usual: number; readonly high: number };
  readonly 'usual-staple-mm': { readonly low: number; readonly usual: number; readonly high: number };
  readonly note: string;
  readonly parameters: Readonly<Record<FibreParameterName, ParameterEntry>>;
}

/** All parameters with their doubt: what the knowledge base's `model` and `fibres` folders hold. */
export interface ParameterTable {
  readonly model: Readonly<Record<ModelParameterName, ParameterEntry>>;
  readonly fibres: Readonly<Record<FibreId, FibreEntry>>;
}

/** A problem with the parameters themselves: a missing entry, or a fibre there are no data for. */
export class ParameterError extends Error {
  readonly code = 'parameter';
}

/**
 * Turns a table into numbers, each parameter by the function given: {@link centralParameters} takes the central
 * values, a simulation draws them.
 *
 * @param pick gives the number of an entry; `name` is `falseTwistFactor` or `cotton/packing`
 * @throws ParameterError when an entry is missing
 */
export function pickParameters(
  table: ParameterTable,
  pick: (name: string, entry: ParameterEntry) => number,
): ModelParameters {
  const numbers = {} as Record<ModelParameterName, number>;
  for (const name of MODEL_PARAMETERS) {
    const entry = table.model[name];
    if (entry === undefined) throw new ParameterError(`model: the parameter "${name}" is missing`);
    numbers[name] = pick(name, entry);
  }
  const fibres: Record<FibreId, FibreParameters> = {};
  for (const [id, fibre] of Object.entries(table.fibres)) {
    const values = {} as Record<FibreParameterName, number>;
    for (const name of FIBRE_PARAMETERS) {
      const entry = fibre.parameters[name];
      if (entry === undefined) throw new ParameterError(`${id}: the parameter "${name}" is missing`);
      values[name] = pick(`${id}/${name}`, entry);
    }
    fibres[id] = {
      ...values,
      thermoplastic: fibre.thermoplastic ? 1 : 0,
      manMade: fibre['man-made'] ? 1 : 0,
      softensC: fibre['softens-c'] ?? Number.POSITIVE_INFINITY,
    };
  }
  // Objects put together name by name have no layout in common, and the model, which reads them millions of times, would
  // have to look every name up; copies made in one go share one.
  return structuredClone({ ...numbers, fibres });
}

/** The central value of every parameter. */
export function centralParameters(table: ParameterTable): ModelParameters {
  return pickParameters(table, (_name, entry) => entry.value);
}
