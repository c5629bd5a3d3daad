import type { ModelParameters } from './parameters.js';
import type { InsertKind, NozzleSurface } from './setup.js';

/** Notches up to which each adds its full share; more lie so close that the yarn bridges them. */
const FULL_NOTCHES = 8;

/**
 * Grip of the nozzle's face about the yarn axis, against a smooth face (1).
 *
 * @param notches notches on the face, used when the surface is `notched`
 * @returns factor, 1 or more. Standing: judgement; that texture raises false twist is published, the size is not.
 */
export function textureFactor(surface: NozzleSurface, notches: number, p: ModelParameters): number {
  switch (surface) {
    case 'smooth':
      return 1;
    case 'spiral':
      return 1 + p.spiralTexture;
    case 'knurled':
      return 1 + p.knurledTexture;
    case 'notched':
      return (
        1 +
        p.notchTextureStep * Math.min(notches, FULL_NOTCHES) +
        p.extraNotchTextureStep * Math.max(0, notches - FULL_NOTCHES)
      );
  }
}

/** Grooves of a twist-retention insert; 0 for a smooth one or none. */
export function insertGrooves(insert: InsertKind): number {
  switch (insert) {
    case 'none':
    case 'smooth':
      return 0;
    case '1-groove':
      return 1;
    case '2-groove':
      return 2;
    case '3-groove':
      return 3;
  }
}

/**
 * Share of the friction at the tube bend that acts about the yarn axis and so holds twist back: slip there is mostly
 * along the yarn.
 *
 * @returns 0–1. Standing: judgement.
 */
export function bendTwistShare(insert: InsertKind, p: ModelParameters): number {
  switch (insert) {
    case 'none':
      return p.bendTwistShareNone;
    case 'smooth':
      return p.bendTwistShareSmooth;
    case '1-groove':
      return p.bendTwistShareGroove1;
    case '2-groove':
      return p.bendTwistShareGroove2;
    case '3-groove':
      return p.bendTwistShareGroove3;
  }
}
