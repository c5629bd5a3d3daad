import type { FibreEntry, Spread } from '../../spinning/parameters.js';
import type {
  Delustrant,
  FibreId,
  FibreShare,
  GrooveWidth,
  InsertKind,
  NozzleMaterial,
  SpinningSetup,
} from '../../spinning/setup.js';
import { toTurnsPerMetre } from '../../spinning/units/twist.js';
import {
  type ByCount,
  type EndUse,
  TEXTURES,
  type UsualNumberEntry,
  type Spread as UsualSpread,
} from '../knowledge/end-use-schema.js';
import type { Standing } from '../knowledge/vocabulary.js';
import { type NozzleTexture, textureAt } from './ladders.js';
import { DELUSTRANTS, GROOVES, INSERTS, NOZZLE_MATERIALS } from './setup-fields.js';

/** What resolving a setup needs of the knowledge base. */
export interface SetupKnowledge {
  readonly endUses: ReadonlyMap<string, EndUse>;
  readonly fibres: Readonly<Record<FibreId, FibreEntry>>;
}

/** A usual quantity in the model's unit, with how far mills differ. */
export interface UsualNumber {
  readonly value: number;
  readonly spread: Spread;
  readonly standing: Standing;
}

/** A usual word, with the chances of what a mill may have instead; the chances sum to 1. */
export interface UsualWord<T> {
  readonly value: T;
  readonly choices: readonly { readonly value: T; readonly chance: number }[];
  readonly standing: Standing;
}

/** What is usual for a fibre mix, count and end use. Units as in {@link SpinningSetup}; `alphaE` and `rimSpeed` (m/s) stand for twist and rotor speed. */
export interface UsualValues {
  readonly recycledShare: UsualNumber;
  readonly delustrant: UsualWord<Delustrant>;
  readonly stapleMm: UsualNumber;
  readonly finenessMtex: UsualNumber;
  readonly alphaE: UsualNumber;
  readonly rotorDiameterMm: UsualNumber;
  readonly rimSpeed: UsualNumber;
  readonly groove: UsualWord<GrooveWidth>;
  readonly texture: UsualWord<NozzleTexture>;
  readonly nozzleMaterial: UsualWord<NozzleMaterial>;
  readonly nozzleRadiusMm: UsualNumber;
  readonly nozzleProtrusionMm: UsualNumber;
  readonly nozzleHours: UsualNumber;
  readonly tubeBendDeg: UsualNumber;
  readonly insert: UsualWord<InsertKind>;
  readonly tubeHours: UsualNumber;
  readonly openingRollerRpm: UsualNumber;
  readonly temperatureC: UsualNumber;
  readonly humidityPct: UsualNumber;
  readonly sliverKtex: UsualNumber;
  readonly sliverTrashPct: UsualNumber;
  readonly windingTensionDraft: UsualNumber;
}

/** Rotor diameters in common use, mm. Standing: common practice. */
export const COMMON_ROTORS_MM = [28, 31, 33, 36, 40, 46, 56] as const;

/** Top speeds by rotor diameter, mm → rpm. Standing: memory, about ±10 %. */
const TOP_SPEEDS: readonly (readonly [number, number])[] = [
  [28, 150_000],
  [33, 120_000],
  [36, 110_000],
  [40, 95_000],
  [46, 80_000],
  [56, 65_000],
];

/** Usual humidity and opening-roller speed scatter over about half of the fibre's range. Standing: judgement. */
const RANGE_TO_SD = 0.25;

/**
 * What is usual for a fibre mix, a count and an end use.
 *
 * Values given at several counts are joined by straight lines over the logarithm of the count and held constant
 * beyond the ends. In a blend, quantities are means by mass (fineness: the harmonic mean, since the numbers of
 * fibres add up), ladder words are the rung nearest to the mean by mass (the milder one when halfway), and other words
 * are those of the larger share. Standing: as in the end use's file; the blending rules are judgement.
 *
 * @param fibres shares that sum to 1; every fibre must be in `entries`
 * @param countTex yarn count, tex, above 0
 * @throws RangeError when a fibre is not in the knowledge base, or the count is not above 0
 */
export function usualValues(
  endUse: EndUse,
  fibres: readonly FibreShare[],
  entries: Readonly<Record<FibreId, FibreEntry>>,
  countTex: number,
): UsualValues {
  if (!(countTex > 0 && Number.isFinite(countTex))) {
    throw new RangeError(`count: ${countTex} tex is not possible; give a number above 0`);
  }
  const mix = fibres.map(({ fibre, share }) => ({ fibre, share, entry: entryOf(entries, fibre) }));
  const usual = endUse.usual;
  const number = (entry: UsualNumberEntry, scale = 1): UsualNumber => {
    const value = mean(mix, ({ fibre }) => atCount(ofFibre(entry['by-fibre'], fibre), countTex));
    return { value: value * scale, spread: spreadOf(entry.spread, scale), standing: entry.basis.standing };
  };
  const ofFibres = (
    standing: Standing,
    range: (entry: FibreEntry) => { readonly low: number; readonly usual: number; readonly high: number },
    harmonic = false,
  ): UsualNumber => ({
    value: harmonic
      ? 1 / mean(mix, ({ entry }) => 1 / range(entry).usual)
      : mean(mix, ({ entry }) => range(entry).usual),
    spread: {
      kind: 'normal',
      sd: mean(mix, ({ entry }) => (range(entry).high - range(entry).low) * RANGE_TO_SD),
    },
    standing,
  });
  const ladder = <W extends string, T>(
    words: readonly W[],
    entry: {
      readonly 'by-fibre': Record<string, W | { readonly 'from-tex': number; readonly value: W }[]>;
      readonly steps: readonly { readonly step: number; readonly chance: number }[];
      readonly basis: { readonly standing: Standing };
    },
    make: (rung: number) => T,
  ): UsualWord<T> => {
    const middle = mean(mix, ({ fibre }) =>
      words.indexOf(wordAtCount(ofFibre(entry['by-fibre'], fibre), countTex)),
    );
    const rung = Math.ceil(middle - 0.5);
    const chances = new Map<number, number>();
    for (const { step, chance } of entry.steps) {
      const to = Math.min(words.length - 1, Math.max(0, rung + step));
      chances.set(to, (chances.get(to) ?? 0) + chance);
    }
    return {
      value: make(rung),
      choices: [...chances].map(([to, chance]) => ({ value: make(to), chance })),
      standing: entry.basis.standing,
    };
  };
  const word = <W extends string>(
    words: readonly W[],
    entry: {
      readonly 'by-fibre': Record<string, W>;
      readonly chance: number;
      readonly basis: { readonly standing: Standing };
    },
  ): UsualWord<W> => {
    const shares = new Map<W, number>();
    for (const { fibre, share } of mix) {
      const one = ofFibre(entry['by-fibre'], fibre);
      shares.set(one, (shares.get(one) ?? 0) + share);
    }
    const value = [...shares].reduce((best, one) => (one[1] > best[1] ? one : best))[0];
    const others = words.filter((one) => one !== value);
    return {
      value,
      choices: [
        { value, chance: entry.chance },
        ...others.map((one) => ({ value: one, chance: (1 - entry.chance) / others.length })),
      ],
      standing: entry.basis.standing,
    };
  };
  const diameter = number(usual['rotor-diameter']);
  const opening = ofFibres('memory', ({ parameters }) =>
    middleOf(parameters.openingLowRpm.value, parameters.openingHighRpm.value),
  );
  const manMade = mix.some(({ entry }) => entry['man-made']);
  const dull = word(DELUSTRANTS, usual.delustrant);

  return {
    recycledShare: number(usual.recycled, 0.01),
    delustrant: manMade
      ? dull
      : { value: 'bright', choices: [{ value: 'bright', chance: 1 }], standing: 'physics' },
    stapleMm: ofFibres('memory', (entry) => entry['usual-staple-mm']),
    finenessMtex: ofFibres('memory', (entry) => entry['usual-fineness-mtex'], true),
    alphaE: number(usual['alpha-e']),
    rotorDiameterMm: { ...diameter, value: commonRotor(diameter.value) },
    rimSpeed: number(usual['rim-speed']),
    groove: ladder(GROOVES, usual.groove, (rung) => GROOVES[rung] ?? 'medium'),
    texture: ladder(TEXTURES, usual.texture, textureAt),
    nozzleMaterial: word(NOZZLE_MATERIALS, usual['nozzle-material']),
    nozzleRadiusMm: number(usual['nozzle-radius']),
    nozzleProtrusionMm: number(usual['nozzle-protrusion']),
    nozzleHours: number(usual['nozzle-hours']),
    tubeBendDeg: number(usual['tube-bend']),
    insert: ladder(INSERTS, usual.insert, (rung) => INSERTS[rung] ?? 'none'),
    tubeHours: number(usual['tube-hours']),
    openingRollerRpm: {
      ...opening,
      value: roundTo(opening.value * (1 + usual['opening-roller-percent'] / 100), 50),
    },
    temperatureC: number(usual.temperature),
    humidityPct: ofFibres('memory', ({ parameters }) =>
      middleOf(parameters.humidityLowPct.value, parameters.humidityHighPct.value),
    ),
    sliverKtex: number(usual['sliver-count']),
    sliverTrashPct: number(usual['sliver-trash']),
    windingTensionDraft: number(usual['tension-draft']),
  };
}

/**
 * The complete usual setup for a fibre mix, a count and an end use: {@link usualValues} put together, with the rotor
 * speed from {@link usualRotorSpeed}.
 * @throws RangeError as {@link usualValues}
 */
export function usualSetup(
  endUse: EndUse,
  fibres: readonly FibreShare[],
  entries: Readonly<Record<FibreId, FibreEntry>>,
  countTex: number,
): SpinningSetup {
  return setupOfUsual(usualValues(endUse, fibres, entries, countTex), fibres, countTex);
}

/** The setup that usual values make up. */
export function setupOfUsual(
  usual: UsualValues,
  fibres: readonly FibreShare[],
  countTex: number,
): SpinningSetup {
  return {
    fibres,
    recycledShare: usual.recycledShare.value,
    delustrant: usual.delustrant.value,
    stapleMm: usual.stapleMm.value,
    finenessMtex: usual.finenessMtex.value,
    countTex,
    twistPerMetre: toTurnsPerMetre(usual.alphaE.value, 'alpha-e', countTex),
    rotorDiameterMm: usual.rotorDiameterMm.value,
    rotorSpeedRpm: usualRotorSpeed(usual.rimSpeed.value, usual.rotorDiameterMm.value),
    groove: usual.groove.value,
    nozzleSurface: usual.texture.value.surface,
    notches: usual.texture.value.notches,
    nozzleMaterial: usual.nozzleMaterial.value,
    nozzleRadiusMm: usual.nozzleRadiusMm.value,
    nozzleProtrusionMm: usual.nozzleProtrusionMm.value,
    nozzleHours: usual.nozzleHours.value,
    tubeBendDeg: usual.tubeBendDeg.value,
    insert: usual.insert.value,
    tubeHours: usual.tubeHours.value,
    openingRollerRpm: usual.openingRollerRpm.value,
    temperatureC: usual.temperatureC.value,
    humidityPct: usual.humidityPct.value,
    sliverKtex: usual.sliverKtex.value,
    sliverTrashPct: usual.sliverTrashPct.value,
    windingTensionDraft: usual.windingTensionDraft.value,
  };
}

/**
 * Rotor speed at a rim speed, not above the remembered top speed of the diameter, to the nearest 500 rpm.
 *
 * @param rimSpeed m/s at the groove
 * @param diameterMm rotor diameter, mm, above 0
 * @returns rpm
 */
export function usualRotorSpeed(rimSpeed: number, diameterMm: number): number {
  return roundTo(Math.min((rimSpeed * 60_000) / (Math.PI * diameterMm), topRotorSpeed(diameterMm)), 500);
}

/**
 * Remembered top speed of a rotor, rpm, by straight lines between the table's diameters; beyond its ends the rim
 * speed of the end is kept. Standing: memory, about ±10 %.
 */
export function topRotorSpeed(diameterMm: number): number {
  const [first, last] = [TOP_SPEEDS[0], TOP_SPEEDS[TOP_SPEEDS.length - 1]];
  if (first === undefined || last === undefined) return Number.POSITIVE_INFINITY;
  if (diameterMm <= first[0]) return (first[1] * first[0]) / diameterMm;
  if (diameterMm >= last[0]) return (last[1] * last[0]) / diameterMm;
  return interpolate(TOP_SPEEDS, diameterMm);
}

/** The common rotor size nearest to a diameter. */
export function commonRotor(diameterMm: number): number {
  return COMMON_ROTORS_MM.reduce((best, size) =>
    Math.abs(size - diameterMm) < Math.abs(best - diameterMm) ? size : best,
  );
}

function entryOf(entries: Readonly<Record<FibreId, FibreEntry>>, fibre: FibreId): FibreEntry {
  const entry = Object.hasOwn(entries, fibre) ? entries[fibre] : undefined;
  if (entry === undefined) {
    throw new RangeError(`fibre: "${fibre}" is not known; known are: ${Object.keys(entries).join(', ')}`);
  }
  return entry;
}

function ofFibre<T>(byFibre: Readonly<Record<string, T>>, fibre: string): T {
  const value = Object.hasOwn(byFibre, fibre) ? byFibre[fibre] : byFibre.other;
  if (value === undefined) throw new RangeError(`"${fibre}" has no value and there is none for "other"`);
  return value;
}

function atCount(value: ByCount, countTex: number): number {
  if (typeof value === 'number') return value;
  const points = value.map((point) => [Math.log(point.tex), point.value] as const);
  return interpolate(points, Math.log(countTex));
}

function wordAtCount<W extends string>(
  value: W | { readonly 'from-tex': number; readonly value: W }[],
  countTex: number,
): W {
  if (typeof value === 'string') return value;
  let found = value[0]?.value;
  for (const rung of value) if (countTex >= rung['from-tex']) found = rung.value;
  if (found === undefined) throw new RangeError('a word by count needs at least one value');
  return found;
}

/** Straight lines between rising points, constant beyond the ends. */
function interpolate(points: readonly (readonly [number, number])[], x: number): number {
  let previous = points[0];
  if (previous === undefined) return Number.NaN;
  if (x <= previous[0]) return previous[1];
  for (const point of points) {
    if (x <= point[0]) {
      const part = (x - previous[0]) / (point[0] - previous[0]);
      return previous[1] + part * (point[1] - previous[1]);
    }
    previous = point;
  }
  return previous[1];
}

function mean<T extends { readonly share: number }>(mix: readonly T[], of: (part: T) => number): number {
  let sum = 0;
  let weight = 0;
  for (const part of mix) {
    sum += part.share * of(part);
    weight += part.share;
  }
  return sum / weight;
}

const middleOf = (low: number, high: number) => ({ low, usual: (low + high) / 2, high });

const roundTo = (value: number, unit: number) => Math.round(value / unit) * unit;

function spreadOf(spread: UsualSpread, scale: number): Spread {
  return 'sd' in spread
    ? { kind: 'normal', sd: spread.sd * scale }
    : { kind: 'lognormal', sd: Math.log1p(spread.percent / 100) };
}
