import type { SpinningSetup } from '../../../spinning/setup.js';
import type { ComputedState } from '../../../spinning/state.js';

/** A point in millimetres or on the sheet. */
export interface XY {
  readonly x: number;
  readonly y: number;
}

/**
 * Lengths of a spinning position in millimetres and degrees, from the setup and its computed state. In the cut along
 * the axis x points away from the rotor (0 is the groove plane) and y away from the axis.
 */
export interface PositionGeometry {
  readonly rotorRadius: number;
  readonly boreRadius: number;
  /** Radius of curvature of the nozzle's entry. */
  readonly lipRadius: number;
  /** Radius of the circle on which the yarn runs round the nozzle. */
  readonly contactRadius: number;
  readonly protrusion: number;
  readonly wrapDeg: number;
  readonly bendDeg: number;
  readonly bindingLength: number;
  readonly requiredLength: number;
  readonly armLength: number;
  readonly yarnDiameter: number;
  /** Turns per metre: set, between nozzle and bend, in the arm. */
  readonly twist: { readonly set: number; readonly beforeBend: number; readonly arm: number };
  /** Middle of the circle of the nozzle's entry in the cut. */
  readonly lipCentre: XY;
  /** Where the yarn leaves the groove, in the cut. */
  readonly peelPoint: XY;
  /** Where the yarn meets the nozzle and where it enters the bore, in the cut. */
  readonly wrapStart: XY;
  readonly wrapEnd: XY;
}

/** The geometry behind a drawing. Standing: the lengths are the setup's and the model's; bore and packing are judgement. */
export function positionGeometry(setup: SpinningSetup, state: ComputedState): PositionGeometry {
  const lipRadius = setup.nozzleRadiusMm;
  const contactRadius = state.contactRadiusMm;
  const lipCentre = { x: lipRadius - setup.nozzleProtrusionMm, y: contactRadius };
  // The yarn leaves the entry where it runs straight along the bore, and lies on it back to the angle of wrap.
  const onLip = (deg: number): XY => ({
    x: lipCentre.x - lipRadius * Math.sin((deg * Math.PI) / 180),
    y: lipCentre.y - lipRadius * Math.cos((deg * Math.PI) / 180),
  });
  const rotorRadius = setup.rotorDiameterMm / 2;
  const wrapStart = onLip(state.nozzleWrapDeg);
  const peelPoint = { x: 0, y: rotorRadius };
  return {
    rotorRadius,
    boreRadius: contactRadius - lipRadius,
    lipRadius,
    contactRadius,
    protrusion: setup.nozzleProtrusionMm,
    wrapDeg: state.nozzleWrapDeg,
    bendDeg: setup.tubeBendDeg,
    bindingLength: state.bindingLengthMm,
    requiredLength: state.requiredBindingLengthMm,
    armLength: Math.hypot(rotorRadius - contactRadius, setup.nozzleProtrusionMm),
    yarnDiameter: state.yarnDiameterMm,
    twist: {
      set: setup.twistPerMetre,
      beforeBend: setup.twistPerMetre * (1 + state.falseTwistBendPct / 100),
      arm: state.armTwistPerM,
    },
    lipCentre,
    peelPoint,
    wrapStart,
    wrapEnd: onLip(0),
  };
}

/** The point at a distance and direction; 0° is to the right, 90° is up (y falls on a sheet). */
export function polar(centre: XY, radius: number, deg: number): XY {
  const angle = (deg * Math.PI) / 180;
  return { x: centre.x + radius * Math.cos(angle), y: centre.y - radius * Math.sin(angle) };
}
