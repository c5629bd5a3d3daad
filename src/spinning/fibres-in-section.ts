/**
 * Mean number of fibres in the yarn section.
 *
 * @param countTex yarn count, tex
 * @param finenessMtex fibre fineness, mtex (for a blend: {@link blendFineness})
 * @returns fibres. Standing: physics (15000/(micronaire · Ne) in the trade's units). Micronaire taken at face value
 *   is true only at reference maturity.
 */
export function fibresInSection(countTex: number, finenessMtex: number): number {
  return (countTex * 1000) / finenessMtex;
}

/**
 * Least possible irregularity: fibres laid at random.
 *
 * @param fibres mean number of fibres in the section, above 0
 * @param factor 100 for man-made fibre, 106 cotton, 112 wool: 100·√(1 + 0.0004·V²) with V the CV of fibre diameter
 * @returns CV % of mass. Standing: physics (Martindale); the class factors are from memory.
 */
export function limitIrregularity(fibres: number, factor: number): number {
  return factor / Math.sqrt(fibres);
}

/**
 * Class factor of {@link limitIrregularity} from the scatter of fibre diameter.
 *
 * @param diameterCvPct CV of fibre diameter, %
 * @returns 100 or more. Standing: physics (Martindale, from memory).
 */
export function limitFactor(diameterCvPct: number): number {
  return 100 * Math.sqrt(1 + 0.0004 * diameterCvPct * diameterCvPct);
}

/**
 * Fineness of a blend: the harmonic mean by mass, so that numbers of fibres add up.
 *
 * @param parts mass shares (they need not sum to 1) and finenesses, mtex
 * @returns mtex. Standing: physics.
 * @throws RangeError when there is no part with a share above 0
 */
export function blendFineness(
  parts: readonly { readonly share: number; readonly finenessMtex: number }[],
): number {
  let mass = 0;
  let number = 0;
  for (const part of parts) {
    mass += part.share;
    number += part.share / part.finenessMtex;
  }
  if (!(mass > 0 && number > 0)) {
    throw new RangeError('blend: no fibre with a share above 0; give at least one');
  }
  return mass / number;
}
