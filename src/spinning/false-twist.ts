/**
 * Torsional stiffness of the yarn without tension: the fibres' own rigidities, added and raised by the hold they
 * have on each other.
 *
 * @param countTex yarn count, tex
 * @param finenessMtex fibre fineness, mtex
 * @param specificRigidity of the fibre, mN·mm²/tex²
 * @param coupling factor for fibres that cannot turn freely (judgement, about 2)
 * @returns N·m². Standing: judgement (the sum is physics; rigidities are from memory, the coupling is judgement).
 */
export function intrinsicStiffness(
  countTex: number,
  finenessMtex: number,
  specificRigidity: number,
  coupling: number,
): number {
  return coupling * countTex * (finenessMtex / 1000) * specificRigidity * 1e-9;
}

/**
 * Torsional stiffness under tension: torque per twist angle and length, K + T·d²/8.
 *
 * @param intrinsicNm2 see {@link intrinsicStiffness}
 * @param tensionN N
 * @param diameterMm yarn diameter, mm
 * @returns N·m². Standing: published form (torque is a straight line in tension with a positive intercept); the
 *   tension term is that of tension shared evenly along a helix.
 */
export function torsionalStiffness(intrinsicNm2: number, tensionN: number, diameterMm: number): number {
  return intrinsicNm2 + (tensionN * diameterMm * diameterMm * 1e-6) / 8;
}

/**
 * Torque by which friction at a guide holds the twist back: φ·μ·θ·T·d/2.
 *
 * @param textureFactor 1 for a smooth face, more for one that grips
 * @param friction coefficient of friction
 * @param wrapDeg angle of wrap, degrees
 * @param tensionN tension at the guide, N
 * @param diameterMm yarn diameter, mm
 * @returns N·m, the most that friction can give. Standing: physics, apart from the texture factor.
 */
export function holdingTorque(
  textureFactor: number,
  friction: number,
  wrapDeg: number,
  tensionN: number,
  diameterMm: number,
): number {
  return (textureFactor * friction * ((wrapDeg * Math.PI) / 180) * tensionN * diameterMm) / 2000;
}

/**
 * Twist that a torque adds.
 *
 * @returns turns/m. Standing: physics.
 */
export function twistFromTorque(torqueNm: number, stiffnessNm2: number): number {
  return torqueNm / (2 * Math.PI * stiffnessNm2);
}

/**
 * False twist in the arm as a share of the set twist: the sum asked for by the holding torques, levelled off since
 * a strongly overtwisted arm slips and snarls.
 *
 * @param asked false twist the torques would give, as a share of the set twist, 0 or more
 * @param saturation share that is never passed (judgement; the trade speaks of up to about 60 % in practice)
 * @returns share of the set twist, below `saturation`. Standing: judgement.
 */
export function levelledFalseTwist(asked: number, saturation: number): number {
  return asked / (1 + asked / saturation);
}
