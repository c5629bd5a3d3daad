import { stringify } from 'yaml';
import { PROPERTIES } from './measured-properties.js';
import { triedKey } from './read-tried.js';
import { setupField } from './setup-fields.js';
import {
  type CaseInput,
  type GivenSetup,
  MEASURED_PROPERTIES,
  SETUP_PATHS,
  type ValueMeasurement,
} from './types.js';

/** A written value longer than this is replaced by the number in the field's default unit. */
const LONGEST_TYPED = 40;

/**
 * Writes a case as YAML that {@link readCase} reads back to the same case. Quantities keep the unit in which they
 * were typed; without a typed text they are written in the field's default unit.
 */
export function writeCase(input: CaseInput): string {
  return stringify(caseObject(input), { lineWidth: 100, aliasDuplicateObjects: false });
}

/** The case as plain data in the shape of the case file. */
export function caseObject(input: CaseInput): Record<string, unknown> {
  const findings: Record<string, unknown> = {};
  for (const [check, outcomes] of Object.entries(input.findings)) findings[check] = oneOrList(outcomes);
  if (Object.keys(input.partExchange).length > 0) findings['part-exchange'] = { ...input.partExchange };
  return dropEmpty({
    title: input.title,
    note: input.note,
    setup: setupObject(input.given),
    before: input.before === undefined ? undefined : setupObject(input.before),
    observations: { ...input.observations },
    scope: oneOrList(input.scope),
    onset: oneOrList(input.onset),
    changed: input.changed.length === 0 ? undefined : [...input.changed],
    findings,
    tried: Object.fromEntries((input.tried ?? []).map(({ actions, result }) => [triedKey(actions), result])),
    measurements: measurementsObject(input),
  });
}

function setupObject(given: GivenSetup): Record<string, unknown> {
  const object: Record<string, unknown> = {};
  for (const path of SETUP_PATHS) {
    const value = fieldValue(given, path);
    if (value === undefined) continue;
    const [first = '', second] = path.split('.');
    if (second === undefined) object[first] = value;
    else object[first] = { ...(object[first] as Record<string, unknown> | undefined), [second]: value };
  }
  return object;
}

function fieldValue(given: GivenSetup, path: (typeof SETUP_PATHS)[number]): unknown {
  if (path === 'end-use') return given.endUse;
  if (path === 'fibre') return fibreValue(given);
  const field = setupField(path);
  if (field === undefined) return undefined;
  const value = given.values[field.key];
  if (value === undefined) return undefined;
  if (field.type === 'word')
    return given.typed[path] === undefined && impliedWord(given, path) ? undefined : value;
  // Notches of a surface that has none follow from the surface; they are not written.
  if (path === 'nozzle.notches' && value === 0 && given.typed[path] === undefined) return undefined;
  const typed = given.typed[path];
  if (typed !== undefined && typed.length <= LONGEST_TYPED) return plainNumber(typed) ?? typed;
  return withUnit(Number(value) / field.scale, field.unit);
}

/** A surface that only followed from the notch count is left to follow again. */
function impliedWord(given: GivenSetup, path: string): boolean {
  return path === 'nozzle.surface' && (given.values.notches ?? 0) > 0;
}

function fibreValue(given: GivenSetup): unknown {
  const fibres = given.values.fibres;
  if (fibres === undefined) return undefined;
  const [only] = fibres;
  if (fibres.length === 1 && only !== undefined) return only.fibre;
  return Object.fromEntries(fibres.map((one) => [one.fibre, Number((one.share * 100).toPrecision(12))]));
}

function measurementsObject(input: CaseInput): Record<string, unknown> {
  const object: Record<string, unknown> = {};
  const breaks = input.measurements.endBreaks;
  if (breaks?.kind === 'against-norm') {
    object['end-breaks'] = dropEmpty({
      count: breaks.count,
      'rotor-hours': breaks.rotorHours,
      'norm-per-1000': breaks.normPer1000,
      'picked-from': breaks.pickedFrom,
      dispersion: breaks.dispersion,
    });
  } else if (breaks !== undefined) {
    object['end-breaks'] = dropEmpty({
      a: { count: breaks.a.count, 'rotor-hours': breaks.a.rotorHours },
      b: { count: breaks.b.count, 'rotor-hours': breaks.b.rotorHours },
      dispersion: breaks.dispersion,
    });
  }
  for (const property of MEASURED_PROPERTIES) {
    const measured = input.measurements.values[property];
    if (measured !== undefined) object[property] = measurementObject(measured, PROPERTIES[property].unit);
  }
  return object;
}

function measurementObject(measured: ValueMeasurement, unit: string): Record<string, unknown> {
  if (measured.kind === 'readings') {
    return {
      readings: measured.readings.map((one) => withUnit(one, unit)),
      target: withUnit(measured.target, unit),
    };
  }
  return dropEmpty({
    mean: withUnit(measured.mean, unit),
    cv: measured.cvPct === undefined ? undefined : withUnit(measured.cvPct, '%'),
    tests: measured.tests,
    target: withUnit(measured.target, unit),
  });
}

function withUnit(value: number, unit: string): unknown {
  return unit === '1' ? value : `${plainDecimal(value)} ${unit}`;
}

/**
 * A number without an exponent, with all its digits. Three decimals get a fourth, since `576.234` could be taken for
 * thousands.
 */
function plainDecimal(value: number): string {
  const text = String(value);
  const plain = /e/i.test(text) ? value.toFixed(12).replace(/0+$/, '').replace(/\.$/, '') : text;
  return /\.\d{3}$/.test(plain) ? `${plain}0` : plain;
}

/** A text that is nothing but a number in its shortest form, as that number. */
function plainNumber(text: string): number | undefined {
  const number = Number(text);
  return text !== '' && String(number) === text && Number.isFinite(number) ? number : undefined;
}

function oneOrList<T>(items: readonly T[]): unknown {
  return items.length === 0 ? undefined : items.length === 1 ? items[0] : [...items];
}

/** Leaves out what is undefined or an empty group. */
function dropEmpty(object: Record<string, unknown>): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(object).filter(
      ([, value]) =>
        value !== undefined &&
        !(
          typeof value === 'object' &&
          value !== null &&
          !Array.isArray(value) &&
          Object.keys(value).length === 0
        ),
    ),
  );
}
