/**
 * Diameter of a round yarn.
 *
 * @param countTex yarn count, tex
 * @param densityGPerCm3 fibre density, g/cm³
 * @param packing share of the section filled by fibre, 0–1 (ring 0.5–0.6; rotor yarns are looser)
 * @returns mm. Standing: physics, given the packing.
 */
export function yarnDiameter(countTex: number, densityGPerCm3: number, packing: number): number {
  return 20 * Math.sqrt((countTex * 1e-5) / (Math.PI * densityGPerCm3 * packing));
}

/**
 * Tangent of the angle between a surface fibre and the yarn axis, helix geometry.
 *
 * @param diameterMm yarn diameter, mm
 * @param twistPerMetre turns/m
 * @returns plain ratio. Standing: physics for an ideal helix; the wild and wrapped fibres of a rotor yarn differ.
 */
export function surfaceAngleTangent(diameterMm: number, twistPerMetre: number): number {
  return (Math.PI * diameterMm * twistPerMetre) / 1000;
}

/**
 * Shortening by twist of an ideal yarn: ½(1 + sec β) − 1, as a share of the untwisted length.
 *
 * @param angleTangent tan β of the surface fibre
 * @returns percent of the untwisted length, 0–100. Standing: physics (helix geometry, Hearle, Grosberg and Backer,
 *   from memory). Rotor yarn shortens somewhat less than the ideal yarn (3–6 % in practice, judgement).
 */
export function twistContraction(angleTangent: number): number {
  const factor = (1 + Math.sqrt(1 + angleTangent * angleTangent)) / 2;
  return 100 * (1 - 1 / factor);
}
