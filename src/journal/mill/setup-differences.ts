import type { GivenSetup, SetupPath } from '../../rules/case/types.js';
import type { Change } from '../../rules/knowledge/vocabulary.js';
import type { SpinningSetup } from '../../spinning/setup.js';

/** One field in which two setups differ. */
export interface SetupDifference {
  readonly field: SetupPath;
  /** As it was written, or the value; null where it was not given. */
  readonly before: string | null;
  readonly after: string | null;
}

/** For each field of a setup: its name in a case file, and what its change is called. */
const FIELDS: {
  readonly [K in keyof SpinningSetup]: { readonly path: SetupPath; readonly change: Change | undefined };
} = {
  fibres: { path: 'fibre', change: 'fibre' },
  recycledShare: { path: 'recycled', change: 'fibre' },
  delustrant: { path: 'delustrant', change: 'fibre' },
  stapleMm: { path: 'staple', change: 'fibre' },
  finenessMtex: { path: 'fineness', change: 'fibre' },
  countTex: { path: 'count', change: 'count' },
  twistPerMetre: { path: 'twist', change: 'twist' },
  rotorDiameterMm: { path: 'rotor.diameter', change: 'rotor' },
  rotorSpeedRpm: { path: 'rotor.speed', change: 'rotor-speed' },
  groove: { path: 'rotor.groove', change: 'rotor' },
  nozzleSurface: { path: 'nozzle.surface', change: 'nozzle-surface' },
  notches: { path: 'nozzle.notches', change: 'nozzle-surface' },
  nozzleMaterial: { path: 'nozzle.material', change: 'nozzle-material' },
  nozzleRadiusMm: { path: 'nozzle.radius', change: 'nozzle-radius' },
  nozzleProtrusionMm: { path: 'nozzle.protrusion', change: 'protrusion' },
  nozzleHours: { path: 'nozzle.hours', change: 'nozzle-renewed' },
  tubeBendDeg: { path: 'tube.bend', change: 'tube' },
  insert: { path: 'tube.insert', change: 'insert' },
  tubeHours: { path: 'tube.hours', change: 'tube' },
  openingRollerRpm: { path: 'opening-roller.speed', change: 'opening-roller' },
  temperatureC: { path: 'room.temperature', change: 'climate' },
  humidityPct: { path: 'room.humidity', change: 'climate' },
  sliverKtex: { path: 'sliver.count', change: undefined },
  sliverTrashPct: { path: 'sliver.trash', change: undefined },
  windingTensionDraft: { path: 'winding.tension-draft', change: 'winding' },
};

/** Changes of the room that are worth calling one (judgement): less lies within a day's swing. */
const CLIMATE_STEP: Readonly<Partial<Record<keyof SpinningSetup, number>>> = {
  temperatureC: 2,
  humidityPct: 4,
};

/** Relative difference below which two numbers are the same, read twice. */
const SAME = 1e-6;

/**
 * The fields in which a setup differs from the one before it. Running hours count only when they went down: then the
 * part was renewed. A field that only one of the two gives is no difference, because nobody knows.
 */
export function compareSetups(
  before: GivenSetup,
  after: GivenSetup,
): { readonly differences: readonly SetupDifference[]; readonly changes: readonly Change[] } {
  const differences: SetupDifference[] = [];
  const changes = new Set<Change>();
  for (const key of Object.keys(FIELDS) as (keyof SpinningSetup)[]) {
    const { path, change } = FIELDS[key];
    const was = before.values[key];
    const is = after.values[key];
    if (was === undefined || is === undefined || same(was, is)) continue;
    const runningHours = key === 'nozzleHours' || key === 'tubeHours';
    if (runningHours && Number(is) > Number(was)) continue;
    differences.push({
      field: path,
      before: before.typed[path] ?? showSetting(was),
      after: after.typed[path] ?? showSetting(is),
    });
    const step = CLIMATE_STEP[key];
    if (change !== undefined && (step === undefined || Math.abs(Number(is) - Number(was)) >= step))
      changes.add(change);
  }
  if (before.endUse !== undefined && after.endUse !== undefined && before.endUse !== after.endUse)
    differences.push({ field: 'end-use', before: before.endUse, after: after.endUse });
  return { differences, changes: [...changes] };
}

function same(a: SpinningSetup[keyof SpinningSetup], b: SpinningSetup[keyof SpinningSetup]): boolean {
  if (typeof a === 'number' && typeof b === 'number')
    return Math.abs(a - b) <= SAME * Math.max(Math.abs(a), Math.abs(b), 1e-12);
  return JSON.stringify(a) === JSON.stringify(b);
}

function showSetting(value: SpinningSetup[keyof SpinningSetup]): string {
  return Array.isArray(value)
    ? value.map(({ fibre, share }) => `${fibre} ${Math.round(share * 100)} %`).join(', ')
    : String(value);
}
