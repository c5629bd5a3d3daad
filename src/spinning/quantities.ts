import { say } from '../language/say.js';
import type { Standing } from './parameters.js';
import { QUANTITY_FIELDS, type QuantityField } from './state.js';

/** What a computed quantity is, for showing it and for judging it. */
export interface QuantityInfo {
  readonly field: QuantityField;
  /** Kebab-case id under which rules and answers name it. */
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  /** One line in plain words. */
  readonly meaning: string;
  /** The weakest thing its size rests on. */
  readonly standing: Standing;
  /** The side on which trouble lies, if there is one. */
  readonly worse?: 'low' | 'high' | 'both';
}

const INFO = {
  twistAlphaE: {
    id: 'twist-multiplier',
    unit: 'alpha-e',
    standing: 'physics',
    worse: 'both',
  },
  twistRatio: {
    id: 'twist-to-best',
    unit: 'ratio',
    standing: 'judgement',
    worse: 'both',
  },
  twistSurplusMargin: {
    id: 'twist-surplus-margin',
    unit: 'margin',
    standing: 'judgement',
    worse: 'low',
  },
  twistWithPeelingPerM: {
    id: 'twist-with-peeling',
    unit: 't/m',
    standing: 'physics',
  },
  deliveryMPerMin: {
    id: 'delivery',
    unit: 'm/min',
    standing: 'physics',
  },
  draft: {
    id: 'draft',
    unit: 'ratio',
    standing: 'physics',
    worse: 'high',
  },
  feedMPerMin: {
    id: 'feed',
    unit: 'm/min',
    standing: 'physics',
  },
  outputGPerRotorH: {
    id: 'output',
    unit: 'g/h',
    standing: 'physics',
    worse: 'low',
  },
  backDoublings: {
    id: 'back-doublings',
    unit: 'layers',
    standing: 'physics',
    worse: 'low',
  },
  contractionPct: {
    id: 'contraction',
    unit: '%',
    standing: 'judgement',
  },
  yarnDiameterMm: {
    id: 'yarn-diameter',
    unit: 'mm',
    standing: 'judgement',
  },
  surfaceAngleDeg: {
    id: 'surface-angle',
    unit: 'deg',
    standing: 'judgement',
  },
  fibresInSection: {
    id: 'fibres-in-section',
    unit: 'fibres',
    standing: 'physics',
    worse: 'low',
  },
  fibresMargin: {
    id: 'fibres-margin',
    unit: 'margin',
    standing: 'judgement',
    worse: 'low',
  },
  limitCvPct: {
    id: 'limit-irregularity',
    unit: '% CV',
    standing: 'memory',
    worse: 'high',
  },
  rimSpeedMPerS: {
    id: 'rim-speed',
    unit: 'm/s',
    standing: 'physics',
  },
  effectiveStapleMm: {
    id: 'working-staple',
    unit: 'mm',
    standing: 'judgement',
    worse: 'low',
  },
  rotorStapleRatio: {
    id: 'rotor-to-staple',
    unit: 'ratio',
    standing: 'judgement',
    worse: 'low',
  },
  rotorStapleMargin: {
    id: 'rotor-staple-margin',
    unit: 'margin',
    standing: 'judgement',
    worse: 'low',
  },
  faultPeriodMm: {
    id: 'groove-period',
    unit: 'mm',
    standing: 'judgement',
  },
  grooveDirtUgPerCmMin: {
    id: 'groove-dirt',
    unit: 'µg/cm·min',
    standing: 'judgement',
    worse: 'high',
  },
  contactRadiusMm: {
    id: 'contact-radius',
    unit: 'mm',
    standing: 'judgement',
  },
  nozzleWrapDeg: {
    id: 'nozzle-wrap',
    unit: 'deg',
    standing: 'judgement',
  },
  totalWrapDeg: {
    id: 'total-wrap',
    unit: 'deg',
    standing: 'judgement',
    worse: 'high',
  },
  nozzleFriction: {
    id: 'nozzle-friction',
    unit: 'ratio',
    standing: 'judgement',
  },
  armTensionCnPerTex: {
    id: 'arm-tension-per-tex',
    unit: 'cN/tex',
    standing: 'judgement',
  },
  armTensionCn: {
    id: 'arm-tension',
    unit: 'cN',
    standing: 'judgement',
  },
  nozzleGainLower: {
    id: 'nozzle-gain-lower',
    unit: 'ratio',
    standing: 'judgement',
  },
  nozzleGainUpper: {
    id: 'nozzle-gain-upper',
    unit: 'ratio',
    standing: 'judgement',
  },
  nozzleTensionLowerCnPerTex: {
    id: 'nozzle-tension-lower',
    unit: 'cN/tex',
    standing: 'judgement',
  },
  nozzleTensionUpperCnPerTex: {
    id: 'nozzle-tension-upper',
    unit: 'cN/tex',
    standing: 'judgement',
  },
  takeUpTensionLowerCnPerTex: {
    id: 'take-up-tension-lower',
    unit: 'cN/tex',
    standing: 'judgement',
  },
  takeUpTensionUpperCnPerTex: {
    id: 'take-up-tension-upper',
    unit: 'cN/tex',
    standing: 'judgement',
  },
  takeUpTensionCnPerTex: {
    id: 'take-up-tension',
    unit: 'cN/tex',
    standing: 'judgement',
    worse: 'high',
  },
  falseTwistNozzlePct: {
    id: 'false-twist-nozzle',
    unit: '% of set twist',
    standing: 'judgement',
  },
  falseTwistBendPct: {
    id: 'false-twist-bend',
    unit: '% of set twist',
    standing: 'judgement',
  },
  falseTwistPct: {
    id: 'false-twist',
    unit: '% of set twist',
    standing: 'judgement',
    worse: 'both',
  },
  armTwistPerM: {
    id: 'arm-twist',
    unit: 't/m',
    standing: 'judgement',
    worse: 'both',
  },
  bindingLengthMm: {
    id: 'binding-in-length',
    unit: 'mm',
    standing: 'judgement',
    worse: 'both',
  },
  requiredBindingLengthMm: {
    id: 'required-binding-in-length',
    unit: 'mm',
    standing: 'judgement',
  },
  wrapperSharePct: {
    id: 'wrapper-share',
    unit: '%',
    standing: 'judgement',
    worse: 'high',
  },
  wrapperMargin: {
    id: 'wrapper-margin',
    unit: 'margin',
    standing: 'judgement',
    worse: 'low',
  },
  twistMargin: {
    id: 'twist-margin',
    unit: 'margin',
    standing: 'judgement',
    worse: 'low',
  },
  yarnTenacityCnPerTex: {
    id: 'tenacity',
    unit: 'cN/tex',
    standing: 'judgement',
    worse: 'low',
  },
  yarnStrengthCn: {
    id: 'yarn-strength',
    unit: 'cN',
    standing: 'judgement',
    worse: 'low',
  },
  speedStrengthLossPct: {
    id: 'speed-strength-loss',
    unit: '%',
    standing: 'judgement',
    worse: 'high',
  },
  tensionStrengthRatio: {
    id: 'tension-share',
    unit: 'ratio',
    standing: 'judgement',
    worse: 'high',
  },
  tensionMargin: {
    id: 'tension-margin',
    unit: 'margin',
    standing: 'judgement',
    worse: 'low',
  },
  stabilityMargin: {
    id: 'stability-margin',
    unit: 'margin',
    standing: 'judgement',
    worse: 'low',
  },
  nozzleFrictionPowerW: {
    id: 'nozzle-power',
    unit: 'W',
    standing: 'judgement',
    worse: 'high',
  },
  yarnHeatingK: {
    id: 'yarn-temperature-rise',
    unit: 'K',
    standing: 'judgement',
    worse: 'high',
  },
  heatMargin: {
    id: 'heat-margin',
    unit: 'margin',
    standing: 'judgement',
    worse: 'low',
  },
  nozzleLifeH: {
    id: 'nozzle-life',
    unit: 'h',
    standing: 'judgement',
    worse: 'low',
  },
  nozzleLifeUsedPct: {
    id: 'nozzle-life-used',
    unit: '%',
    standing: 'judgement',
    worse: 'high',
  },
  hairinessIndex: {
    id: 'hairiness',
    unit: 'index',
    standing: 'judgement',
    worse: 'both',
  },
  softnessIndex: {
    id: 'softness',
    unit: 'index',
    standing: 'judgement',
    worse: 'low',
  },
  flyIndex: {
    id: 'fly',
    unit: 'index',
    standing: 'judgement',
    worse: 'high',
  },
  openingRimMPerS: {
    id: 'opening-rim-speed',
    unit: 'm/s',
    standing: 'common-practice',
  },
  openingPointsPerFibre: {
    id: 'opening-points',
    unit: 'points',
    standing: 'judgement',
    worse: 'both',
  },
  openingSpeedRatio: {
    id: 'opening-speed',
    unit: 'ratio',
    standing: 'judgement',
    worse: 'both',
  },
  humidityDeparturePct: {
    id: 'humidity-departure',
    unit: '% RH',
    standing: 'judgement',
    worse: 'both',
  },
} as const satisfies Readonly<Record<QuantityField, Omit<QuantityInfo, 'field' | 'label' | 'meaning'>>>;

const infoOf = (field: QuantityField): QuantityInfo => ({
  field,
  ...INFO[field],
  get label() {
    return say(`quantity.${INFO[field].id}`);
  },
  get meaning() {
    return say(`quantity.${INFO[field].id}-meaning`);
  },
});

/** Every computed quantity, in the order of the state; its words are in the language of the moment. */
export const QUANTITIES: readonly QuantityInfo[] = QUANTITY_FIELDS.map(infoOf);

/** A quantity by its kebab-case id, or undefined. */
export function quantityById(id: string): QuantityInfo | undefined {
  return BY_ID.get(id);
}

/** A quantity by its field. */
export function quantityByField(field: QuantityField): QuantityInfo {
  return infoOf(field);
}

const BY_ID = new Map(QUANTITIES.map((quantity) => [quantity.id, quantity]));
