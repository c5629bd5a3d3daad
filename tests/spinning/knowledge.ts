import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'yaml';
import type { FibreEntry, ParameterEntry, ParameterTable } from '../../src/spinning/parameters.js';
import type { SpinningSetup } from '../../src/spinning/setup.js';

const ROOT = join(import.meta.dirname, '../../knowledge-base');

/** Every YAML file of a knowledge-base folder, by name without ending. */
export function readFolder(folder: string): Record<string, unknown> {
  const names = readdirSync(join(ROOT, folder)).filter((name) => name.endsWith('.yaml'));
  return Object.fromEntries(
    names.map((name) => [
      name.replace(/\.yaml$/, ''),
      parse(readFileSync(join(ROOT, folder, name), 'utf8')) as unknown,
    ]),
  );
}

/** The parameter table as the knowledge base has it (its schema is tested apart). */
export function readTable(): ParameterTable {
  const model = Object.assign({}, ...Object.values(readFolder('model'))) as Record<string, ParameterEntry>;
  return { model, fibres: readFolder('fibres') as Record<string, FibreEntry> } as ParameterTable;
}

/** A weft yarn of 30 tex cotton on a 33 mm rotor, from which tests depart. */
export const WEFT: SpinningSetup = {
  fibres: [{ fibre: 'cotton', share: 1 }],
  recycledShare: 0,
  delustrant: 'bright',
  stapleMm: 28,
  finenessMtex: 170,
  countTex: 30,
  twistPerMetre: 757,
  rotorDiameterMm: 33,
  rotorSpeedRpm: 110000,
  groove: 'medium',
  nozzleSurface: 'spiral',
  notches: 0,
  nozzleMaterial: 'ceramic',
  nozzleRadiusMm: 4,
  nozzleProtrusionMm: 0.5,
  nozzleHours: 5000,
  tubeBendDeg: 30,
  insert: 'none',
  tubeHours: 5000,
  openingRollerRpm: 7500,
  temperatureC: 25,
  humidityPct: 60,
  sliverKtex: 4.9,
  sliverTrashPct: 0.1,
  windingTensionDraft: 0.98,
};
