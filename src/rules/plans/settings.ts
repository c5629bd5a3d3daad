import { sayFixed } from '../../language/numbers.js';
import { say, wordTable } from '../../language/say.js';
import type { SpinningSetup } from '../../spinning/setup.js';
import { fromTurnsPerMetre } from '../../spinning/units/twist.js';
import { describeTexture, insertRank, textureRank } from '../case/ladders.js';
import { formatNumber, formatQuantity, quantityFieldOf } from '../case/setup-fields.js';
import type { SetupPath } from '../case/types.js';
import { PLAN_SETTINGS, type PlanSetting } from '../knowledge/plan-schema.js';

const LABELS = wordTable('curve-setting', PLAN_SETTINGS);
const info = (setting: PlanSetting, part: PlanPart, ...paths: SetupPath[]): SettingInfo => ({
  get label() {
    return LABELS[setting];
  },
  paths,
  part,
});

interface SettingInfo {
  readonly label: string;
  readonly paths: readonly SetupPath[];
  readonly part: PlanPart;
}

/** Words and place of each setting a plan may change. */
export const SETTINGS: Readonly<Record<PlanSetting, SettingInfo>> = {
  texture: info('texture', 'nozzle', 'nozzle.surface', 'nozzle.notches'),
  'nozzle-radius': info('nozzle-radius', 'nozzle', 'nozzle.radius'),
  'nozzle-material': info('nozzle-material', 'nozzle', 'nozzle.material'),
  'nozzle-protrusion': info('nozzle-protrusion', 'washers', 'nozzle.protrusion'),
  'tube-bend': info('tube-bend', 'tube', 'tube.bend'),
  insert: info('insert', 'insert', 'tube.insert'),
  twist: info('twist', 'panel', 'twist'),
  'rotor-speed': info('rotor-speed', 'panel', 'rotor.speed'),
};

/** What has to be taken in hand for a setting; texture, radius and material are one part, the nozzle. */
export type PlanPart = 'nozzle' | 'washers' | 'tube' | 'insert' | 'panel';

/** Materials of a nozzle in words. */
export const MATERIAL_WORDS = wordTable('nozzle-material', ['ceramic', 'steel', 'ceramic-head']);

/** An insert in words: `no insert`, `insert with 2 grooves`. */
export function describeInsert(insert: SpinningSetup['insert']): string {
  if (insert === 'none') return say('plan-step.no-insert');
  if (insert === 'smooth') return say('plan-step.smooth-insert');
  return say('plan-step.grooves', { n: Number(insert.charAt(0)) });
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
      return `${formatNumber(Math.round(setup.twistPerMetre))} t/m (αe ${sayFixed(fromTurnsPerMetre(setup.twistPerMetre, 'alpha-e', setup.countTex), 2)})`;
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
