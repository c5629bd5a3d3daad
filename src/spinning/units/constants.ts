/**
 * Exact definitions behind the unit conversions.
 *
 * The avoirdupois pound, the yard and the inch are exact by international agreement; the cotton hank is
 * 840 yards, the worsted hank 560 yards. Standing: definitions (the basis of the conversion tables of
 * ISO 1144 and ASTM D2260, given here from memory of the definitions and not copied from those tables).
 */

/** Grams in a pound. */
export const GRAMS_PER_POUND = 453.59237;

/** Metres in a yard. */
export const METRES_PER_YARD = 0.9144;

/** Metres in an inch. */
export const METRES_PER_INCH = 0.0254;

/** tex · Ne: 590.5412…, grams a pound holds over the kilometres of one 840 yd hank. */
export const TEX_TIMES_NE = GRAMS_PER_POUND / ((840 * METRES_PER_YARD) / 1000);

/** tex · worsted count: 885.8119…, from the 560 yd hank. */
export const TEX_TIMES_WORSTED = GRAMS_PER_POUND / ((560 * METRES_PER_YARD) / 1000);

/** tex · Nm. */
export const TEX_TIMES_NM = 1000;

/** Denier in a tex. */
export const DENIER_PER_TEX = 9;

/** Standard gravity, m/s², which turns grams-force into centinewtons (0.980665 cN each). */
export const STANDARD_GRAVITY = 9.80665;

/** Millitex in one micronaire unit, micrograms an inch taken at face value (true at reference maturity only). */
export const MTEX_PER_MICRONAIRE = 1 / METRES_PER_INCH;
