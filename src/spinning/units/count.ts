import {
  DENIER_PER_TEX,
  MTEX_PER_MICRONAIRE,
  TEX_TIMES_NE,
  TEX_TIMES_NM,
  TEX_TIMES_WORSTED,
} from './constants.js';

/** Units of linear density: direct (mass per length) and indirect (length per mass). */
export type CountUnit = 'tex' | 'dtex' | 'mtex' | 'ktex' | 'den' | 'Ne' | 'Nm' | 'Nw' | 'mic';

/** Tex in one unit of each direct system; `mic` is micronaire read as micrograms an inch. */
const TEX_PER_UNIT = {
  tex: 1,
  dtex: 0.1,
  mtex: 0.001,
  ktex: 1000,
  den: 1 / DENIER_PER_TEX,
  mic: MTEX_PER_MICRONAIRE / 1000,
} as const;

/** The product count × tex of each indirect system. */
const TEX_TIMES_COUNT = { Ne: TEX_TIMES_NE, Nm: TEX_TIMES_NM, Nw: TEX_TIMES_WORSTED } as const;

/**
 * Turns a count or fineness into tex.
 *
 * @param value the count, above 0 and finite
 * @param unit the system it is given in; `Ne` English cotton, `Nm` metric, `Nw` worsted, `mic` micronaire
 * @returns linear density in tex (g/km)
 * @throws RangeError when the value is not a finite number above 0
 *
 * Standing: definitions.
 */
export function toTex(value: number, unit: CountUnit): number {
  requirePositive(value, unit);
  return unit === 'Ne' || unit === 'Nm' || unit === 'Nw'
    ? TEX_TIMES_COUNT[unit] / value
    : value * TEX_PER_UNIT[unit];
}

/**
 * Turns tex into another count or fineness unit; the inverse of {@link toTex}.
 *
 * @param tex linear density in tex, above 0 and finite
 * @throws RangeError when `tex` is not a finite number above 0
 */
export function fromTex(tex: number, unit: CountUnit): number {
  requirePositive(tex, 'tex');
  return unit === 'Ne' || unit === 'Nm' || unit === 'Nw'
    ? TEX_TIMES_COUNT[unit] / tex
    : tex / TEX_PER_UNIT[unit];
}

function requirePositive(value: number, unit: string): void {
  if (!(value > 0 && Number.isFinite(value))) {
    throw new RangeError(`count: ${value} ${unit} is not possible; give a number above 0`);
  }
}
