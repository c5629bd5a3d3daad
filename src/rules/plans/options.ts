import { say } from '../../language/say.js';
import type { NozzleMaterial, SpinningSetup } from '../../spinning/setup.js';
import { type Texture, textureOf } from '../case/ladders.js';
import { formatNumber, type NumberKey, quantityFieldOf, setupField } from '../case/setup-fields.js';
import { topRotorSpeed } from '../case/usual-setup.js';
import type { PlanBook, PlanSetting } from '../knowledge/plan-schema.js';
import { PLAN_SETTINGS } from '../knowledge/plan-schema.js';
import { describeSetting, SETTINGS, settingRank } from './settings.js';
import type { LeftOut, PlanChange, PlanLimit, Stock } from './types.js';

/** One setting brought to one other value. */
export interface PlanOption {
  readonly setting: PlanSetting;
  /** Name that tells it from all others: `texture:4-notches`, `twist:+4`. */
  readonly id: string;
  readonly change: PlanChange;
  /** Which entry of `plans.yaml` says how it is done. */
  readonly way: 'up' | 'down' | NozzleMaterial;
  /** Puts the option into a copy of a setup; a search does so millions of times, so nothing is copied here. */
  readonly put: (draft: SetupDraft) => void;
  /** The setup with this option; any doubt about other settings is kept. */
  readonly apply: (setup: SpinningSetup) => SpinningSetup;
}

/** A setup being changed. */
export type SetupDraft = { -readonly [K in keyof SpinningSetup]: SpinningSetup[K] };

/** Values offered instead of those of `plans.yaml`; a setting left out keeps them, an empty list fixes the setting. */
export interface OptionLists {
  readonly texture?: readonly Texture[];
  readonly 'nozzle-radius'?: readonly number[];
  readonly 'nozzle-material'?: readonly NozzleMaterial[];
  /** Steps of one washer. */
  readonly 'nozzle-protrusion'?: readonly number[];
  readonly 'tube-bend'?: readonly number[];
  readonly insert?: readonly SpinningSetup['insert'][];
  /** Percent. */
  readonly twist?: readonly number[];
  /** Percent. */
  readonly 'rotor-speed'?: readonly number[];
}

/** Numbers closer than this to what is there are what is there: mm, degrees. */
const SAME = { 'nozzle-radius': 0.15, 'tube-bend': 4 } as const;

/** Settings each limit leaves free. */
const FREE_UNDER: Partial<Record<PlanLimit, (option: PlanOption) => boolean>> = {
  'no-new-parts': (option) =>
    SETTINGS[option.setting].part === 'panel' ||
    SETTINGS[option.setting].part === 'washers' ||
    option.id === 'insert:none',
  'this-yarn-only': (option) => SETTINGS[option.setting].part === 'panel',
};

/**
 * The values each setting may be brought to from a setup: those of the lists, less what is there already, what the
 * mill does not stock, what a plain limit rules out and rotor speeds above the remembered top speed of the diameter.
 *
 * @param runsBadly the complaint is one of running: nobody speeds up a frame that breaks, whatever the model makes of it
 */
export function listOptions(
  setup: SpinningSetup,
  book: PlanBook,
  lists: OptionLists = {},
  stock: Stock = {},
  limits: readonly PlanLimit[] = [],
  move: readonly PlanSetting[] = PLAN_SETTINGS,
  runsBadly = false,
): { readonly options: readonly PlanOption[]; readonly leftOut: readonly LeftOut[] } {
  const leftOut: LeftOut[] = [];
  const options = PLAN_SETTINGS.filter((setting) => move.includes(setting))
    .flatMap((setting) => optionsOf(setting, setup, book, lists, stock))
    .filter((option) => {
      const because = refusal(option, setup, stock, limits, runsBadly);
      if (because !== undefined)
        leftOut.push({ setting: option.setting, words: option.change.words, because });
      return because === undefined;
    });
  return { options, leftOut };
}

function refusal(
  option: PlanOption,
  setup: SpinningSetup,
  stock: Stock,
  limits: readonly PlanLimit[],
  runsBadly: boolean,
): string | undefined {
  const top = topRotorSpeed(setup.rotorDiameterMm);
  const speed = option.apply(setup).rotorSpeedRpm;
  if (option.setting === 'rotor-speed' && speed > setup.rotorSpeedRpm && speed > top)
    return say('plan-words.top-speed', { speed: formatNumber(Math.round(top / 1000) * 1000) });
  if (runsBadly && option.setting === 'rotor-speed' && speed > setup.rotorSpeedRpm)
    return say('plan-words.no-speed-up');
  for (const limit of limits)
    if (FREE_UNDER[limit]?.(option) === false)
      return limit === 'no-new-parts' ? say('plan-words.needs-part') : say('plan-words.stays-in');
  if (option.setting === 'insert' && option.id !== 'insert:none' && stock.inserts !== undefined)
    if (!stock.inserts.includes(option.id.slice('insert:'.length))) return say('plan-words.not-stocked');
  if (option.setting === 'nozzle-protrusion' && stock.washersMm?.length === 0)
    return say('plan-words.no-washers');
  return undefined;
}

function optionsOf(
  setting: PlanSetting,
  setup: SpinningSetup,
  book: PlanBook,
  lists: OptionLists,
  stock: Stock,
): PlanOption[] {
  const values = book.options;
  switch (setting) {
    case 'texture': {
      const stocked = stock.nozzles?.flatMap((one) => one.texture ?? []) as Texture[] | undefined;
      return unique([
        ...(lists.texture ?? values.texture.value),
        ...(lists.texture === undefined ? (stocked ?? []) : []),
      ]).flatMap((word) => {
        const { surface, notches } = textureOf(word);
        return option(setting, word, setup, (draft) => {
          draft.nozzleSurface = surface;
          draft.notches = notches;
        });
      });
    }
    case 'nozzle-radius': {
      const stocked = stock.nozzles?.flatMap((one) => one.radiusMm ?? []);
      const radii =
        lists[setting] ?? unique([...values[setting].value, ...(stocked ?? [])]).sort((a, b) => a - b);
      return radii
        .filter((radius) => Math.abs(radius - setup.nozzleRadiusMm) > SAME[setting])
        .flatMap((radius) => setNumber(setting, String(radius), setup, 'nozzleRadiusMm', () => radius));
    }
    case 'nozzle-material':
      return (lists[setting] ?? values[setting].value).flatMap((material) =>
        option(setting, material, setup, (draft) => {
          draft.nozzleMaterial = material;
        }),
      );
    case 'nozzle-protrusion': {
      const washers = stock.washersMm?.filter((one) => one > 0) ?? [];
      const thicknesses = washers.length === 0 ? [values.washer.value] : washers;
      const shifts = unique(
        thicknesses.flatMap((washer) =>
          (lists[setting] ?? values['washer-steps'].value).map((steps) =>
            Number((steps * washer).toPrecision(6)),
          ),
        ),
      ).sort((a, b) => a - b);
      return shifts.flatMap((by) =>
        setNumber(setting, signed(by), setup, 'nozzleProtrusionMm', (one) => one.nozzleProtrusionMm + by),
      );
    }
    case 'tube-bend':
      return (lists[setting] ?? stock.tubesDeg ?? values[setting].value)
        .filter((bend) => Math.abs(bend - setup.tubeBendDeg) > SAME[setting])
        .flatMap((bend) => setNumber(setting, String(bend), setup, 'tubeBendDeg', () => bend));
    case 'insert':
      return (lists.insert ?? values.insert.value).flatMap((insert) =>
        option(setting, insert, setup, (draft) => {
          draft.insert = insert;
        }),
      );
    case 'twist':
      return (lists.twist ?? values['twist-percent'].value).flatMap((percent) =>
        setNumber(
          setting,
          signed(percent),
          setup,
          'twistPerMetre',
          (one) => one.twistPerMetre * (1 + percent / 100),
        ),
      );
    case 'rotor-speed':
      return (lists[setting] ?? values['rotor-speed-percent'].value).flatMap((percent) =>
        setNumber(
          setting,
          signed(percent),
          setup,
          'rotorSpeedRpm',
          (one) => one.rotorSpeedRpm * (1 + percent / 100),
        ),
      );
  }
}

function setNumber(
  setting: PlanSetting,
  id: string,
  setup: SpinningSetup,
  key: NumberKey,
  value: (setup: SpinningSetup) => number,
): PlanOption[] {
  const [low, high] = possibleRange(key);
  return option(setting, id, setup, (draft) => {
    draft[key] = Math.min(high, Math.max(low, value(draft)));
  });
}

/** The values of a setting as a case file writes them. */
function caseTexts(setup: SpinningSetup, setting: PlanSetting): Record<string, string> {
  const texts: Record<string, string> = {};
  for (const path of SETTINGS[setting].paths) {
    const field = setupField(path);
    if (field === undefined || (path === 'nozzle.notches' && setup.nozzleSurface !== 'notched')) continue;
    const value = setup[field.key];
    texts[path] =
      field.type === 'word' ? String(value) : String(Number((Number(value) / field.scale).toPrecision(7)));
  }
  return texts;
}

/** What a frame can have at all, in the model's unit. */
function possibleRange(key: NumberKey): readonly [number, number] {
  const { possible, scale } = quantityFieldOf(key);
  return [possible[0] * scale, possible[1] * scale];
}

/** The option, or nothing when the setup has that value already. */
function option(
  setting: PlanSetting,
  id: string,
  setup: SpinningSetup,
  put: (draft: SetupDraft) => void,
): PlanOption[] {
  const apply = (one: SpinningSetup): SpinningSetup => {
    const draft: SetupDraft = { ...one };
    put(draft);
    return draft;
  };
  const changed = apply(setup);
  const [before, after] = [settingRank(setup, setting), settingRank(changed, setting)];
  if (Math.abs(after - before) < 1e-9) return [];
  const from = describeSetting(setup, setting);
  const to = describeSetting(changed, setting);
  const { label } = SETTINGS[setting];
  const percent = setting === 'twist' || setting === 'rotor-speed' ? ` (${id.replace('-', '−')} %)` : '';
  return [
    {
      setting,
      id: `${setting}:${id}`,
      change: {
        setting,
        label,
        from,
        to,
        words: `${label} ${from} → ${to}${percent}`,
        sets: caseTexts(changed, setting),
      },
      way: setting === 'nozzle-material' ? changed.nozzleMaterial : after > before ? 'up' : 'down',
      put,
      apply,
    },
  ];
}

/** Whether the nozzle of a setup is on the shelf, or the one that is on the frame. */
export function nozzleInStock(planned: SpinningSetup, present: SpinningSetup, stock: Stock): boolean {
  if (stock.nozzles === undefined) return true;
  const same = (radius: number) => Math.abs(radius - planned.nozzleRadiusMm) <= SAME['nozzle-radius'];
  const texture = settingRank(planned, 'texture');
  const isTexture = (word: string | undefined) =>
    Math.abs((word === undefined ? settingRank(present, 'texture') : textureRankOf(word)) - texture) < 1e-9;
  if (
    isTexture(undefined) &&
    same(present.nozzleRadiusMm) &&
    planned.nozzleMaterial === present.nozzleMaterial
  )
    return true;
  return stock.nozzles.some(
    (one) =>
      isTexture(one.texture) &&
      same(one.radiusMm ?? present.nozzleRadiusMm) &&
      (one.material ?? present.nozzleMaterial) === planned.nozzleMaterial,
  );
}

function textureRankOf(word: string): number {
  const { surface, notches } = textureOf(word as Texture);
  return settingRank({ nozzleSurface: surface, notches } as SpinningSetup, 'texture');
}

const signed = (value: number) => (value > 0 ? `+${formatNumber(value)}` : formatNumber(value));
const unique = <T>(values: readonly T[]): T[] => [...new Set(values)];
