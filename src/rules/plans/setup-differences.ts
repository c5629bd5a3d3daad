import { say } from '../../language/say.js';
import type { SpinningSetup } from '../../spinning/setup.js';
import { optionWord } from '../case/option-words.js';
import { describeFibres } from '../case/resolve-setup.js';
import { formatQuantity, setupField } from '../case/setup-fields.js';
import type { SetupPath } from '../case/types.js';
import { PLAN_SETTINGS, type PlanSetting } from '../knowledge/plan-schema.js';
import { allInSentence } from '../words.js';
import { describeSetting, SETTINGS } from './settings.js';

/** One setting in which two setups differ, and how to put the value of the other in its place. */
export interface SettingDifference {
  readonly id: string;
  readonly label: string;
  /** The values of the first and the second setup in words. */
  readonly first: string;
  readonly second: string;
  /** The setup with this setting as in the second. */
  readonly swap: (setup: SpinningSetup) => SpinningSetup;
}

/** Settings other than those of a plan, as a case file names them. */
const OTHERS = [
  'recycled',
  'delustrant',
  'staple',
  'fineness',
  'count',
  'rotor.diameter',
  'rotor.groove',
  'nozzle.hours',
  'tube.hours',
  'opening-roller.speed',
  'room.temperature',
  'room.humidity',
  'sliver.count',
  'sliver.trash',
  'winding.tension-draft',
] as const satisfies readonly SetupPath[];

/**
 * In which settings two setups differ. The twist is held as a multiplier, so that a count swapped alone keeps its
 * twist's hardness; the nozzle's surface and notches are one setting.
 */
export function setupDifferences(first: SpinningSetup, second: SpinningSetup): SettingDifference[] {
  const differences: SettingDifference[] = [];
  const fibres = [describeFibres(first.fibres), describeFibres(second.fibres)] as const;
  if (fibres[0] !== fibres[1])
    differences.push({
      id: 'fibre',
      label: say('curve-setting.fibre'),
      first: fibres[0],
      second: fibres[1],
      swap: (setup) => ({ ...setup, fibres: second.fibres }),
    });
  for (const path of OTHERS) {
    const field = setupField(path);
    if (field === undefined || same(first[field.key], second[field.key])) continue;
    const words = (setup: SpinningSetup) =>
      field.type === 'word' ? optionWord(String(setup[field.key])) : formatQuantity(field, setup[field.key]);
    differences.push({
      id: path,
      label: allInSentence(field.label),
      first: words(first),
      second: words(second),
      swap:
        path === 'count'
          ? (setup) => ({
              ...setup,
              countTex: second.countTex,
              twistPerMetre: setup.twistPerMetre * Math.sqrt(setup.countTex / second.countTex),
            })
          : (setup) => ({ ...setup, [field.key]: second[field.key] }),
    });
  }
  for (const setting of PLAN_SETTINGS) {
    if (isSame(first, second, setting)) continue;
    differences.push({
      id: setting,
      label: SETTINGS[setting].label,
      first: describeSetting(first, setting),
      second: describeSetting(second, setting),
      swap: (setup) => takeOver(setup, second, setting),
    });
  }
  return differences;
}

const alphaOf = (setup: SpinningSetup) => setup.twistPerMetre * Math.sqrt(setup.countTex);

function isSame(first: SpinningSetup, second: SpinningSetup, setting: PlanSetting): boolean {
  if (setting === 'twist') return same(alphaOf(first), alphaOf(second));
  return SETTINGS[setting].paths.every((path) => {
    const field = setupField(path);
    return field === undefined || same(first[field.key], second[field.key]);
  });
}

/** A setup with one setting of another; the twist is taken over as a multiplier. */
export function takeOver(setup: SpinningSetup, other: SpinningSetup, setting: PlanSetting): SpinningSetup {
  if (setting === 'twist') return { ...setup, twistPerMetre: alphaOf(other) / Math.sqrt(setup.countTex) };
  const values = Object.fromEntries(
    SETTINGS[setting].paths.flatMap((path) => {
      const field = setupField(path);
      return field === undefined ? [] : [[field.key, other[field.key]]];
    }),
  );
  return { ...setup, ...values };
}

function same(a: unknown, b: unknown): boolean {
  if (typeof a !== 'number' || typeof b !== 'number') return a === b;
  return Math.abs(a - b) <= 1e-6 * Math.max(1, Math.abs(a), Math.abs(b));
}
