import { QUANTITY_KINDS, type QuantityKind, readQuantity } from './quantity.js';
import { fromTurnsPerMetre, needsCount, type TwistUnit } from './twist.js';
import { type Dimension, findUnits, type Unit } from './unit-table.js';

/** Outcome of a conversion. */
export type Conversion =
  | { readonly ok: true; readonly value: number; readonly unit: string; readonly from: string }
  | { readonly ok: false; readonly reason: string; readonly allowed: readonly string[] };

/** Kinds tried for a dimension, widest first. */
const KINDS_OF_DIMENSION: Readonly<Record<Dimension, readonly QuantityKind[]>> = {
  'linear density': ['count', 'fineness', 'sliver-count'],
  twist: ['twist'],
  length: ['length'],
  rotation: ['speed'],
  delivery: ['delivery'],
  share: ['percent'],
  tenacity: ['tenacity'],
  force: ['force'],
  time: ['hours'],
  angle: ['angle'],
  temperature: ['temperature'],
  number: ['number'],
};

/**
 * Converts a quantity given as text into another unit of the same dimension, for example `"20 Ne"` into `tex`,
 * `"4.2 mic"` into `dtex`, or `"4.3 alpha-e"` into `t/m` with the count `"20 Ne"`.
 *
 * @param text number with its unit
 * @param toUnit unit wanted
 * @param options `count`: the yarn count as text (or a number in tex), needed when a twist multiplier is involved
 * @returns the value in the wanted unit, or a reason and what is allowed; never throws
 */
export function convertQuantity(
  text: string,
  toUnit: string,
  options: { readonly count?: string | number } = {},
): Conversion {
  const targets = findUnits(typeof toUnit === 'string' ? toUnit : '');
  if (targets.length === 0) {
    return { ok: false, reason: `"${String(toUnit).slice(0, 60)}" is not a known unit`, allowed: allUnits() };
  }
  let countTex: number | undefined;
  if (options.count !== undefined) {
    const count = readQuantity(options.count, 'count');
    if (!count.ok) return { ok: false, reason: `count: ${count.reason}`, allowed: count.allowed };
    countTex = count.value;
  }
  let failure: Conversion | undefined;
  for (const target of targets) {
    const result = convertTo(text, target, countTex);
    if (result.ok) return result;
    failure ??= result;
  }
  return (
    failure ?? {
      ok: false,
      reason: `"${String(toUnit).slice(0, 60)}" is not a known unit`,
      allowed: allUnits(),
    }
  );
}

function convertTo(text: string, target: Unit, countTex: number | undefined): Conversion {
  let failure: Conversion | undefined;
  for (const kind of KINDS_OF_DIMENSION[target.dimension]) {
    const reading = readQuantity(text, kind, countTex === undefined ? {} : { countTex });
    if (!reading.ok) {
      failure ??= reading;
      continue;
    }
    if (target.dimension === 'twist') {
      const unit = target.id as TwistUnit;
      if (needsCount(unit) && countTex === undefined) {
        return {
          ok: false,
          reason: `a twist in ${unit} needs the yarn count as well`,
          allowed: ['a count, such as 20 Ne'],
        };
      }
      return {
        ok: true,
        value: fromTurnsPerMetre(reading.value, unit, countTex ?? 1),
        unit,
        from: reading.unit,
      };
    }
    const kindBase = findUnits(QUANTITY_KINDS[kind].baseUnit).find(
      (unit) => unit.dimension === target.dimension,
    );
    if (kindBase === undefined) continue;
    const value =
      reading.unit === target.id && kindBase.id === target.id
        ? reading.value
        : target.fromBase(kindBase.toBase(reading.value));
    if (!Number.isFinite(value)) {
      return {
        ok: false,
        reason: `"${text}" has no finite value in ${target.id}`,
        allowed: QUANTITY_KINDS[kind].units,
      };
    }
    return { ok: true, value, unit: target.id, from: reading.unit };
  }
  return failure ?? { ok: false, reason: `"${text}" cannot be read`, allowed: [] };
}

function allUnits(): readonly string[] {
  return [...new Set(Object.values(QUANTITY_KINDS).flatMap((kind) => kind.units))];
}
