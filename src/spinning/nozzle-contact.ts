/**
 * Radius of the circle on which the yarn arm runs round the nozzle: bore radius plus radius of curvature.
 *
 * @returns mm. Standing: physics for a nozzle whose entry is a quarter torus.
 */
export function contactRadius(boreRadiusMm: number, curvatureRadiusMm: number): number {
  return boreRadiusMm + curvatureRadiusMm;
}

/**
 * Angle over which the yarn wraps the nozzle: a quarter turn, and more the farther the nozzle stands out beyond the
 * groove plane.
 *
 * @param protrusionMm distance of the nozzle face beyond the groove plane, mm; negative when it stands back
 * @param rotorDiameterMm groove diameter, mm
 * @param contactRadiusMm see {@link contactRadius}, below half the rotor diameter
 * @returns degrees. Standing: physics (geometry; the sag of the arm is left out).
 */
export function nozzleWrap(protrusionMm: number, rotorDiameterMm: number, contactRadiusMm: number): number {
  return 90 + (Math.atan2(protrusionMm, rotorDiameterMm / 2 - contactRadiusMm) * 180) / Math.PI;
}

/**
 * Coefficient of friction at the load the nozzle sees. Friction of fibres grows less than in proportion to load
 * (F = a·Nⁿ), so the coefficient falls with the yarn's pressure on the nozzle.
 *
 * @param coefficient coefficient of friction at the reference load
 * @param tensionN yarn tension, N
 * @param curvatureRadiusMm radius of curvature of the nozzle, mm
 * @param exponent n, 0.67–1 (1: load makes no difference)
 * @param referenceLoadNPerM load per length at which `coefficient` holds, N/m
 * @returns plain ratio. Standing: published form (Howell, from memory); exponent and reference load are judgement.
 */
export function frictionUnderLoad(
  coefficient: number,
  tensionN: number,
  curvatureRadiusMm: number,
  exponent: number,
  referenceLoadNPerM: number,
): number {
  const loadNPerM = (tensionN * 1000) / curvatureRadiusMm;
  return coefficient * (loadNPerM / referenceLoadNPerM) ** (exponent - 1);
}
