import type { SpinningSetup } from '../../spinning/setup.js';
import { fromTurnsPerMetre } from '../../spinning/units/twist.js';
import { describeTexture, insertRank, textureRank } from '../case/ladders.js';
import { formatNumber, formatQuantity, quantityFieldOf } from '../case/setup-fields.js';
import type { SetupPath } from '../case/types.js';
import type { PlanSetting } from '../knowledge/plan-schema.js';

/** Words and place of each setting a plan may change. */
export const SETTINGS: Readonly<
  Record<
    PlanSetting,
    { readonly label: string; readonly paths: readonly SetupPath[]; readonly part: PlanPart }
  >
> = {
  texture: { label: 'nozzle texture', paths: ['nozzle.surface', 'nozzle.notches'], part: 'nozzle' },
  'nozzle-radius': { label: 'nozzle radius', paths: ['nozzle.radius'], part: 'nozzle' },
  'nozzle-material': { label: 'nozzle material', paths: ['nozzle.material'], part: 'nozzle' },
  'nozzle-protrusion': { label: 'nozzle protrusion', paths: ['nozzle.protrusion'], part: 'washers' },
  'tube-bend': { label: 'tube bend', paths: ['tube.bend'], part: 'tube' },
  insert: { label: 'insert', paths: ['tube.insert'], part: 'insert' },
  twist: { label: 'twist', paths: ['twist'], part: 'panel' },
  'rotor-speed': { label: 'rotor speed', paths: ['rotor.speed'], part: 'panel' },
};

/** What has to be taken in hand for a setting; texture, radius and material are one part, the nozzle. */
export type PlanPart = 'nozzle' | 'washers' | 'tube' | 'insert' | 'panel';

export const MATERIAL_WORDS = {
  ceramic: 'ceramic',
  steel: 'steel',
  'ceramic-head': 'ceramic head in a metal body',
} as const;

/** An insert in words: `no insert`, `insert with 2 grooves`. */
export function describeInsert(insert: SpinningSetup['insert']): string {
  if (insert === 'none') return 'none';
  if (insert === 'smooth') return 'smooth';
  return insert === '1-groove' ? '1 groove' : `${insert.charAt(0)} grooves`;
}

/** The value of a setting in words with its unit. */
export function describeSetting(setup: SpinningSetup, setting: PlanSetting): string {
  switch (setting) {
    case 'texture':
      return describeTexture({ surface: setup.nozzleSurface, notches: setup.notches });
    case 'nozzle-material':
      return MATERIAL_WORDS[setup.nozzleMaterial];
    case 'insert':
      return describeInsert(setup.insert);
    case 'twist':
      return `${formatNumber(Math.round(setup.twistPerMetre))} t/m (alpha-e ${fromTurnsPerMetre(setup.twistPerMetre, 'alpha-e', setup.countTex).toFixed(2)})`;
    case 'rotor-speed':
      return formatQuantity(quantityFieldOf('rotorSpeedRpm'), Math.round(setup.rotorSpeedRpm / 10) * 10);
    case 'nozzle-radius':
      return `${formatNumber(setup.nozzleRadiusMm)} mm`;
    case 'nozzle-protrusion':
      return `${formatNumber(setup.nozzleProtrusionMm)} mm`.replace('-', '−');
    case 'tube-bend':
      return `${formatNumber(setup.tubeBendDeg)}°`;
  }
}

/** The setting as a number that rises with its strength: turns, rungs, millimetres, degrees, rpm. */
export function settingRank(setup: SpinningSetup, setting: PlanSetting): number {
  switch (setting) {
    case 'texture':
      return textureRank({ surface: setup.nozzleSurface, notches: setup.notches });
    case 'nozzle-material':
      return ['steel', 'ceramic-head', 'ceramic'].indexOf(setup.nozzleMaterial);
    case 'insert':
      return insertRank(setup.insert);
    case 'twist':
      return setup.twistPerMetre;
    case 'rotor-speed':
      return setup.rotorSpeedRpm;
    case 'nozzle-radius':
      return setup.nozzleRadiusMm;
    case 'nozzle-protrusion':
      return setup.nozzleProtrusionMm;
    case 'tube-bend':
      return setup.tubeBendDeg;
  }
}
