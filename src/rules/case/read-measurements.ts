import { QUANTITY_KINDS, readQuantity } from '../../spinning/units/quantity.js';
import { PROPERTIES, type PropertyInfo } from './measured-properties.js';
import { isLeftOut, type Path, type Reading, readMap, refuse, showValue, warn } from './reading.js';
import { describeRange, formatNumber } from './setup-fields.js';
import {
  type BreakCount,
  type BreakMeasurement,
  MEASURED_PROPERTIES,
  type MeasuredProperty,
  type Measurements,
  type ValueMeasurement,
} from './types.js';

/** A test series shorter than this says little about its own scatter. Standing: judgement. */
const FEW_TESTS = 5;
const MOST_READINGS = 10_000;

/**
 * Reads `measurements`.
 * @param countTex the yarn's count, needed for a twist given as a multiplier
 */
export function readMeasurements(
  reading: Reading,
  path: Path,
  value: unknown,
  countTex: number | undefined,
): Measurements {
  if (isLeftOut(value)) return { values: {} };
  const entries = readMap(reading, path, value, ['end-breaks', ...MEASURED_PROPERTIES]);
  let endBreaks: BreakMeasurement | undefined;
  const values: Partial<Record<MeasuredProperty, ValueMeasurement>> = {};
  for (const [key, one] of entries ?? []) {
    if (key === 'end-breaks') endBreaks = readBreaks(reading, [...path, key], one);
    else {
      const property = key as MeasuredProperty;
      const measured = readProperty(reading, [...path, key], one, PROPERTIES[property], countTex);
      if (measured !== undefined) values[property] = measured;
    }
  }
  return { ...(endBreaks === undefined ? {} : { endBreaks }), values };
}

function readBreaks(reading: Reading, path: Path, value: unknown): BreakMeasurement | undefined {
  const entries = readMap(reading, path, value, [
    'count',
    'rotor-hours',
    'norm-per-1000',
    'picked-from',
    'dispersion',
    'a',
    'b',
  ]);
  if (entries === undefined) return undefined;
  if (entries.has('a') || entries.has('b')) {
    for (const key of entries.keys()) {
      if (key !== 'a' && key !== 'b' && key !== 'dispersion') {
        refuse(reading, [...path, key], entries.get(key), `"${key}" cannot stand beside the groups a and b`, [
          'a and b, or count, rotor-hours and norm-per-1000',
        ]);
      }
    }
    const groups = (['a', 'b'] as const).map((key) => {
      const inner = entries.has(key)
        ? readMap(reading, [...path, key], entries.get(key), ['count', 'rotor-hours'])
        : missing(reading, [...path, key], 'two groups need both a (for comparison) and b (in trouble)', [
            '{count, rotor-hours}',
          ]);
      return inner === undefined ? undefined : readBreakCount(reading, [...path, key], inner);
    });
    const [a, b] = groups;
    const bunched = readDispersion(reading, path, entries);
    return a === undefined || b === undefined ? undefined : { kind: 'two-groups', a, b, ...bunched };
  }
  const counted = readBreakCount(reading, path, entries);
  const norm = readNumberIn(reading, path, entries, 'norm-per-1000', [0.01, 100000], {
    missing: 'a count needs the usual breaks per 1000 rotor-hours to be compared with, or two groups a and b',
  });
  const picked = entries.has('picked-from')
    ? readNumberIn(reading, path, entries, 'picked-from', [2, 100000], { whole: true })
    : undefined;
  const bunched = readDispersion(reading, path, entries);
  if (counted === undefined || norm === undefined) return undefined;
  return {
    kind: 'against-norm',
    ...counted,
    normPer1000: norm,
    ...(picked === undefined ? {} : { pickedFrom: picked }),
    ...bunched,
  };
}

/** Variance over mean of such counts, when it is known to be above chance. */
function readDispersion(
  reading: Reading,
  path: Path,
  entries: ReadonlyMap<string, unknown>,
): { dispersion?: number } {
  if (!entries.has('dispersion')) return {};
  const dispersion = readNumberIn(reading, path, entries, 'dispersion', [1, 1000], {});
  return dispersion === undefined ? {} : { dispersion };
}

function readBreakCount(
  reading: Reading,
  path: Path,
  entries: ReadonlyMap<string, unknown>,
): BreakCount | undefined {
  const count = readNumberIn(reading, path, entries, 'count', [0, 1e7], { whole: true });
  const rotorHours = readNumberIn(reading, path, entries, 'rotor-hours', [0.01, 1e8], { hours: true });
  return count === undefined || rotorHours === undefined ? undefined : { count, rotorHours };
}

function readProperty(
  reading: Reading,
  path: Path,
  value: unknown,
  info: PropertyInfo,
  countTex: number | undefined,
): ValueMeasurement | undefined {
  const entries = readMap(reading, path, value, ['mean', 'cv', 'tests', 'target', 'readings']);
  if (entries === undefined) return undefined;
  const target = readValueIn(reading, path, entries, 'target', info, countTex, info.leastTarget);
  if (entries.has('readings')) {
    for (const key of ['mean', 'cv', 'tests']) {
      if (entries.has(key)) {
        refuse(reading, [...path, key], entries.get(key), `"${key}" cannot stand beside readings`, [
          'readings and target, or mean, cv, tests and target',
        ]);
      }
    }
    const readings = readReadings(reading, [...path, 'readings'], entries.get('readings'), info, countTex);
    return readings === undefined || target === undefined
      ? undefined
      : { kind: 'readings', readings, target };
  }
  const mean = readValueIn(reading, path, entries, 'mean', info, countTex, info.possible[0]);
  const perKm = info.scatter === 'poisson-per-km';
  const tests = readNumberIn(
    reading,
    path,
    entries,
    'tests',
    perKm ? [0.01, 1e6] : [info.scatter === 'given' ? 2 : 1, 1e6],
    {
      whole: !perKm,
      missing: perKm ? 'say how many kilometres were tested' : 'say how many tests the mean rests on',
    },
  );
  const needsCv = info.scatter === 'given';
  const cv =
    needsCv || entries.has('cv')
      ? readNumberIn(reading, path, entries, 'cv', [0.01, 200], {
          percent: true,
          missing: 'a mean needs the coefficient of variation of its tests',
        })
      : undefined;
  if (mean === undefined || tests === undefined || target === undefined || (needsCv && cv === undefined)) {
    return undefined;
  }
  if (needsCv && tests < FEW_TESTS) {
    warn(reading, [...path, 'tests'], `${formatNumber(tests)} tests say little; take at least ${FEW_TESTS}`);
  }
  return { kind: 'summary', mean, tests, target, ...(cv === undefined ? {} : { cvPct: cv }) };
}

function readReadings(
  reading: Reading,
  path: Path,
  value: unknown,
  info: PropertyInfo,
  countTex: number | undefined,
): readonly number[] | undefined {
  if (!Array.isArray(value) || value.length < 2 || value.length > MOST_READINGS) {
    return refuse(reading, path, value, 'must be a list of single readings', [
      `2 to ${MOST_READINGS} values`,
    ]);
  }
  const readings: number[] = [];
  value.forEach((one, index) => {
    const number = readValue(reading, [...path, String(index)], one, info, countTex, info.possible[0]);
    if (number !== undefined) readings.push(number);
  });
  return readings.length === value.length ? readings : undefined;
}

function readValueIn(
  reading: Reading,
  path: Path,
  entries: ReadonlyMap<string, unknown>,
  key: string,
  info: PropertyInfo,
  countTex: number | undefined,
  least: number,
): number | undefined {
  if (!entries.has(key)) {
    return missing(reading, [...path, key], `is missing; a measured ${info.label.toLowerCase()} needs it`, [
      describeRange([least, info.possible[1]], info.unit),
    ]);
  }
  return readValue(reading, [...path, key], entries.get(key), info, countTex, least);
}

/** One value of a property in its unit; `35 /km` and `35 per km` are read for faults per km. */
function readValue(
  reading: Reading,
  path: Path,
  value: unknown,
  info: PropertyInfo,
  countTex: number | undefined,
  least: number,
): number | undefined {
  const range = describeRange([least, info.possible[1]], info.unit);
  const units = QUANTITY_KINDS[info.quantity].units.filter((unit) => unit !== '1');
  const allowed = units.length === 0 ? [range] : [range, `units: ${units.join(', ')}`];
  if (typeof value !== 'number' && typeof value !== 'string') {
    return refuse(reading, path, value, `${info.label} must be a number`, allowed);
  }
  const text =
    info.scatter === 'poisson-per-km' && typeof value === 'string'
      ? value.replace(/\s*(?:\/|per)\s*(?:1000\s*m|km)\s*$/i, '')
      : value;
  const result = readQuantity(text, info.quantity, countTex === undefined ? {} : { countTex });
  if (!result.ok) return refuse(reading, path, value, `${info.label}: ${result.reason}`, allowed);
  if (result.value < least || result.value > info.possible[1]) {
    return refuse(reading, path, value, `${info.label} of ${showValue(value)} is not possible`, allowed);
  }
  return result.value;
}

function readNumberIn(
  reading: Reading,
  path: Path,
  entries: ReadonlyMap<string, unknown>,
  key: string,
  range: readonly [number, number],
  options: {
    readonly whole?: boolean;
    readonly hours?: true;
    readonly percent?: true;
    readonly missing?: string;
  } = {},
): number | undefined {
  const at = [...path, key];
  const unit = options.hours ? 'h' : options.percent ? '%' : '1';
  const allowed = [`${options.whole ? 'a whole number, ' : ''}${describeRange(range, unit)}`];
  if (!entries.has(key)) return missing(reading, at, options.missing ?? 'is missing', allowed);
  const value = entries.get(key);
  if (typeof value !== 'number' && typeof value !== 'string') {
    return refuse(reading, at, value, 'must be a number', allowed);
  }
  const result = readQuantity(value, options.hours ? 'hours' : options.percent ? 'percent' : 'number');
  if (!result.ok) return refuse(reading, at, value, result.reason, allowed);
  if (options.whole && !Number.isInteger(result.value)) {
    return refuse(reading, at, value, 'must be a whole number', allowed);
  }
  if (result.value < range[0] || result.value > range[1]) {
    return refuse(reading, at, value, `${showValue(value)} is not possible`, allowed);
  }
  return result.value;
}

function missing(reading: Reading, path: Path, message: string, allowed: readonly string[]): undefined {
  return refuse(reading, path, undefined, message, allowed);
}
