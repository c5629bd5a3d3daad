import type { ModelParameters } from './parameters.js';
import type { InsertKind, NozzleSurface } from './setup.js';
import { insertGrooves } from './texture.js';

/**
 * Hairiness against a yarn from a smooth nozzle without insert at the reference twist (100).
 *
 * @param twistRatio twist multiplier over the fibre's optimum, above 0
 * @param recycledShare 0–1
 * @returns index. Standing: judgement; the directions (rougher face, grooved insert, less twist, waste share: more
 *   hair) are published, the sizes are not.
 */
export function hairiness(
  surface: NozzleSurface,
  notches: number,
  insert: InsertKind,
  twistRatio: number,
  recycledShare: number,
  p: ModelParameters,
): number {
  let texture = 1;
  if (surface === 'notched') texture += p.hairPerNotch * notches;
  else if (surface === 'spiral') texture += p.hairSpiral;
  else if (surface === 'knurled') texture += p.hairKnurled;
  if (insert !== 'none') texture += p.hairInsertSmooth + p.hairInsertPerGroove * insertGrooves(insert);
  const twist = (p.referenceTwistRatio / twistRatio) ** p.hairTwistExponent;
  return 100 * texture * twist * (1 + p.hairRecycled * recycledShare);
}

/**
 * Softness of hand against the same reference (100): less twist and more hair feel softer, wrappers harsher.
 *
 * @param hairinessIndex see {@link hairiness}
 * @param wrapperSharePct percent of fibres that are wrappers
 * @returns index, not below 1. Standing: judgement; directions from published statements.
 */
export function softness(
  twistRatio: number,
  hairinessIndex: number,
  wrapperSharePct: number,
  p: ModelParameters,
): number {
  const twist = (p.referenceTwistRatio / twistRatio) ** p.softTwistExponent;
  const hair = 1 + p.softHairShare * (hairinessIndex / 100 - 1);
  const wrappers = 1 - p.softWrapperSlope * (wrapperSharePct / 100 - p.softWrapperReference);
  return Math.max(1, 100 * twist * hair * wrappers);
}

/**
 * Fly given off, against a smooth nozzle without insert in usual air (100).
 *
 * @param drynessPct percentage points of relative humidity below the fibre's usual range, 0 or more
 * @returns index. Standing: judgement; that rough faces and dry air bring fly is common practice.
 */
export function fly(
  surface: NozzleSurface,
  notches: number,
  insert: InsertKind,
  recycledShare: number,
  drynessPct: number,
  p: ModelParameters,
): number {
  let texture = 1;
  if (surface === 'notched') texture += p.flyPerNotch * notches;
  else if (surface === 'knurled') texture += p.flyKnurled;
  texture += p.flyInsertPerGroove * insertGrooves(insert);
  return 100 * texture * (1 + p.flyRecycled * recycledShare) * (1 + p.flyDrynessPerPct * drynessPct);
}
