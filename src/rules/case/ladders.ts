import { say } from '../../language/say.js';
import type { GrooveWidth, InsertKind, NozzleSurface } from '../../spinning/setup.js';
import { TEXTURES } from '../knowledge/end-use-schema.js';
import { optionWord } from './option-words.js';
import { GROOVES, INSERTS } from './setup-fields.js';

/** A nozzle's texture as one word: smooth, spiral, the usual notch counts, knurled. */
export type Texture = (typeof TEXTURES)[number];

/** A nozzle's texture as the model takes it. */
export interface NozzleTexture {
  readonly surface: NozzleSurface;
  /** 0 unless the surface is `notched`. */
  readonly notches: number;
}

/** Notch counts that stand on the ladder, with their rungs. */
const NOTCH_RUNGS = [
  [3, 2],
  [4, 3],
  [6, 4],
  [8, 5],
] as const;

/**
 * Place of a texture on the ladder smooth 0, spiral 1, 3 notches 2, 4 notches 3, 6 notches 4, 8 notches 5,
 * knurled 6. Notch counts between two rungs lie between them; one or two notches lie between spiral and 3 notches;
 * more than 8 count as 8.
 *
 * The order (more grip on the yarn from rung to rung) is common practice; that the rungs are alike far apart is not
 * claimed.
 */
export function textureRank(texture: NozzleTexture): number {
  switch (texture.surface) {
    case 'smooth':
      return 0;
    case 'spiral':
      return 1;
    case 'knurled':
      return TEXTURES.length - 1;
    case 'notched': {
      let [lowNotches, lowRung]: readonly [number, number] = [0, 1];
      for (const [notches, rung] of NOTCH_RUNGS) {
        if (texture.notches <= notches) {
          if (lowNotches === 0) return rung - (notches - texture.notches) / notches;
          return lowRung + ((rung - lowRung) * (texture.notches - lowNotches)) / (notches - lowNotches);
        }
        [lowNotches, lowRung] = [notches, rung];
      }
      return lowRung;
    }
  }
}

/** The texture on a rung (whole number, 0 to 6; others are brought to the nearest). */
export function textureAt(rank: number): NozzleTexture {
  const rung = Math.min(TEXTURES.length - 1, Math.max(0, Math.round(rank)));
  if (rung === 0) return { surface: 'smooth', notches: 0 };
  if (rung === 1) return { surface: 'spiral', notches: 0 };
  if (rung === TEXTURES.length - 1) return { surface: 'knurled', notches: 0 };
  return { surface: 'notched', notches: NOTCH_RUNGS[rung - 2]?.[0] ?? 4 };
}

/** The texture a ladder word names. */
export function textureOf(word: Texture): NozzleTexture {
  return textureAt(TEXTURES.indexOf(word));
}

/** `4 notches`, `spiral`. */
export function describeTexture(texture: NozzleTexture): string {
  if (texture.surface !== 'notched') return optionWord(texture.surface);
  return say('setup.notches', { n: texture.notches });
}

/** Place of an insert on the ladder none 0, smooth 1, then one rung a groove (more twist held back). */
export function insertRank(insert: InsertKind): number {
  return INSERTS.indexOf(insert);
}

/** Place of a groove on the ladder narrow 0, medium 1, wide 2. */
export function grooveRank(groove: GrooveWidth): number {
  return GROOVES.indexOf(groove);
}

/**
 * Where so many steps from a rank lead. From between two rungs the first step goes to the next rung on that side.
 *
 * @param rungs number of rungs of the ladder
 * @returns the rung, and how many of the steps could be taken (fewer at the ladder's end)
 */
export function stepOnLadder(
  rank: number,
  steps: number,
  rungs: number,
): { readonly rung: number; readonly taken: number } {
  const from = steps >= 0 ? Math.floor(rank) : Math.ceil(rank);
  const rung = Math.min(rungs - 1, Math.max(0, from + steps));
  return { rung, taken: rung === rank ? 0 : rung - from };
}
