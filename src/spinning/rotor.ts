/**
 * Speed of the rotor groove.
 *
 * @param rotorDiameterMm groove diameter, mm (the nominal rotor diameter, unless the groove's is known)
 * @param rotorSpeedRpm rotor speed, 1/min
 * @returns m/s. Standing: physics.
 */
export function rimSpeed(rotorDiameterMm: number, rotorSpeedRpm: number): number {
  return (Math.PI * rotorDiameterMm * rotorSpeedRpm) / 60000;
}

/**
 * Back-doublings: fibre layers laid into the groove before a piece of ribbon is peeled.
 *
 * @returns layers, usually 60–120. Standing: physics.
 */
export function backDoublings(rotorDiameterMm: number, twistPerMetre: number): number {
  return (Math.PI * rotorDiameterMm * twistPerMetre) / 1000;
}

/**
 * Twist including the one turn the yarn arm gains on the rotor for each groove circumference it peels.
 *
 * @returns turns/m, about 1 % over the machine twist. Standing: physics. A twist tester reads less: the structure
 *   does not untwist as a helix.
 */
export function twistWithPeeling(twistPerMetre: number, rotorDiameterMm: number): number {
  return twistPerMetre + 1000 / (Math.PI * rotorDiameterMm);
}

/**
 * Period that a dirty or damaged spot in the groove leaves in the yarn.
 *
 * @param contractionPct shortening by twist, %
 * @returns mm of yarn: groove circumference less contraction. Standing: physics.
 */
export function groovePeriod(rotorDiameterMm: number, contractionPct: number): number {
  return Math.PI * rotorDiameterMm * (1 - contractionPct / 100);
}

/**
 * Dirt that settles in the groove.
 *
 * @param countTex yarn count, tex
 * @param deliveryMPerMin m/min
 * @param trashPct trash in the sliver, mass %
 * @param pastOpening share of the trash that gets past the opening roller, 0–1
 * @param keptByGroove share of that which the yarn does not carry away, 0–1
 * @returns µg per centimetre of groove and minute. Standing: physics for given shares (the shares are judgement).
 */
export function grooveDirt(
  countTex: number,
  deliveryMPerMin: number,
  trashPct: number,
  pastOpening: number,
  keptByGroove: number,
  rotorDiameterMm: number,
): number {
  const milligramsPerMinute = countTex * deliveryMPerMin * (trashPct / 100) * pastOpening * keptByGroove;
  return (milligramsPerMinute * 1000) / ((Math.PI * rotorDiameterMm) / 10);
}
