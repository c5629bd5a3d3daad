/**
 * Tension of the yarn arm where it meets the nozzle: the centrifugal pull of the arm between nozzle and groove.
 * Left out, each below about 5 %: the pull needed to peel, air drag, Coriolis force, μv².
 *
 * @param rimSpeedMPerS speed of the groove, m/s
 * @param contactRadiusMm radius of the circle on which the arm touches the nozzle, mm
 * @param rotorDiameterMm groove diameter, mm
 * @returns cN/tex, the same for every count. Standing: physics: σ = U²/20000 · (1 − (r/R)²).
 */
export function armTension(rimSpeedMPerS: number, contactRadiusMm: number, rotorDiameterMm: number): number {
  const ratio = (2 * contactRadiusMm) / rotorDiameterMm;
  return ((rimSpeedMPerS * rimSpeedMPerS) / 20000) * (1 - ratio * ratio);
}

/**
 * Upper bound of the rise of tension over a bend: friction fully along the yarn (the rope-and-post law).
 *
 * @param friction coefficient of friction
 * @param wrapDeg angle of wrap, degrees
 * @returns factor, 1 or more. Standing: physics.
 */
export function tensionGain(friction: number, wrapDeg: number): number {
  return Math.exp((friction * wrapDeg * Math.PI) / 180);
}

/**
 * Lower bound of the rise of tension over the nozzle: the yarn sweeps round the nozzle some twenty times faster
 * than it moves along itself, and friction points against the slip, so that only the share v/√(v² + (ωr)²) of it
 * pulls along the yarn.
 *
 * @param deliveryMPerMin m/min
 * @param rotorSpeedRpm 1/min
 * @param contactRadiusMm radius of the circle of contact, mm
 * @returns factor, 1 or more, seldom above 1.02. Standing: physics. Where between the two bounds the truth lies is
 *   not known: no measurement was found, and the model carries the doubt as a spread.
 */
export function tensionGainWithSweep(
  friction: number,
  wrapDeg: number,
  deliveryMPerMin: number,
  rotorSpeedRpm: number,
  contactRadiusMm: number,
): number {
  const sweepMPerMin = (2 * Math.PI * rotorSpeedRpm * contactRadiusMm) / 1000;
  const share = deliveryMPerMin / Math.sqrt(deliveryMPerMin * deliveryMPerMin + sweepMPerMin * sweepMPerMin);
  return Math.exp((friction * share * wrapDeg * Math.PI) / 180);
}
