/**
 * A spinning position's setup in plain numbers, the input of the spinning model.
 *
 * Every field is known here: what a case file leaves out has been filled in from the end use's usual values
 * before (see `src/rules/case`), and its doubt is carried by an {@link UncertainSetup}.
 */

/** Fibre kinds the model has data for (one file each in `knowledge-base/fibres`). */
export type FibreId = string;

/** Texture of the draw-off nozzle's entry face. */
export type NozzleSurface = 'smooth' | 'spiral' | 'notched' | 'knurled';

/** What the nozzle's rubbing face is made of; `ceramic-head` is a ceramic face in a metal body that carries heat away. */
export type NozzleMaterial = 'ceramic' | 'steel' | 'ceramic-head';

/** Twist-retention insert in the draw-off tube. */
export type InsertKind = 'none' | 'smooth' | '1-groove' | '2-groove' | '3-groove';

/** Width of the rotor groove. */
export type GrooveWidth = 'narrow' | 'medium' | 'wide';

/** Dulling of a man-made fibre by delustrant. */
export type Delustrant = 'bright' | 'semi-dull' | 'dull';

/** One partner of a blend; the shares of a mix sum to 1 (by mass). */
export interface FibreShare {
  readonly fibre: FibreId;
  readonly share: number;
}

/** A complete setup; units are in the field names (tex, mtex, mm, rpm, turns per metre, degrees, percent, hours). */
export interface SpinningSetup {
  readonly fibres: readonly FibreShare[];
  /** Recycled or waste share of the mix, 0–1. */
  readonly recycledShare: number;
  readonly delustrant: Delustrant;
  readonly stapleMm: number;
  readonly finenessMtex: number;
  readonly countTex: number;
  readonly twistPerMetre: number;
  readonly rotorDiameterMm: number;
  readonly rotorSpeedRpm: number;
  readonly groove: GrooveWidth;
  readonly nozzleSurface: NozzleSurface;
  /** Notches on the entry face; 0 unless the surface is `notched`. */
  readonly notches: number;
  readonly nozzleMaterial: NozzleMaterial;
  readonly nozzleRadiusMm: number;
  readonly nozzleProtrusionMm: number;
  readonly nozzleHours: number;
  readonly tubeBendDeg: number;
  readonly insert: InsertKind;
  readonly tubeHours: number;
  readonly openingRollerRpm: number;
  readonly temperatureC: number;
  readonly humidityPct: number;
  readonly sliverKtex: number;
  readonly sliverTrashPct: number;
  readonly windingTensionDraft: number;
}

/** A setup in the making. */
export type SetupDraft = { -readonly [Key in keyof SpinningSetup]: SpinningSetup[Key] };

/**
 * A copy that can be changed. Named one by one, all copies have one layout in memory whatever they are copied from, and the
 * model, which is run on thousands of them for a diagnosis, reads and copies such objects several times faster.
 */
export function copySetup(setup: SpinningSetup): SetupDraft {
  return {
    fibres: setup.fibres,
    recycledShare: setup.recycledShare,
    delustrant: setup.delustrant,
    stapleMm: setup.stapleMm,
    finenessMtex: setup.finenessMtex,
    countTex: setup.countTex,
    twistPerMetre: setup.twistPerMetre,
    rotorDiameterMm: setup.rotorDiameterMm,
    rotorSpeedRpm: setup.rotorSpeedRpm,
    groove: setup.groove,
    nozzleSurface: setup.nozzleSurface,
    notches: setup.notches,
    nozzleMaterial: setup.nozzleMaterial,
    nozzleRadiusMm: setup.nozzleRadiusMm,
    nozzleProtrusionMm: setup.nozzleProtrusionMm,
    nozzleHours: setup.nozzleHours,
    tubeBendDeg: setup.tubeBendDeg,
    insert: setup.insert,
    tubeHours: setup.tubeHours,
    openingRollerRpm: setup.openingRollerRpm,
    temperatureC: setup.temperatureC,
    humidityPct: setup.humidityPct,
    sliverKtex: setup.sliverKtex,
    sliverTrashPct: setup.sliverTrashPct,
    windingTensionDraft: setup.windingTensionDraft,
  };
}

/** A copy with some values changed. */
export function withValues(setup: SpinningSetup, values: Partial<SpinningSetup>): SpinningSetup {
  const copy = copySetup(setup);
  for (const key in values) setValue(copy, key as keyof SpinningSetup, values);
  return copy;
}

function setValue<Key extends keyof SpinningSetup>(
  draft: SetupDraft,
  key: Key,
  values: Partial<SpinningSetup>,
): void {
  const value = values[key];
  if (value !== undefined) draft[key] = value;
}

/**
 * Where a random draw comes from: `next(name)` gives the uniform number in (0, 1) of the present draw for one
 * named quantity, the same number each time it is asked within a draw.
 */
export interface DrawSource {
  next(name: string): number;
  /** The same number as a standard normal deviate. */
  normal(name: string): number;
}

/** A setup some of whose values are assumed: `central` is the best reading, `sample` draws one it might be. */
export interface UncertainSetup {
  readonly central: SpinningSetup;
  sample(draw: DrawSource): SpinningSetup;
}
