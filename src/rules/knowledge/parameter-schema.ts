/**
 * Shapes of the spinning model's parameter files, `model/*.yaml` and `fibres/*.yaml`. Strict: a name the model does
 * not know, or one it misses, is an error.
 */
import { z } from 'zod';
import {
  FIBRE_PARAMETERS,
  type FibreEntry,
  type FibreParameterName,
  MODEL_PARAMETERS,
  type ModelParameterName,
  type ParameterEntry,
} from '../../spinning/parameters.js';
import { STANDINGS } from './vocabulary.js';

const id = z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'must be lower-case words joined by hyphens');
const text = z.string().trim().min(1);

const spreadSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('normal'), sd: z.number().min(0) }),
  z.strictObject({ kind: z.literal('lognormal'), sd: z.number().min(0).max(1) }),
  z.strictObject({ kind: z.literal('uniform'), low: z.number(), high: z.number() }),
]);

/** Values a parameter may take at all; a spread must stay inside. Others must only not be below 0. */
const RANGES: Partial<Record<ModelParameterName | FibreParameterName, readonly [number, number]>> = {
  nozzleBoreRadiusMm: [0.3, 3],
  fibreExtentRatio: [0.2, 1],
  howellExponent: [0.5, 1],
  howellReferenceLoadNPerM: [1, 2000],
  axialGainShare: [0, 1],
  tensionShareLimit: [0.05, 0.6],
  falseTwistFactor: [0.01, 2],
  falseTwistSaturation: [0.2, 10],
  torsionalCouplingFactor: [0.5, 20],
  grooveFriction: [0.05, 1],
  ribbonCohesionNPerTex: [1e-6, 1e-2],
  requiredBindingLengthMm: [1, 40],
  requiredBindingStapleMm: [10, 80],
  requiredBindingExponent: [0, 2],
  wrapperShareLimit: [0.05, 0.9],
  rotorStapleRatioLeast: [0.7, 2],
  twistRatioMost: [1, 2],
  speedLossFromRpm: [10000, 100000],
  speedLossToRpm: [20000, 200000],
  speedLossRotorMm: [25, 80],
  speedLossTail: [0.05, 2],
  recycledStapleLoss: [0, 0.8],
  recycledStrengthLoss: [0, 0.8],
  blendStrengthLoss: [0, 0.8],
  narrowGrooveStrengthGain: [0, 0.3],
  wideGrooveStrengthLoss: [0, 0.3],
  heatShareCeramic: [0.05, 1],
  heatShareSteel: [0.05, 1],
  heatShareCeramicHead: [0.05, 1],
  heatPowerLimitW: [0.5, 50],
  heatLimitSoftensC: [100, 400],
  lifeFactorLeast: [0.05, 1],
  lifeFactorMost: [1, 10],
  referenceTwistRatio: [0.3, 1.5],
  openingRollerDiameterMm: [40, 120],
  openingRollerPoints: [100, 10000],
  trashPastOpening: [0, 1],
  trashKeptByGroove: [0, 1],
  densityGPerCm3: [0.5, 3],
  packing: [0.2, 0.9],
  frictionCoefficient: [0.03, 0.9],
  torsionalRigidity: [0.005, 1],
  specificHeatJPerKgK: [500, 4000],
  fibreTenacityCnPerTex: [3, 200],
  strengthTranslation: [0.1, 0.9],
  optimumAlphaE: [2, 8],
  leastFibresInSection: [30, 300],
  limitIrregularityFactor: [100, 130],
  speedStrengthLossPct: [0, 40],
  nozzleLifeH: [200, 200000],
  nozzleLifeReferencePowerW: [0.5, 50],
  humidityLowPct: [20, 90],
  humidityHighPct: [20, 90],
  openingLowRpm: [2000, 12000],
  openingHighRpm: [2000, 12000],
};

/** Standard deviations to either side that a spread may reach in the draws of a simulation. */
const REACH = 4;

const entrySchema = z
  .strictObject({
    value: z.number(),
    spread: spreadSchema,
    unit: text,
    standing: z.enum(STANDINGS),
    source: id.optional(),
    note: text,
  })
  .refine((entry) => entry.standing !== 'published' || entry.source !== undefined, {
    message: 'a published value must name its source',
  })
  .refine(({ value, spread }) => spread.kind !== 'uniform' || (spread.low <= value && value <= spread.high), {
    message: 'the value must lie between low and high of its spread',
  }) satisfies z.ZodType<ParameterEntry>;

function rangedEntry(name: ModelParameterName | FibreParameterName) {
  const [least, most] = RANGES[name] ?? [0, Number.POSITIVE_INFINITY];
  return entrySchema.refine(
    (entry) => {
      const [low, high] = reach(entry);
      return least <= low && high <= most;
    },
    { message: `value and spread must stay from ${least} to ${most}` },
  );
}

/** Lowest and highest value a spread gives. */
function reach({ value, spread }: ParameterEntry): readonly [number, number] {
  switch (spread.kind) {
    case 'uniform':
      return [spread.low, spread.high];
    case 'normal':
      return [value - REACH * spread.sd, value + REACH * spread.sd];
    case 'lognormal':
      return [value * Math.exp(-REACH * spread.sd), value * Math.exp(REACH * spread.sd)];
  }
}

function entries<N extends ModelParameterName | FibreParameterName>(
  names: readonly N[],
): Record<N, ReturnType<typeof rangedEntry>> {
  return Object.fromEntries(names.map((name) => [name, rangedEntry(name)])) as Record<
    N,
    ReturnType<typeof rangedEntry>
  >;
}

/** All model parameters, the files of `model/` taken together. */
export const modelParametersSchema = z.strictObject(entries(MODEL_PARAMETERS));

/** One file of `model/`, which holds some of them. */
export const modelParameterFileSchema = modelParametersSchema.partial();

const usualSchema = z
  .strictObject({ low: z.number().gt(0), usual: z.number().gt(0), high: z.number().gt(0) })
  .refine((range) => range.low <= range.usual && range.usual <= range.high, {
    message: 'must rise from low over usual to high',
  });

/** One file of `fibres/`. */
export const fibreSchema = z
  .strictObject({
    id,
    label: text,
    thermoplastic: z.boolean(),
    'man-made': z.boolean(),
    'softens-c': z.number().min(60).max(400).optional(),
    'melts-c': z.number().min(60).max(400).optional(),
    'usual-fineness-mtex': usualSchema,
    'usual-staple-mm': usualSchema,
    note: text,
    parameters: z.strictObject(entries(FIBRE_PARAMETERS)),
  })
  .refine((fibre) => !fibre.thermoplastic || fibre['softens-c'] !== undefined, {
    message: 'a thermoplastic fibre needs softens-c',
  }) satisfies z.ZodType<FibreEntry>;
