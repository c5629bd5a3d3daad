import { say } from '../../language/say.js';
import type { FibreShare } from '../../spinning/setup.js';
import { QUANTITY_KINDS, readQuantity } from '../../spinning/units/quantity.js';
import { fromTurnsPerMetre, needsCount, type TwistUnit } from '../../spinning/units/twist.js';
import { optionWord } from './option-words.js';
import { sayQuantityProblem } from './quantity-problem.js';
import { isLeftOut, type Path, type Reading, readMap, readWord, refuse, showValue, warn } from './reading.js';
import {
  describeRange,
  formatNumber,
  QUANTITY_FIELDS,
  type QuantityField,
  setupField,
  WORD_FIELDS,
} from './setup-fields.js';
import { type GivenSetup, SETUP_PATHS, type SetupPath } from './types.js';

/** Twist multipliers (alpha-e) a rotor yarn can have, and usually has. Standing: judgement. */
const ALPHA_E_POSSIBLE = [1.2, 12] as const;
const ALPHA_E_USUAL = [2.4, 6.5] as const;
/** Rim speeds in m/s that no rotor stands, and that are unusual. Standing: judgement from remembered speed tables. */
const RIM_SPEED_IMPOSSIBLE = 340;
const RIM_SPEED_UNUSUAL = 230;
/** Drafts a rotor frame can set, and usually has. Standing: judgement. */
const DRAFT_USUAL = [15, 400] as const;
/** A bare count in this range could be tex or Ne. */
const COUNT_EITHER_WAY = [4, 60] as const;

/** Groups of the setup: first key → second keys; a field without a group has none. */
const GROUPS = groupPaths();
/** `speed` → `rotor.speed`: what a lone second key most likely means. */
const LONE_KEYS: ReadonlyMap<string, string> = new Map(
  [...SETUP_PATHS].reverse().flatMap((path) => {
    const second = path.split('.')[1];
    return second === undefined || GROUPS.has(second) ? [] : [[second, path] as const];
  }),
);

/**
 * Reads `setup` or `before`.
 *
 * @param countTex count to use for twist multipliers when this part gives none (for `before`)
 * @param required whether fibre and count must be there
 * @returns what was given; fields with problems are left out, the problems noted in the reading
 */
export function readSetup(
  reading: Reading,
  path: Path,
  value: unknown,
  options: { readonly countTex?: number; readonly required: boolean },
): GivenSetup {
  const raw = collectFields(reading, path, value);
  const values: { -readonly [K in keyof GivenSetup['values']]: GivenSetup['values'][K] } = {};
  const typed: Partial<Record<SetupPath, string>> = {};
  const at = (field: SetupPath): Path => [...path, ...field.split('.')];
  let endUse: string | undefined;

  if (options.required) {
    for (const field of ['fibre', 'count'] as const) {
      if (!raw.has(field)) {
        refuse(
          reading,
          at(field),
          undefined,
          say('case-file.missing-setup'),
          field === 'fibre'
            ? fibreForms(reading)
            : [say('case-file.count-example', { range: setupUnits('count') })],
        );
      }
    }
  }
  if (raw.has('fibre')) {
    const fibres = readFibres(reading, at('fibre'), raw.get('fibre'));
    if (fibres !== undefined) {
      values.fibres = fibres;
      typed.fibre = fibres.map((one) => `${formatNumber(one.share * 100)} % ${one.fibre}`).join(', ');
    }
  }
  if (raw.has('end-use')) {
    endUse = readWord(reading, at('end-use'), raw.get('end-use'), [...reading.vocabulary.endUses]);
    if (endUse !== undefined) typed['end-use'] = endUse;
  }
  for (const field of WORD_FIELDS) {
    if (!raw.has(field.path)) continue;
    const word = readWord(reading, at(field.path), raw.get(field.path), field.words);
    if (word === undefined) continue;
    Object.assign(values, { [field.key]: word });
    typed[field.path] = word;
  }
  // The count comes before the twist, which may need it.
  for (const field of [...QUANTITY_FIELDS].sort((a, b) => order(a) - order(b))) {
    if (!raw.has(field.path)) continue;
    const given = raw.get(field.path);
    const countTex = values.countTex ?? (raw.has('count') ? undefined : options.countTex);
    const number = readField(reading, at(field.path), given, field, countTex, raw.has('count'));
    if (number === undefined) continue;
    Object.assign(values, { [field.key]: number });
    typed[field.path] = String(given).trim();
  }
  settleNotches(reading, at, raw, values, typed);
  checkTogether(reading, at, raw, values, options.countTex);
  return { values, ...(endUse === undefined ? {} : { endUse }), typed };
}

/** A quantity in model units, checked against its ranges. */
function readField(
  reading: Reading,
  path: Path,
  given: unknown,
  field: QuantityField,
  countTex: number | undefined,
  countWritten: boolean,
): number | undefined {
  const units = `${QUANTITY_KINDS[field.quantity].units.filter((unit) => unit !== '1').join(', ')}`;
  const range = describeRange(field.possible, field.unit);
  const allowed = units === '' ? [range] : [range, say('case-file.units', { units })];
  if (typeof given !== 'number' && typeof given !== 'string') {
    return refuse(reading, path, given, say('case-file.number-unit', { field: field.label }), allowed);
  }
  const result = readQuantity(given, field.quantity, countTex === undefined ? {} : { countTex });
  if (!result.ok) {
    // A count that was written but could not be read has its own problem: do not add a second one for the twist.
    if (field.path === 'twist' && countTex === undefined && countWritten && result.lacksCount === true) {
      return undefined;
    }
    return refuse(reading, path, given, sayQuantityProblem(given, result), allowed);
  }
  if (field.whole && !Number.isInteger(result.value)) {
    return refuse(reading, path, given, say('case-file.whole', { field: field.label }), allowed);
  }
  if (result.value < field.possible[0] || result.value > field.possible[1]) {
    const hint = meantUnit(field, given, result.value);
    const value = unitOf(given)
      ? showValue(given)
      : say('case-file.read-as', {
          value: showValue(given),
          read: `${formatNumber(result.value)} ${field.unit}`,
        });
    return refuse(
      reading,
      path,
      given,
      say('case-file.not-possible', { field: field.label, value, hint }),
      allowed,
    );
  }
  if (result.value < field.usual[0] || result.value > field.usual[1]) {
    warn(
      reading,
      path,
      say('case-file.unusual', {
        field: field.label,
        value: showValue(given),
        range: describeRange(field.usual, field.unit),
      }),
    );
  } else if (
    field.path === 'count' &&
    !unitOf(given) &&
    result.value >= COUNT_EITHER_WAY[0] &&
    result.value <= COUNT_EITHER_WAY[1]
  ) {
    warn(
      reading,
      path,
      say('case-file.read-as-tex', { value: showValue(given), text: String(given).trim() }),
    );
  } else if (field.path === 'recycled' && result.value > 0 && result.value < 1 && !unitOf(given)) {
    warn(
      reading,
      path,
      say('case-file.share-read', {
        value: showValue(given),
        percent: formatNumber(result.value),
        text: formatNumber(result.value * 100),
      }),
    );
  }
  // Adding 0 turns a typed -0 into 0.
  return result.value * field.scale + 0;
}

/** Fibre: an id, or ids with their shares in percent. */
function readFibres(reading: Reading, path: Path, value: unknown): readonly FibreShare[] | undefined {
  const ids = [...reading.vocabulary.fibres];
  if (typeof value === 'string') {
    const fibre = readWord(reading, path, value, ids);
    return fibre === undefined ? undefined : [{ fibre, share: 1 }];
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    return refuse(reading, path, value, say('case-file.must-fibre'), fibreForms(reading));
  }
  const before = reading.problems.length;
  const entries = readMap(reading, path, value, ids);
  const shares: { fibre: string; pct: number }[] = [];
  for (const [fibre, share] of entries ?? []) {
    const result =
      typeof share === 'number' || typeof share === 'string' ? readQuantity(share, 'percent') : undefined;
    if (result?.ok !== true || result.value < 0 || result.value > 100) {
      refuse(reading, [...path, fibre], share, say('case-file.share-percent'), [
        say('case-file.share-range'),
      ]);
    } else if (result.value > 0) shares.push({ fibre, pct: result.value });
  }
  if (reading.problems.length > before) return undefined;
  const sum = shares.reduce((total, one) => total + one.pct, 0);
  if (Math.abs(sum - 100) > 0.5) {
    return refuse(
      reading,
      path,
      shares.map((one) => `${one.fibre}: ${formatNumber(one.pct)}`).join(', '),
      say('case-file.shares-sum', { sum: formatNumber(sum) }),
      fibreForms(reading),
    );
  }
  const scale = Math.abs(sum - 100) < 1e-9 ? 100 : sum;
  return shares.map((one) => ({ fibre: one.fibre, share: one.pct / scale }));
}

/** Surface and notches belong together: a notch count makes the surface notched, any other surface has none. */
function settleNotches(
  reading: Reading,
  at: (field: SetupPath) => Path,
  raw: ReadonlyMap<SetupPath, unknown>,
  values: { nozzleSurface?: string; notches?: number },
  typed: Partial<Record<SetupPath, string>>,
): void {
  if (values.nozzleSurface === undefined) {
    if (values.notches === undefined || raw.has('nozzle.surface')) return;
    if (values.notches === 0) {
      warn(reading, at('nozzle.notches'), say('case-file.no-notches'));
      delete values.notches;
      delete typed['nozzle.notches'];
      return;
    }
    values.nozzleSurface = 'notched';
    return;
  }
  if (values.nozzleSurface === 'notched') {
    if (values.notches === 0) {
      refuse(reading, at('nozzle.notches'), raw.get('nozzle.notches'), say('case-file.least-notch'), [
        say('case-file.notch-range'),
      ]);
    }
    return;
  }
  if (values.notches !== undefined && values.notches > 0) {
    refuse(
      reading,
      at('nozzle.notches'),
      raw.get('nozzle.notches'),
      say('case-file.has-no-notches', { surface: optionWord(values.nozzleSurface) }),
      ['0'],
    );
    return;
  }
  values.notches = 0;
}

/** Checks that need two fields. */
function checkTogether(
  reading: Reading,
  at: (field: SetupPath) => Path,
  raw: ReadonlyMap<SetupPath, unknown>,
  values: GivenSetup['values'],
  otherCountTex: number | undefined,
): void {
  const countTex = values.countTex ?? otherCountTex;
  if (values.twistPerMetre !== undefined && countTex !== undefined) {
    const alphaE = fromTurnsPerMetre(values.twistPerMetre, 'alpha-e', countTex);
    const words = say('case-file.alpha', {
      twist: formatNumber(values.twistPerMetre),
      count: formatNumber(countTex),
      alpha: formatNumber(alphaE),
    });
    if (alphaE < ALPHA_E_POSSIBLE[0] || alphaE > ALPHA_E_POSSIBLE[1]) {
      refuse(reading, at('twist'), raw.get('twist'), say('case-file.no-rotor-yarn', { words }), [
        say('case-file.alpha-range', { range: describeRange(ALPHA_E_POSSIBLE, '1') }),
        say('case-file.units', { units: QUANTITY_KINDS.twist.units.join(', ') }),
      ]);
    } else if (alphaE < ALPHA_E_USUAL[0] || alphaE > ALPHA_E_USUAL[1]) {
      warn(
        reading,
        at('twist'),
        say('case-file.usual-is', { words, range: describeRange(ALPHA_E_USUAL, '1') }),
      );
    }
  }
  if (values.rotorDiameterMm !== undefined && values.rotorSpeedRpm !== undefined) {
    const rim = (Math.PI * values.rotorDiameterMm * values.rotorSpeedRpm) / 60000;
    const words = say('case-file.rim', {
      size: formatNumber(values.rotorDiameterMm),
      speed: formatNumber(values.rotorSpeedRpm),
      rim: formatNumber(rim),
    });
    if (rim > RIM_SPEED_IMPOSSIBLE) {
      const most = (RIM_SPEED_IMPOSSIBLE * 60000) / (Math.PI * values.rotorDiameterMm);
      refuse(
        reading,
        at('rotor.speed'),
        raw.get('rotor.speed'),
        say('case-file.no-rotor-stands', { words }),
        [say('case-file.at-most-rpm', { speed: formatNumber(Math.floor(most / 1000) * 1000) })],
      );
    } else if (rim > RIM_SPEED_UNUSUAL) {
      warn(reading, at('rotor.speed'), say('case-file.above-unusual', { words, rim: RIM_SPEED_UNUSUAL }));
    }
  }
  if (values.sliverKtex !== undefined && values.countTex !== undefined) {
    const draft = (values.sliverKtex * 1000) / values.countTex;
    if (draft < DRAFT_USUAL[0] || draft > DRAFT_USUAL[1]) {
      warn(
        reading,
        at('sliver.count'),
        say('case-file.draft', { draft: formatNumber(draft), range: describeRange(DRAFT_USUAL, '1') }),
      );
    }
  }
}

/** Flattens `{rotor: {speed: …}}` into dotted fields; left-out values are dropped. */
function collectFields(reading: Reading, path: Path, value: unknown): Map<SetupPath, unknown> {
  const fields = new Map<SetupPath, unknown>();
  if (isLeftOut(value)) return fields;
  for (const [key, one] of readMap(reading, path, value, GROUPS.keys(), LONE_KEYS) ?? []) {
    const seconds = GROUPS.get(key) ?? [];
    if (seconds.length === 0) {
      fields.set(key as SetupPath, one);
      continue;
    }
    for (const [second, inner] of readMap(reading, [...path, key], one, seconds) ?? []) {
      fields.set(`${key}.${second}` as SetupPath, inner);
    }
  }
  return fields;
}

function groupPaths(): ReadonlyMap<string, readonly string[]> {
  const groups = new Map<string, string[]>();
  for (const path of SETUP_PATHS) {
    const [first = '', second] = path.split('.');
    const seconds = groups.get(first) ?? [];
    if (second !== undefined) seconds.push(second);
    groups.set(first, seconds);
  }
  return groups;
}

const order = (field: QuantityField) => (field.path === 'count' ? 0 : 1);

/** Whether a value names a unit itself. */
function unitOf(given: unknown): boolean {
  return typeof given === 'string' && /[^\d\s.,'+-]/.test(given.trim());
}

/** For a bare twist that cannot be turns per metre: the multiplier that was probably meant. */
function meantUnit(field: QuantityField, given: unknown, value: number): string {
  if (field.path !== 'twist' || unitOf(given)) return '';
  const unit: TwistUnit | undefined =
    value >= 1.5 && value <= 9 ? 'alpha-e' : value > 9 && value < 50 ? 'tpi' : undefined;
  if (unit === undefined) return '';
  return say(needsCount(unit) ? 'case-file.hint' : 'case-file.hint-inch', {
    text: `${String(given).trim()} ${unit}`,
  });
}

function fibreForms(reading: Reading): string[] {
  return [...reading.vocabulary.fibres, say('case-file.blend-form')];
}

function setupUnits(path: SetupPath): string {
  const field = setupField(path);
  return field?.type === 'quantity'
    ? say('case-file.range-units', {
        range: describeRange(field.possible, field.unit),
        units: QUANTITY_KINDS[field.quantity].units.join(', '),
      })
    : '';
}
