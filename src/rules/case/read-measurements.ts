import { say } from '../../language/say.js';
import { inSentence } from '../../language/words.js';
import { QUANTITY_KINDS, readQuantity } from '../../spinning/units/quantity.js';
import { PROPERTIES, type PropertyInfo } from './measured-properties.js';
import { sayQuantityProblem } from './quantity-problem.js';
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
        refuse(reading, [...path, key], entries.get(key), say('case-file.beside-groups', { key }), [
          say('case-file.groups-or-norm'),
        ]);
      }
    }
    const groups = (['a', 'b'] as const).map((key) => {
      const inner = entries.has(key)
        ? readMap(reading, [...path, key], entries.get(key), ['count', 'rotor-hours'])
        : missing(reading, [...path, key], say('case-file.both-groups'), ['{count, rotor-hours}']);
      return inner === undefined ? undefined : readBreakCount(reading, [...path, key], inner);
    });
    const [a, b] = groups;
    const bunched = readDispersion(reading, path, entries);
    return a === undefined || b === undefined ? undefined : { kind: 'two-groups', a, b, ...bunched };
  }
  const counted = readBreakCount(reading, path, entries);
  const norm = readNumberIn(reading, path, entries, 'norm-per-1000', [0.01, 100000], {
    missing: say('case-file.needs-norm'),
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
        refuse(reading, [...path, key], entries.get(key), say('case-file.beside-readings', { key }), [
          say('case-file.readings-or-mean'),
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
      missing: perKm ? say('case-file.how-many-km') : say('case-file.how-many-tests'),
    },
  );
  const needsCv = info.scatter === 'given';
  const cv =
    needsCv || entries.has('cv')
      ? readNumberIn(reading, path, entries, 'cv', [0.01, 200], {
          percent: true,
          missing: say('case-file.needs-cv'),
        })
      : undefined;
  if (mean === undefined || tests === undefined || target === undefined || (needsCv && cv === undefined)) {
    return undefined;
  }
  if (needsCv && tests < FEW_TESTS) {
    warn(
      reading,
      [...path, 'tests'],
      say('case-file.few-tests', { n: formatNumber(tests), least: FEW_TESTS }),
    );
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
    return refuse(reading, path, value, say('case-file.list'), [
      say('case-file.list-length', { most: MOST_READINGS }),
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
    return missing(
      reading,
      [...path, key],
      say('case-file.missing-of', { property: inSentence(info.label) }),
      [describeRange([least, info.possible[1]], info.unit)],
    );
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
  const allowed = units.length === 0 ? [range] : [range, say('case-file.units', { units: units.join(', ') })];
  if (typeof value !== 'number' && typeof value !== 'string') {
    return refuse(reading, path, value, say('case-file.number', { field: info.label }), allowed);
  }
  const text =
    info.scatter === 'poisson-per-km' && typeof value === 'string'
      ? value.replace(/\s*(?:\/|per)\s*(?:1000\s*m|km)\s*$/i, '')
      : value;
  const result = readQuantity(text, info.quantity, countTex === undefined ? {} : { countTex });
  if (!result.ok) return refuse(reading, path, value, sayQuantityProblem(text, result), allowed);
  if (result.value < least || result.value > info.possible[1]) {
    return refuse(
      reading,
      path,
      value,
      say('case-file.not-possible', { field: info.label, value: showValue(value), hint: '' }),
      allowed,
    );
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
  const allowed = [
    options.whole
      ? say('case-file.whole-range', { range: describeRange(range, unit) })
      : describeRange(range, unit),
  ];
  if (!entries.has(key)) return missing(reading, at, options.missing ?? say('case-file.missing'), allowed);
  const value = entries.get(key);
  if (typeof value !== 'number' && typeof value !== 'string') {
    return refuse(reading, at, value, say('case-file.a-number'), allowed);
  }
  const result = readQuantity(value, options.hours ? 'hours' : options.percent ? 'percent' : 'number');
  if (!result.ok) return refuse(reading, at, value, result.reason, allowed);
  if (options.whole && !Number.isInteger(result.value)) {
    return refuse(reading, at, value, say('case-file.a-whole'), allowed);
  }
  if (result.value < range[0] || result.value > range[1]) {
    return refuse(reading, at, value, say('case-file.impossible', { value: showValue(value) }), allowed);
  }
  return result.value;
}

function missing(reading: Reading, path: Path, message: string, allowed: readonly string[]): undefined {
  return refuse(reading, path, undefined, message, allowed);
}
