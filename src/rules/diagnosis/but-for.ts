import { type SpinningSetup, withValues } from '../../spinning/setup.js';
import { insertRank, textureRank } from '../case/ladders.js';
import { usualSpeed, usualTwist } from '../case/setup-change.js';
import type { BUT_FOR } from '../knowledge/schema.js';

/** Settings a coordination cause can be blamed on. */
export type ButFor = (typeof BUT_FOR)[number];

/**
 * The same setup with one setting put to its reference value (the usual one, or what it was before the trouble); the setup
 * itself where it stands there already.
 */
export function withReference(
  setup: SpinningSetup,
  reference: SpinningSetup,
  setting: ButFor,
): SpinningSetup {
  const values = referenceValues(setup, reference, setting);
  for (const key in values) {
    const setting = key as keyof typeof values;
    if (setup[setting] !== values[setting]) return withValues(setup, values);
  }
  return setup;
}

function referenceValues(
  setup: SpinningSetup,
  reference: SpinningSetup,
  setting: ButFor,
): Partial<SpinningSetup> {
  switch (setting) {
    case 'twist':
      // The coefficient is put back, not the turns: turns follow the count.
      return {
        twistPerMetre: reference.twistPerMetre * Math.sqrt(reference.countTex / setup.countTex),
      };
    case 'nozzle-surface':
      return { nozzleSurface: reference.nozzleSurface, notches: reference.notches };
    case 'nozzle-radius':
      return { nozzleRadiusMm: reference.nozzleRadiusMm };
    case 'nozzle-material':
      return { nozzleMaterial: reference.nozzleMaterial };
    case 'nozzle-protrusion':
      return { nozzleProtrusionMm: reference.nozzleProtrusionMm };
    case 'tube-bend':
      return { tubeBendDeg: reference.tubeBendDeg };
    case 'insert':
      return { insert: reference.insert };
    case 'rotor-speed':
      return { rotorSpeedRpm: usualSpeed(setup, reference) };
    case 'rotor-diameter':
      return { rotorDiameterMm: reference.rotorDiameterMm };
    case 'count':
      return { countTex: reference.countTex };
    case 'fineness':
      return { finenessMtex: reference.finenessMtex };
  }
}

const rankOf = (setup: SpinningSetup) =>
  textureRank({ surface: setup.nozzleSurface, notches: setup.notches });
const MATERIAL_RANK = { steel: 0, 'ceramic-head': 0, ceramic: 1 } as const;

/**
 * On which side of the reference a setting stands: negative below, 0 level, positive above (relative for numbers,
 * in steps for textures and inserts). Within two percent counts as level.
 */
export function sideOfReference(setup: SpinningSetup, reference: SpinningSetup, setting: ButFor): number {
  const relative = (value: number, usual: number) => {
    const difference = usual === 0 ? value : value / usual - 1;
    return Math.abs(difference) < 0.02 ? 0 : difference;
  };
  switch (setting) {
    case 'twist':
      return relative(setup.twistPerMetre, usualTwist(setup, reference));
    case 'nozzle-surface':
      return rankOf(setup) - rankOf(reference);
    case 'nozzle-radius':
      return relative(setup.nozzleRadiusMm, reference.nozzleRadiusMm);
    case 'nozzle-material':
      return MATERIAL_RANK[setup.nozzleMaterial] - MATERIAL_RANK[reference.nozzleMaterial];
    case 'nozzle-protrusion':
      return setup.nozzleProtrusionMm - reference.nozzleProtrusionMm;
    case 'tube-bend':
      return relative(setup.tubeBendDeg, reference.tubeBendDeg);
    case 'insert':
      return insertRank(setup.insert) - insertRank(reference.insert);
    case 'rotor-speed':
      return relative(setup.rotorSpeedRpm, usualSpeed(setup, reference));
    case 'rotor-diameter':
      return relative(setup.rotorDiameterMm, reference.rotorDiameterMm);
    case 'count':
      return relative(setup.countTex, reference.countTex);
    case 'fineness':
      return relative(setup.finenessMtex, reference.finenessMtex);
  }
}
