/**
 * Length of the binding-in zone: the stretch of groove into which the arm's torque runs until groove friction and
 * the ribbon's own cohesion have used it up.
 *
 * @param stiffnessNm2 torsional stiffness at the peel point, N·m²
 * @param armTwistPerM twist in the arm, turns/m
 * @param grooveFriction coefficient of friction of fibre on groove
 * @param wedge factor by which the groove's walls raise the pressure, 1 or more
 * @param countTex yarn count, tex
 * @param rotorDiameterMm groove diameter, mm
 * @param rimSpeedMPerS groove speed, m/s
 * @param diameterMm yarn diameter, mm
 * @param cohesionNPerTex torque per length that the ribbon takes up at any speed, per tex (N·m/m/tex)
 * @returns mm. Standing: judgement: the balance is physics, friction, wedge and cohesion are judgement, and no
 *   measured length was found (5–20 mm are remembered).
 */
export function bindingLength(
  stiffnessNm2: number,
  armTwistPerM: number,
  grooveFriction: number,
  wedge: number,
  countTex: number,
  rotorDiameterMm: number,
  rimSpeedMPerS: number,
  diameterMm: number,
  cohesionNPerTex: number,
): number {
  const torque = 2 * Math.PI * stiffnessNm2 * armTwistPerM;
  const pressNPerM = (countTex * 1e-6 * rimSpeedMPerS * rimSpeedMPerS * 2000) / rotorDiameterMm;
  const takenUp = (grooveFriction * wedge * pressNPerM * diameterMm) / 2000 + cohesionNPerTex * countTex;
  return (torque / takenUp) * 1000;
}

/**
 * The length {@link bindingLength} tends to at high speed: R·tan β/(4·μγ). Speed and count drop out.
 *
 * @param angleTangent tan β of the surface fibre in the arm
 * @param frictionTimesWedge groove friction times wedge factor
 * @returns mm. Standing: physics for given friction.
 */
export function bindingLengthAtSpeed(
  rotorDiameterMm: number,
  angleTangent: number,
  frictionTimesWedge: number,
): number {
  return (rotorDiameterMm * angleTangent) / (8 * frictionTimesWedge);
}

/**
 * Binding-in length a fibre needs for a stable run: shorter fibre needs more.
 *
 * @param lengthMm length needed at the reference staple, mm (judgement)
 * @param referenceStapleMm mm
 * @param stapleMm fibre length, mm
 * @param exponent power of the staple ratio, 0.5–1.5 (judgement: 1 puts the least twist of 38 mm man-made fibre
 *   below the multipliers mills spin it at; the square root puts it above)
 * @returns mm. Standing: judgement.
 */
export function requiredBindingLength(
  lengthMm: number,
  referenceStapleMm: number,
  stapleMm: number,
  exponent: number,
): number {
  return lengthMm * (referenceStapleMm / stapleMm) ** exponent;
}

/**
 * Share of fibres that land on the binding-in zone and become wrappers.
 *
 * @param bindingLengthMm mm
 * @param extentRatio extent of a fibre in the groove over its length, 0.5–0.6 (from memory)
 * @param stapleMm mm
 * @param rotorDiameterMm mm
 * @returns percent, at most 100. Standing: physics (geometry), on a binding-in length that is judgement.
 */
export function wrapperShare(
  bindingLengthMm: number,
  extentRatio: number,
  stapleMm: number,
  rotorDiameterMm: number,
): number {
  return Math.min(100, (100 * (bindingLengthMm + extentRatio * stapleMm)) / (Math.PI * rotorDiameterMm));
}
