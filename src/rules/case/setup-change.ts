import { say } from '../../language/say.js';
import { type SpinningSetup, withValues } from '../../spinning/setup.js';
import { fromTurnsPerMetre, toTurnsPerMetre } from '../../spinning/units/twist.js';
import { TEXTURES } from '../knowledge/end-use-schema.js';
import type { SetupChange } from '../knowledge/schema.js';
import { describeTexture, grooveRank, insertRank, stepOnLadder, textureAt, textureRank } from './ladders.js';
import { optionWord } from './option-words.js';
import {
  clampToPossible,
  formatNumber,
  formatQuantity,
  GROOVES,
  INSERTS,
  type NumberKey,
  quantityFieldOf,
} from './setup-fields.js';

/** A changed setup and what was done to it, in words. */
export interface ChangedSetup {
  readonly setup: SpinningSetup;
  readonly done: readonly string[];
  /** Why a change cannot be made; the setup then holds the changes before it. */
  readonly impossible?: string;
}

type SettingName = SetupChange['set'];
/** Settings that are numbers, with their fields. */
const NUMBERS = {
  twist: { key: 'twistPerMetre' },
  'rotor-speed': { key: 'rotorSpeedRpm' },
  'opening-roller': { key: 'openingRollerRpm' },
  'nozzle-radius': { key: 'nozzleRadiusMm' },
  'nozzle-protrusion': { key: 'nozzleProtrusionMm' },
  'tube-bend': { key: 'tubeBendDeg' },
  'rotor-diameter': { key: 'rotorDiameterMm' },
  humidity: { key: 'humidityPct' },
  'winding-tension-draft': { key: 'windingTensionDraft' },
} as const satisfies Readonly<Partial<Record<SettingName, { readonly key: NumberKey }>>>;

const isNumber = (name: SettingName): name is keyof typeof NUMBERS => Object.hasOwn(NUMBERS, name);

/** Changes smaller than this share of a value are no change. */
const NOTHING = 1e-9;

/**
 * Applies changes one after the other. Nothing is changed in place. Values are kept within what a frame can have
 * (the `possible` ranges of the setup fields), ladders end at their ends.
 *
 * `to: usual` takes the value of `usual`, with two exceptions that keep the meaning of "usual" when other settings
 * differ: the twist goes to the usual multiplier for the setup's own count, and the rotor speed to the usual rim
 * speed for the setup's own diameter.
 *
 * @returns the changed setup; `impossible` when a change would change nothing (already there, or at the end)
 */
export function applyChanges(
  setup: SpinningSetup,
  usual: SpinningSetup,
  changes: readonly SetupChange[],
): ChangedSetup {
  let current = setup;
  const done: string[] = [];
  for (const change of changes) {
    const step = applyOne(current, usual, change);
    if ('impossible' in step) return { setup: current, done, impossible: step.impossible() };
    current = step.setup;
    done.push(step.done());
  }
  return { setup: current, done };
}

/** The setup that {@link applyChanges} comes to, without words: for the many draws of a simulation. */
export function changedSetup(
  setup: SpinningSetup,
  usual: SpinningSetup,
  changes: readonly SetupChange[],
): SpinningSetup {
  let current = setup;
  for (const change of changes) {
    const step = applyOne(current, usual, change);
    if ('impossible' in step) return current;
    current = step.setup;
  }
  return current;
}

/** One step; its words are made only where somebody reads them. */
type OneChange =
  | { readonly setup: SpinningSetup; readonly done: () => string }
  | { readonly impossible: () => string };

function applyOne(setup: SpinningSetup, usual: SpinningSetup, change: SetupChange): OneChange {
  const { set } = change;
  if (isNumber(set)) {
    const { key } = NUMBERS[set];
    const now = setup[key];
    if ('by-percent' in change) return setNumber(setup, key, set, now * (1 + change['by-percent'] / 100));
    if ('by' in change) return setNumber(setup, key, set, now + change.by);
    return setNumber(setup, key, set, usualNumber(setup, usual, key), 'usual');
  }
  switch (change.set) {
    case 'texture': {
      const texture = { surface: setup.nozzleSurface, notches: setup.notches };
      const rank = textureRank(texture);
      const usualTexture = { surface: usual.nozzleSurface, notches: usual.notches };
      const target =
        'steps' in change
          ? stepOnLadder(rank, change.steps, TEXTURES.length).rung
          : textureRank(usualTexture);
      const then = 'steps' in change ? textureAt(target) : usualTexture;
      const before = () => describeTexture(texture);
      if (target === rank)
        return {
          impossible: () =>
            atEnd(say('changing.nozzle-is', { state: before() }), change, 'rougher', 'smoother'),
        };
      return {
        setup: withValues(setup, { nozzleSurface: then.surface, notches: then.notches }),
        done: () => say('changing.nozzle', { before: before(), after: describeTexture(then) }),
      };
    }
    case 'insert': {
      const rank = insertRank(setup.insert);
      const target =
        'steps' in change ? stepOnLadder(rank, change.steps, INSERTS.length).rung : insertRank(usual.insert);
      const insert = INSERTS[target] ?? setup.insert;
      if (target === rank) {
        return {
          impossible: () =>
            atEnd(
              setup.insert === 'none'
                ? say('changing.no-insert')
                : say('changing.insert-is', { state: optionWord(setup.insert) }),
              change,
              'stronger',
              'milder',
            ),
        };
      }
      return {
        setup: withValues(setup, { insert }),
        done: () => say('changing.insert', { before: optionWord(setup.insert), after: optionWord(insert) }),
      };
    }
    case 'groove': {
      const rank = grooveRank(setup.groove);
      const target = 'steps' in change ? stepOnLadder(rank, change.steps, GROOVES.length).rung : rank;
      const groove = GROOVES[target] ?? setup.groove;
      if (target === rank) {
        return {
          impossible: () =>
            atEnd(
              say('changing.groove-is', { state: optionWord(setup.groove) }),
              change,
              'wider',
              'narrower',
            ),
        };
      }
      return {
        setup: withValues(setup, { groove }),
        done: () => say('changing.groove', { before: optionWord(setup.groove), after: optionWord(groove) }),
      };
    }
    default: {
      const to = 'to' in change && change.to !== 'usual' ? change.to : usual.nozzleMaterial;
      if (setup.nozzleMaterial === to)
        return { impossible: () => say('changing.material-already', { state: optionWord(to) }) };
      return {
        setup: withValues(setup, { nozzleMaterial: to }),
        done: () =>
          say('changing.material', { before: optionWord(setup.nozzleMaterial), after: optionWord(to) }),
      };
    }
  }
}

/** The usual value of a number, brought to the setup's own count and rotor. */
function usualNumber(setup: SpinningSetup, usual: SpinningSetup, key: NumberKey): number {
  if (key === 'twistPerMetre') return usualTwist(setup, usual);
  if (key === 'rotorSpeedRpm') return usualSpeed(setup, usual);
  return usual[key];
}

/** Usual twist multiplier at the setup's own count, t/m. */
export function usualTwist(setup: SpinningSetup, usual: SpinningSetup): number {
  const alphaE = fromTurnsPerMetre(usual.twistPerMetre, 'alpha-e', usual.countTex);
  return toTurnsPerMetre(alphaE, 'alpha-e', setup.countTex);
}

/** Usual rim speed at the setup's own rotor diameter, rpm. */
export function usualSpeed(setup: SpinningSetup, usual: SpinningSetup): number {
  return (usual.rotorSpeedRpm * usual.rotorDiameterMm) / setup.rotorDiameterMm;
}

function setNumber(
  setup: SpinningSetup,
  key: NumberKey,
  set: keyof typeof NUMBERS,
  wanted: number,
  usual?: 'usual',
): OneChange {
  const now = setup[key];
  const value = clampToPossible(key, wanted);
  if (Math.abs(value - now) <= NOTHING * Math.max(1, Math.abs(now))) {
    return {
      impossible: () =>
        say(usual === 'usual' ? 'changing.at-usual' : 'changing.at-end', {
          what: say(`changing.${set}`),
          value: formatQuantity(quantityFieldOf(key), now),
        }),
    };
  }
  return {
    setup: withValues(setup, { [key]: value }),
    done: () => {
      const field = quantityFieldOf(key);
      const clamped = value === wanted ? '' : say('changing.far');
      const percent =
        field.quantity === 'speed' || field.quantity === 'twist'
          ? ` (${signed(Math.round((value / now - 1) * 1000) / 10)} %)`
          : '';
      return `${say(`changing.${set}`)} ${formatNumber(now / field.scale)} → ${formatQuantity(field, value)}${percent}${clamped}`;
    },
  };
}

function atEnd(
  state: string,
  change: SetupChange,
  up: 'rougher' | 'stronger' | 'wider',
  down: 'smoother' | 'milder' | 'narrower',
): string {
  if (!('steps' in change)) return say('changing.as-usual', { state });
  if (change.steps === 0) return say('changing.stays', { state });
  return say(`changing.nothing-${change.steps > 0 ? up : down}`, { state });
}

const signed = (value: number) =>
  value > 0 ? `+${formatNumber(value)}` : formatNumber(value).replace('-', '−');
