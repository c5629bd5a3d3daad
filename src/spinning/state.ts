/**
 * Everything the spinning model computes for a setup. Units are in the names (`Pct` percent, `PerM` per metre,
 * `CnPerTex` cN/tex); margins are ratios less 1, so that 0 is the limit and a negative margin is a fault. What each
 * quantity means, and what it rests on, stands in `quantities.ts`.
 */
export const QUANTITY_FIELDS = [
  // twist and output
  'twistAlphaE',
  'twistRatio',
  'twistSurplusMargin',
  'twistWithPeelingPerM',
  'deliveryMPerMin',
  'draft',
  'feedMPerMin',
  'outputGPerRotorH',
  'backDoublings',
  'contractionPct',
  // yarn
  'yarnDiameterMm',
  'surfaceAngleDeg',
  'fibresInSection',
  'fibresMargin',
  'limitCvPct',
  // rotor
  'rimSpeedMPerS',
  'effectiveStapleMm',
  'rotorStapleRatio',
  'rotorStapleMargin',
  'faultPeriodMm',
  'grooveDirtUgPerCmMin',
  // tension
  'contactRadiusMm',
  'nozzleWrapDeg',
  'totalWrapDeg',
  'nozzleFriction',
  'armTensionCnPerTex',
  'armTensionCn',
  'nozzleGainLower',
  'nozzleGainUpper',
  'nozzleTensionLowerCnPerTex',
  'nozzleTensionUpperCnPerTex',
  'takeUpTensionLowerCnPerTex',
  'takeUpTensionUpperCnPerTex',
  'takeUpTensionCnPerTex',
  // false twist and binding-in
  'falseTwistNozzlePct',
  'falseTwistBendPct',
  'falseTwistPct',
  'armTwistPerM',
  'bindingLengthMm',
  'requiredBindingLengthMm',
  'wrapperSharePct',
  'wrapperMargin',
  'twistMargin',
  // strength
  'yarnTenacityCnPerTex',
  'yarnStrengthCn',
  'speedStrengthLossPct',
  'tensionStrengthRatio',
  'tensionMargin',
  'stabilityMargin',
  // heat and wear
  'nozzleFrictionPowerW',
  'yarnHeatingK',
  'heatMargin',
  'nozzleLifeH',
  'nozzleLifeUsedPct',
  // character
  'hairinessIndex',
  'softnessIndex',
  'flyIndex',
  // opening, room
  'openingRimMPerS',
  'openingPointsPerFibre',
  'openingSpeedRatio',
  'humidityDeparturePct',
] as const;

/** Name of a computed quantity, as a field of {@link ComputedState}. */
export type QuantityField = (typeof QUANTITY_FIELDS)[number];

/** The computed state of a setup. */
export type ComputedState = Readonly<Record<QuantityField, number>>;

/** The margins: negative means that the setup asks for more than the position can give. */
export const MARGIN_FIELDS = [
  'twistMargin',
  'tensionMargin',
  'stabilityMargin',
  'twistSurplusMargin',
  'fibresMargin',
  'rotorStapleMargin',
  'wrapperMargin',
  'heatMargin',
] as const satisfies readonly QuantityField[];

/** Name of a margin. */
export type MarginField = (typeof MARGIN_FIELDS)[number];
