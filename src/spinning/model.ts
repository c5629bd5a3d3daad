import { bindingLength, requiredBindingLength, wrapperShare } from './binding-in.js';
import { blendFibres, blendPurity } from './blend.js';
import { fly, hairiness, softness } from './character.js';
import { deliverySpeed, draft, outputPerRotor } from './delivery.js';
import {
  holdingTorque,
  intrinsicStiffness,
  levelledFalseTwist,
  torsionalStiffness,
  twistFromTorque,
} from './false-twist.js';
import { fibresInSection, limitIrregularity } from './fibres-in-section.js';
import { contactRadius, frictionUnderLoad, nozzleWrap } from './nozzle-contact.js';
import { nozzleFrictionPower, nozzleLife, yarnHeating } from './nozzle-heat.js';
import { openingPointsPerFibre, openingRimSpeed } from './opening.js';
import type { FibreParameters, ModelParameters } from './parameters.js';
import { backDoublings, grooveDirt, groovePeriod, rimSpeed, twistWithPeeling } from './rotor.js';
import type { Delustrant, GrooveWidth, NozzleMaterial, SpinningSetup } from './setup.js';
import type { ComputedState } from './state.js';
import { speedStrengthLoss, twistStrength } from './strength.js';
import { armTension, tensionGain, tensionGainWithSweep } from './tension.js';
import { bendTwistShare, textureFactor } from './texture.js';
import { METRES_PER_INCH, TEX_TIMES_NE } from './units/constants.js';
import { surfaceAngleTangent, twistContraction, yarnDiameter } from './yarn-geometry.js';

/** alpha-tex of one alpha-e. */
const ALPHA_TEX_PER_ALPHA_E = Math.sqrt(TEX_TIMES_NE) / METRES_PER_INCH;

/** Room temperature at which the heat limit is stated, °C. */
const HEAT_LIMIT_ROOM_C = 25;

/** Margin given where a limit does not apply, as heat for a fibre that does not soften. */
const FREE_MARGIN = 9;

/**
 * Computes what a setup brings about: one pass from setting to tension, false twist, binding-in, strength, heat and
 * character. What each quantity means and rests on stands in `quantities.ts`.
 *
 * Hours of nozzle and tube move nothing but the used share of the nozzle's life: how wear changes friction and
 * texture is not known well enough. The winding tension draft is not used.
 *
 * @param setup complete setup; counts, twist, speeds, diameters and shares above 0
 * @param parameters central values or one draw
 * @throws ParameterError when there are no data for a fibre
 *
 * Standing: the weakest link is judgement (binding-in, strength share, character). Use it to rank setups.
 */
export function computeState(setup: SpinningSetup, parameters: ModelParameters): ComputedState {
  const p = parameters;
  const fibre = blendFibres(setup.fibres, p);
  const tex = setup.countTex;
  const twist = setup.twistPerMetre;
  const rotorMm = setup.rotorDiameterMm;
  const rpm = setup.rotorSpeedRpm;

  const twistAlphaE = (twist * Math.sqrt(tex)) / ALPHA_TEX_PER_ALPHA_E;
  const twistRatio = twistAlphaE / fibre.optimumAlphaE;
  const deliveryMPerMin = deliverySpeed(rpm, twist);
  const sliverDraft = draft(setup.sliverKtex, tex);
  const outputGPerRotorH = outputPerRotor(deliveryMPerMin, tex);
  const diameterMm = yarnDiameter(tex, fibre.densityGPerCm3, fibre.packing);
  const angleTangent = surfaceAngleTangent(diameterMm, twist);
  const contractionPct = twistContraction(angleTangent);
  const fibres = fibresInSection(tex, setup.finenessMtex);
  const stapleMm = setup.stapleMm * (1 - p.recycledStapleLoss * setup.recycledShare);

  const rim = rimSpeed(rotorMm, rpm);
  const contactMm = contactRadius(p.nozzleBoreRadiusMm, setup.nozzleRadiusMm);
  const wrapDeg = nozzleWrap(setup.nozzleProtrusionMm, rotorMm, contactMm);
  const armPerTex = armTension(rim, contactMm, rotorMm);
  const armN = (armPerTex * tex) / 100;
  const friction = frictionUnderLoad(
    fibre.frictionCoefficient,
    armN,
    setup.nozzleRadiusMm,
    p.howellExponent,
    p.howellReferenceLoadNPerM,
  );
  const gainUpper = tensionGain(friction, wrapDeg);
  const gainLower = tensionGainWithSweep(friction, wrapDeg, deliveryMPerMin, rpm, contactMm);
  const gain = gainLower + p.axialGainShare * (gainUpper - gainLower);
  // The edge of an insert brakes the yarn as a further bend would; what twist it holds back is in its share below.
  const insertDeg = setup.insert === 'none' ? 0 : p.insertWrapDeg;
  const bendGain = tensionGain(friction, setup.tubeBendDeg + insertDeg);
  const takeUpPerTex = armPerTex * gain * bendGain;

  const intrinsic = intrinsicStiffness(
    tex,
    setup.finenessMtex,
    fibre.torsionalRigidity,
    p.torsionalCouplingFactor,
  );
  // The stiffness of the arm is taken at the groove's own pull, so that the nozzle's size acts through friction
  // alone; with the tension at the nozzle the radius would act twice, and with the wrong sign.
  const grooveN = (rim * rim * tex) / 2e6;
  const armStiffness = torsionalStiffness(intrinsic, grooveN, diameterMm);
  const nozzleTorque =
    p.falseTwistFactor *
    holdingTorque(textureFactor(setup.nozzleSurface, setup.notches, p), friction, wrapDeg, armN, diameterMm);
  const afterNozzleN = armN * gain;
  const bendTorque = holdingTorque(
    bendTwistShare(setup.insert, p),
    friction,
    setup.tubeBendDeg,
    afterNozzleN,
    diameterMm,
  );
  const askedNozzle = twistFromTorque(nozzleTorque, armStiffness) / twist;
  const askedBend =
    twistFromTorque(bendTorque, torsionalStiffness(intrinsic, afterNozzleN, diameterMm)) / twist;
  const asked = askedNozzle + askedBend;
  const falseTwist = levelledFalseTwist(asked, p.falseTwistSaturation);
  const nozzlePart = asked > 0 ? askedNozzle / asked : 0;
  const armTwist = twist * (1 + falseTwist);

  const bindingMm = bindingLength(
    armStiffness,
    armTwist,
    p.grooveFriction,
    grooveWedge(setup.groove, p),
    tex,
    rotorMm,
    rim,
    diameterMm,
    p.ribbonCohesionNPerTex,
  );
  const requiredMm = requiredBindingLength(
    p.requiredBindingLengthMm,
    p.requiredBindingStapleMm,
    stapleMm,
    p.requiredBindingExponent,
  );
  const wrappersPct = wrapperShare(bindingMm, p.fibreExtentRatio, stapleMm, rotorMm);
  const twistMargin = bindingMm / requiredMm - 1;

  const purity = blendPurity(setup.fibres);
  const speedLossPct =
    purity *
    speedStrengthLoss(fibre.speedStrengthLossPct, rotorMm, rpm, {
      fromRpm: p.speedLossFromRpm,
      toRpm: p.speedLossToRpm,
      rotorMm: p.speedLossRotorMm,
      tail: p.speedLossTail,
    });
  const tenacity =
    fibre.strengthTranslation *
    fibre.fibreTenacityCnPerTex *
    twistStrength(twistRatio, p.twistStrengthCurvature) *
    (1 - speedLossPct / 100) *
    (1 - p.recycledStrengthLoss * setup.recycledShare) *
    (1 - p.blendStrengthLoss * (1 - purity)) *
    grooveStrength(setup.groove, p);
  const tensionShare = takeUpPerTex / tenacity;
  const tensionMargin = p.tensionShareLimit / tensionShare - 1;

  const powerW = nozzleFrictionPower(friction, armN, wrapDeg, rpm, contactMm);
  const heatShare = nozzleHeatShare(setup.nozzleMaterial, p);
  const lifeH =
    nozzleLife(
      fibre.nozzleLifeH,
      fibre.nozzleLifeReferencePowerW,
      powerW,
      p.lifeFactorLeast,
      p.lifeFactorMost,
    ) *
    materialLife(setup.nozzleMaterial, p) *
    (1 - fibre.manMade * (1 - delustrantLife(setup.delustrant, p)));
  const dryness = Math.max(0, fibre.humidityLowPct - setup.humidityPct);
  const dampness = Math.max(0, setup.humidityPct - fibre.humidityHighPct);
  const hair = hairiness(
    setup.nozzleSurface,
    setup.notches,
    setup.insert,
    twistRatio,
    setup.recycledShare,
    p,
  );

  return {
    twistAlphaE,
    twistRatio,
    twistSurplusMargin: p.twistRatioMost / twistRatio - 1,
    twistWithPeelingPerM: twistWithPeeling(twist, rotorMm),
    deliveryMPerMin,
    draft: sliverDraft,
    feedMPerMin: deliveryMPerMin / sliverDraft,
    outputGPerRotorH,
    backDoublings: backDoublings(rotorMm, twist),
    contractionPct,
    yarnDiameterMm: diameterMm,
    surfaceAngleDeg: (Math.atan(angleTangent) * 180) / Math.PI,
    fibresInSection: fibres,
    fibresMargin: fibres / fibre.leastFibresInSection - 1,
    limitCvPct: limitIrregularity(fibres, fibre.limitIrregularityFactor),
    rimSpeedMPerS: rim,
    effectiveStapleMm: stapleMm,
    rotorStapleRatio: rotorMm / stapleMm,
    rotorStapleMargin: rotorMm / stapleMm / p.rotorStapleRatioLeast - 1,
    faultPeriodMm: groovePeriod(rotorMm, contractionPct),
    grooveDirtUgPerCmMin: grooveDirt(
      tex,
      deliveryMPerMin,
      setup.sliverTrashPct,
      p.trashPastOpening,
      p.trashKeptByGroove,
      rotorMm,
    ),
    contactRadiusMm: contactMm,
    nozzleWrapDeg: wrapDeg,
    totalWrapDeg: wrapDeg + setup.tubeBendDeg,
    nozzleFriction: friction,
    armTensionCnPerTex: armPerTex,
    armTensionCn: armPerTex * tex,
    nozzleGainLower: gainLower,
    nozzleGainUpper: gainUpper,
    nozzleTensionLowerCnPerTex: armPerTex * gainLower,
    nozzleTensionUpperCnPerTex: armPerTex * gainUpper,
    takeUpTensionLowerCnPerTex: armPerTex * gainLower * bendGain,
    takeUpTensionUpperCnPerTex: armPerTex * gainUpper * bendGain,
    takeUpTensionCnPerTex: takeUpPerTex,
    falseTwistNozzlePct: 100 * falseTwist * nozzlePart,
    falseTwistBendPct: 100 * falseTwist * (1 - nozzlePart),
    falseTwistPct: 100 * falseTwist,
    armTwistPerM: armTwist,
    bindingLengthMm: bindingMm,
    requiredBindingLengthMm: requiredMm,
    wrapperSharePct: wrappersPct,
    wrapperMargin: (100 * p.wrapperShareLimit) / wrappersPct - 1,
    twistMargin,
    yarnTenacityCnPerTex: tenacity,
    yarnStrengthCn: tenacity * tex,
    speedStrengthLossPct: speedLossPct,
    tensionStrengthRatio: tensionShare,
    tensionMargin,
    stabilityMargin: Math.min(twistMargin, tensionMargin),
    nozzleFrictionPowerW: powerW,
    yarnHeatingK: yarnHeating(powerW, heatShare, tex, deliveryMPerMin, fibre.specificHeatJPerKgK),
    heatMargin: heatMargin(fibre, powerW, heatShare, setup.temperatureC, p),
    nozzleLifeH: lifeH,
    nozzleLifeUsedPct: (100 * setup.nozzleHours) / lifeH,
    hairinessIndex: hair,
    softnessIndex: softness(twistRatio, hair, wrappersPct, p),
    flyIndex: fly(setup.nozzleSurface, setup.notches, setup.insert, setup.recycledShare, dryness, p),
    openingRimMPerS: openingRimSpeed(p.openingRollerDiameterMm, setup.openingRollerRpm),
    openingPointsPerFibre: openingPointsPerFibre(
      outputGPerRotorH,
      setup.finenessMtex,
      stapleMm,
      setup.openingRollerRpm,
      p.openingRollerPoints,
    ),
    openingSpeedRatio: (2 * setup.openingRollerRpm) / (fibre.openingLowRpm + fibre.openingHighRpm),
    humidityDeparturePct: dampness - dryness,
  };
}

/**
 * Margin of the frictional power below the one at which the fibre sticks. The limit is stated for polyester on a
 * ceramic nozzle in a room of 25 °C; it moves with the share of heat the nozzle leaves in the yarn, with the warming
 * the fibre stands before it sticks, and with the share of such fibre in the mix.
 */
function heatMargin(
  fibre: FibreParameters,
  powerW: number,
  heatShare: number,
  roomC: number,
  p: ModelParameters,
): number {
  if (fibre.thermoplastic === 0) return FREE_MARGIN;
  const warming = Math.max(1, fibre.softensC - roomC) / (p.heatLimitSoftensC - HEAT_LIMIT_ROOM_C);
  const limitW = (p.heatPowerLimitW * warming * p.heatShareCeramic) / heatShare / fibre.thermoplastic;
  return Math.min(FREE_MARGIN, limitW / powerW - 1);
}

function grooveWedge(groove: GrooveWidth, p: ModelParameters): number {
  if (groove === 'narrow') return p.grooveWedgeNarrow;
  return groove === 'wide' ? p.grooveWedgeWide : p.grooveWedgeMedium;
}

function grooveStrength(groove: GrooveWidth, p: ModelParameters): number {
  if (groove === 'narrow') return 1 + p.narrowGrooveStrengthGain;
  return groove === 'wide' ? 1 - p.wideGrooveStrengthLoss : 1;
}

function nozzleHeatShare(material: NozzleMaterial, p: ModelParameters): number {
  if (material === 'ceramic') return p.heatShareCeramic;
  return material === 'steel' ? p.heatShareSteel : p.heatShareCeramicHead;
}

function materialLife(material: NozzleMaterial, p: ModelParameters): number {
  if (material === 'ceramic') return 1;
  return material === 'steel' ? p.lifeFactorSteel : p.lifeFactorCeramicHead;
}

function delustrantLife(delustrant: Delustrant, p: ModelParameters): number {
  if (delustrant === 'bright') return 1;
  return delustrant === 'dull' ? p.lifeFactorDull : p.lifeFactorSemiDull;
}
