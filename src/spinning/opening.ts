/**
 * Rim speed of the opening roller.
 *
 * @returns m/s. Standing: physics.
 */
export function openingRimSpeed(diameterMm: number, speedRpm: number): number {
  return (Math.PI * diameterMm * speedRpm) / 60000;
}

/**
 * Wire points of the opening roller that pass for each fibre fed.
 *
 * @param outputGPerRotorH throughput, g/h
 * @param finenessMtex fibre fineness, mtex
 * @param stapleMm fibre length, mm
 * @param points wire points on the roller (judgement: about 1400)
 * @returns points per fibre. Standing: physics for a given number of points.
 */
export function openingPointsPerFibre(
  outputGPerRotorH: number,
  finenessMtex: number,
  stapleMm: number,
  speedRpm: number,
  points: number,
): number {
  const fibresPerMinute = outputGPerRotorH / 60 / ((finenessMtex * 1e-6 * stapleMm) / 1000);
  return (points * speedRpm) / fibresPerMinute;
}
