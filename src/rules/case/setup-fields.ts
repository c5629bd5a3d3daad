import { localDecimal } from '../../language/numbers.js';
import { keyPart, say } from '../../language/say.js';
import type {
  Delustrant,
  GrooveWidth,
  InsertKind,
  NozzleMaterial,
  NozzleSurface,
  SpinningSetup,
} from '../../spinning/setup.js';
import type { QuantityKind } from '../../spinning/units/quantity.js';
import type { SetupPath } from './types.js';

export const DELUSTRANTS = ['bright', 'semi-dull', 'dull'] as const satisfies readonly Delustrant[];
export const GROOVES = ['narrow', 'medium', 'wide'] as const satisfies readonly GrooveWidth[];
export const NOZZLE_SURFACES = [
  'smooth',
  'spiral',
  'notched',
  'knurled',
] as const satisfies readonly NozzleSurface[];
export const NOZZLE_MATERIALS = [
  'ceramic',
  'steel',
  'ceramic-head',
] as const satisfies readonly NozzleMaterial[];
export const INSERTS = [
  'none',
  'smooth',
  '1-groove',
  '2-groove',
  '3-groove',
] as const satisfies readonly InsertKind[];

type KeysOfType<T> = {
  [K in keyof SpinningSetup]: SpinningSetup[K] extends T ? K : never;
}[keyof SpinningSetup];
/** Fields of the setup that hold a number. */
export type NumberKey = KeysOfType<number>;
/** Fields of the setup that hold a word. */
export type WordKey = KeysOfType<string>;

/** How well a value that was given is known: `relative` or `absolute` standard deviation (model units). */
export type InstrumentSpread =
  | { readonly relative: number }
  | { readonly absolute: number }
  | { readonly exact: true };

/** A field of the setup that holds a quantity. Ranges are in the field's default unit, ends included. */
export interface QuantityField {
  readonly type: 'quantity';
  readonly path: SetupPath;
  readonly key: NumberKey;
  readonly label: string;
  readonly quantity: QuantityKind;
  /** The unit of a bare number and of the ranges. */
  readonly unit: string;
  /** Outside it the value cannot be meant: an error. */
  readonly possible: readonly [number, number];
  /** Outside it the value is unusual: a warning. */
  readonly usual: readonly [number, number];
  readonly whole?: true;
  /** Model value = value in the default unit × this. */
  readonly scale: number;
  readonly instrument: InstrumentSpread;
}

/** A field of the setup that holds one of a few words. */
export interface WordField {
  readonly type: 'word';
  readonly path: SetupPath;
  readonly key: WordKey;
  readonly label: string;
  readonly words: readonly string[];
}

const fieldLabel = (path: SetupPath): string => say(`setup-field.${keyPart(path)}`);

const quantity = (
  path: SetupPath,
  key: NumberKey,
  kind: QuantityKind,
  unit: string,
  possible: readonly [number, number],
  usual: readonly [number, number],
  instrument: InstrumentSpread,
  more: { readonly whole?: true; readonly scale?: number } = {},
): QuantityField => ({
  type: 'quantity',
  path,
  key,
  get label() {
    return fieldLabel(path);
  },
  quantity: kind,
  unit,
  possible,
  usual,
  instrument,
  scale: more.scale ?? 1,
  ...(more.whole === undefined ? {} : { whole: more.whole }),
});

/**
 * All quantities of a setup. The ranges and instrument spreads are judgement: `possible` is set wide enough for
 * any rotor frame that was ever built, `usual` for what is met on a mill floor today; the spread is what a ruler,
 * a display or a test of the ordinary kind leaves open.
 */
export const QUANTITY_FIELDS: readonly QuantityField[] = [
  quantity(
    'recycled',
    'recycledShare',
    'percent',
    '%',
    [0, 100],
    [0, 80],
    { absolute: 0.02 },
    {
      scale: 0.01,
    },
  ),
  quantity('staple', 'stapleMm', 'length', 'mm', [8, 120], [15, 65], { relative: 0.015 }),
  quantity('fineness', 'finenessMtex', 'fineness', 'mtex', [20, 1500], [70, 450], {
    relative: 0.02,
  }),
  quantity('count', 'countTex', 'count', 'tex', [5, 1000], [10, 250], { relative: 0.01 }),
  quantity('twist', 'twistPerMetre', 'twist', 't/m', [80, 3000], [250, 1500], {
    relative: 0.01,
  }),
  quantity('rotor.diameter', 'rotorDiameterMm', 'length', 'mm', [20, 120], [26, 66], {
    exact: true,
  }),
  quantity('rotor.speed', 'rotorSpeedRpm', 'speed', 'rpm', [5000, 250000], [25000, 170000], {
    relative: 0.005,
  }),
  quantity(
    'nozzle.notches',
    'notches',
    'number',
    '1',
    [0, 16],
    [0, 8],
    { exact: true },
    {
      whole: true,
    },
  ),
  quantity('nozzle.radius', 'nozzleRadiusMm', 'length', 'mm', [0.5, 15], [1.5, 6], {
    relative: 0.02,
  }),
  quantity('nozzle.protrusion', 'nozzleProtrusionMm', 'length', 'mm', [-6, 12], [-1.5, 4], {
    absolute: 0.1,
  }),
  quantity('nozzle.hours', 'nozzleHours', 'hours', 'h', [0, 200000], [0, 60000], {
    relative: 0.03,
  }),
  quantity('tube.bend', 'tubeBendDeg', 'angle', 'deg', [0, 120], [0, 90], {
    absolute: 2,
  }),
  quantity('tube.hours', 'tubeHours', 'hours', 'h', [0, 200000], [0, 60000], {
    relative: 0.03,
  }),
  quantity('opening-roller.speed', 'openingRollerRpm', 'speed', 'rpm', [2000, 15000], [5000, 10000], {
    relative: 0.01,
  }),
  quantity('room.temperature', 'temperatureC', 'temperature', 'C', [0, 60], [18, 36], {
    absolute: 0.7,
  }),
  quantity('room.humidity', 'humidityPct', 'percent', '%', [5, 100], [38, 75], {
    absolute: 2,
  }),
  quantity('sliver.count', 'sliverKtex', 'sliver-count', 'ktex', [0.5, 15], [2.2, 7.5], {
    relative: 0.01,
  }),
  quantity('sliver.trash', 'sliverTrashPct', 'percent', '%', [0, 15], [0, 1.5], {
    relative: 0.1,
  }),
  quantity('winding.tension-draft', 'windingTensionDraft', 'number', '1', [0.8, 1.2], [0.92, 1.05], {
    absolute: 0.002,
  }),
];

/** All fields of a setup that hold a word. */
export const WORD_FIELDS: readonly WordField[] = [
  {
    type: 'word',
    path: 'delustrant',
    key: 'delustrant',
    get label() {
      return fieldLabel('delustrant');
    },
    words: DELUSTRANTS,
  },
  {
    type: 'word',
    path: 'rotor.groove',
    key: 'groove',
    get label() {
      return fieldLabel('rotor.groove');
    },
    words: GROOVES,
  },
  {
    type: 'word',
    path: 'nozzle.surface',
    key: 'nozzleSurface',
    get label() {
      return fieldLabel('nozzle.surface');
    },
    words: NOZZLE_SURFACES,
  },
  {
    type: 'word',
    path: 'nozzle.material',
    key: 'nozzleMaterial',
    get label() {
      return fieldLabel('nozzle.material');
    },
    words: NOZZLE_MATERIALS,
  },
  {
    type: 'word',
    path: 'tube.insert',
    key: 'insert',
    get label() {
      return fieldLabel('tube.insert');
    },
    words: INSERTS,
  },
];

const BY_PATH: ReadonlyMap<SetupPath, QuantityField | WordField> = new Map(
  [...QUANTITY_FIELDS, ...WORD_FIELDS].map((field) => [field.path, field]),
);

/** The field at a path, or undefined for `fibre` and `end-use`, which are read in their own way. */
export function setupField(path: SetupPath): QuantityField | WordField | undefined {
  return BY_PATH.get(path);
}

const BY_KEY: ReadonlyMap<NumberKey, QuantityField> = new Map(
  QUANTITY_FIELDS.map((field) => [field.key, field]),
);

/** The quantity behind a field of the model's setup. @throws RangeError for a key that holds no quantity */
export function quantityFieldOf(key: NumberKey): QuantityField {
  const field = BY_KEY.get(key);
  if (field === undefined) throw new RangeError(`"${key}" is not a quantity of the setup`);
  return field;
}

/** The field in plain words, for messages and lists. */
export function setupLabel(path: SetupPath): string {
  return fieldLabel(path);
}

/** Brings a value in model units into what a rotor frame can physically have (the field's `possible` range). */
export function clampToPossible(key: NumberKey, value: number): number {
  const field = quantityFieldOf(key);
  return Math.min(field.possible[1] * field.scale, Math.max(field.possible[0] * field.scale, value));
}

/** `10 to 250 tex`. */
export function describeRange(range: readonly [number, number], unit: string): string {
  const between = say('setup.to', { low: formatNumber(range[0]), high: formatNumber(range[1]) });
  return unit === '1' ? between : `${between} ${unit}`;
}

/** A number for reading: at most four significant digits below 10 000, whole and grouped by spaces from there. */
export function formatNumber(value: number): string {
  if (!Number.isFinite(value)) return String(value);
  if (Math.abs(value) >= 9999.5) {
    return Math.round(value)
      .toString()
      .replace(/\B(?=(\d{3})+(?!\d))/g, ' ');
  }
  return localDecimal(String(Number(value.toPrecision(4))));
}

/** A value in model units with its field's unit: `105 000 rpm`. */
export function formatQuantity(field: QuantityField, modelValue: number): string {
  return withUnitSign(formatNumber(modelValue / field.scale), field.unit);
}

/** A number, already in words, with the sign of its unit: `25 °C`, `40°`, `0.98`. */
export function withUnitSign(number: string, unit: string): string {
  if (unit === '1' || unit === '') return number;
  if (unit === 'deg') return `${number}°`;
  return `${number} ${unit === 'C' ? '°C' : unit}`;
}
