/**
 * Frictional power set free at the nozzle: the yarn's sideways sweep under its own pressure, μ·T·θ·ω·r.
 *
 * @param friction coefficient of friction
 * @param tensionN N
 * @param wrapDeg degrees
 * @param rotorSpeedRpm 1/min
 * @param contactRadiusMm mm
 * @returns W. Standing: physics (tension at the entry is taken for the whole arc).
 */
export function nozzleFrictionPower(
  friction: number,
  tensionN: number,
  wrapDeg: number,
  rotorSpeedRpm: number,
  contactRadiusMm: number,
): number {
  const sweepMPerS = (Math.PI * rotorSpeedRpm * contactRadiusMm) / 30000;
  return friction * tensionN * ((wrapDeg * Math.PI) / 180) * sweepMPerS;
}

/**
 * Mean warming of the yarn by that power; the fibres that touch run far hotter.
 *
 * @param powerW W
 * @param yarnShare share of the heat that goes into the yarn, 0–1 (judgement)
 * @param specificHeatJPerKgK J/(kg·K)
 * @returns K. Standing: physics for a given share.
 */
export function yarnHeating(
  powerW: number,
  yarnShare: number,
  countTex: number,
  deliveryMPerMin: number,
  specificHeatJPerKgK: number,
): number {
  return (yarnShare * powerW) / (countTex * 1e-6 * (deliveryMPerMin / 60) * specificHeatJPerKgK);
}

/**
 * Expected life of the nozzle: the trade's figure for the fibre, shortened by more friction power than usual.
 *
 * @param tradeLifeH hours (common practice: polyester 10 000, cotton 20 000)
 * @param referencePowerW friction power at which that figure holds, W (judgement)
 * @param powerW friction power, W
 * @param least least factor on the life
 * @param most greatest factor
 * @returns hours. Standing: judgement.
 */
export function nozzleLife(
  tradeLifeH: number,
  referencePowerW: number,
  powerW: number,
  least: number,
  most: number,
): number {
  return tradeLifeH * Math.min(most, Math.max(least, referencePowerW / powerW));
}
