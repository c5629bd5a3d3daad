import { METRES_PER_INCH } from './constants.js';
import { fromTex } from './count.js';

/**
 * Units of twist. `t/m` turns a metre, `tpi` turns an inch, `t/cm` turns a centimetre. The multipliers relate
 * twist to count: `alpha-e` = tpi/√Ne, `alpha-m` = (t/m)/√Nm, `alpha-tex` = (t/m)·√tex.
 */
export type TwistUnit = 't/m' | 'tpi' | 't/cm' | 'alpha-e' | 'alpha-m' | 'alpha-tex';

/** True for the twist units that mean something only together with a count. */
export function needsCount(unit: TwistUnit): boolean {
  return unit === 'alpha-e' || unit === 'alpha-m' || unit === 'alpha-tex';
}

/**
 * Turns twist into turns per metre.
 *
 * @param value the twist, 0 or more
 * @param unit the unit it is given in
 * @param tex the yarn's count in tex; used by the multipliers only
 * @returns turns per metre
 * @throws RangeError when the value is below 0 or not finite, or a multiplier is given without a usable count
 *
 * Standing: definitions. `alpha-tex` is per metre; a value printed in turns/cm·√tex is 100 times smaller.
 */
export function toTurnsPerMetre(value: number, unit: TwistUnit, tex: number): number {
  requireTwist(value, unit);
  return value * turnsPerMetreInUnit(unit, tex);
}

/**
 * Turns a twist in turns per metre into another unit; the inverse of {@link toTurnsPerMetre}.
 *
 * @throws RangeError as {@link toTurnsPerMetre}
 */
export function fromTurnsPerMetre(turnsPerMetre: number, unit: TwistUnit, tex: number): number {
  requireTwist(turnsPerMetre, 't/m');
  return turnsPerMetre / turnsPerMetreInUnit(unit, tex);
}

function turnsPerMetreInUnit(unit: TwistUnit, tex: number): number {
  switch (unit) {
    case 't/m':
      return 1;
    case 't/cm':
      return 100;
    case 'tpi':
      return 1 / METRES_PER_INCH;
    case 'alpha-e':
      return Math.sqrt(fromTex(tex, 'Ne')) / METRES_PER_INCH;
    case 'alpha-m':
      return Math.sqrt(fromTex(tex, 'Nm'));
    case 'alpha-tex':
      return 1 / Math.sqrt(fromTex(tex, 'tex'));
  }
}

function requireTwist(value: number, unit: string): void {
  if (!(value >= 0 && Number.isFinite(value))) {
    throw new RangeError(`twist: ${value} ${unit} is not possible; give a number of 0 or more`);
  }
}
