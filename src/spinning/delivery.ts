/**
 * Delivery speed at which a rotor gives the set twist.
 *
 * @param rotorSpeedRpm rotor speed, 1/min, above 0
 * @param twistPerMetre set (machine) twist, turns/m, above 0
 * @returns m/min. Standing: physics (definition of machine twist; the turns added by peeling are left out,
 *   see {@link twistWithPeeling} in `rotor.ts`).
 */
export function deliverySpeed(rotorSpeedRpm: number, twistPerMetre: number): number {
  return rotorSpeedRpm / twistPerMetre;
}

/**
 * Mechanical draft from sliver to yarn without waste and twist contraction.
 *
 * @param sliverKtex sliver count, ktex
 * @param countTex yarn count, tex
 * @returns draft, a plain ratio. Standing: physics.
 */
export function draft(sliverKtex: number, countTex: number): number {
  return (sliverKtex * 1000) / countTex;
}

/**
 * Output of one rotor.
 *
 * @param deliveryMPerMin delivery, m/min
 * @param countTex yarn count, tex
 * @param efficiency running share of the time, 0–1 (1: while running)
 * @returns g per rotor and hour. Standing: physics.
 */
export function outputPerRotor(deliveryMPerMin: number, countTex: number, efficiency = 1): number {
  return 0.06 * deliveryMPerMin * countTex * efficiency;
}

/**
 * Share of the running time lost by end breaks.
 *
 * @param breaksPer1000RotorH end breaks per 1000 rotor-hours, 0 or more
 * @param stopSeconds mean time from break to running again, s. It grows when the piecing unit is busy: use a
 *   measured mean, not the piecing cycle alone.
 * @returns percent. Standing: physics (valid while the loss is small).
 */
export function timeLostByBreaks(breaksPer1000RotorH: number, stopSeconds: number): number {
  return ((breaksPer1000RotorH / 1000) * stopSeconds * 100) / 3600;
}

/**
 * End breaks per kilogram from breaks per 1000 rotor-hours.
 *
 * @param outputGPerRotorH output of a rotor, g/h
 * @returns breaks/kg. Standing: physics.
 */
export function breaksPerKilogram(breaksPer1000RotorH: number, outputGPerRotorH: number): number {
  return breaksPer1000RotorH / outputGPerRotorH;
}
