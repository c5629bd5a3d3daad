/**
 * Share of its greatest strength that a yarn has at a twist other than the best: a parabola about the optimum.
 *
 * @param twistRatio twist multiplier over the one that gives most strength
 * @param curvature of the parabola (judgement, about 1.2)
 * @returns 0.1–1; held at 0.1 far from the optimum, where the parabola has no meaning. Standing: judgement; that
 *   strength has an optimum is published.
 */
export function twistStrength(twistRatio: number, curvature: number): number {
  const off = twistRatio - 1;
  return Math.max(0.1, 1 - curvature * off * off);
}

/** Speeds between which the loss was measured, and how it goes on beyond. */
export interface SpeedLossScale {
  /** Rotor speed up to which nothing is lost, 1/min. */
  readonly fromRpm: number;
  /** Rotor speed at which the measured loss is reached, 1/min. */
  readonly toRpm: number;
  /** Rotor diameter of that trial, mm. */
  readonly rotorMm: number;
  /** Further loss that very high speed can bring, as a share of the measured one. */
  readonly tail: number;
}

/**
 * Strength lost by rotor speed. The published trial went from 36 000 to 60 000 rpm: polyester lost 14 %, viscose
 * 7 %, blends about nothing. The loss runs in a straight line between those speeds, is nothing below and levels off
 * above, with no jump in slope, to at most 1 + `tail` times the measured one: a straight line carried on to today's
 * speeds would take away half the strength of polyester, which no mill sees. Speeds of other rotors are compared
 * at equal rim speed.
 *
 * @param measuredLossPct loss of the fibre from `fromRpm` to `toRpm`, %
 * @returns percent of strength lost. Standing: judgement outside the measured speeds; the trial's rotor diameter was
 *   not seen and is an assumption.
 */
export function speedStrengthLoss(
  measuredLossPct: number,
  rotorDiameterMm: number,
  rotorSpeedRpm: number,
  scale: SpeedLossScale,
): number {
  const equalRpm = (rotorSpeedRpm * rotorDiameterMm) / scale.rotorMm;
  const z = (equalRpm - scale.fromRpm) / (scale.toRpm - scale.fromRpm);
  if (z <= 0) return 0;
  if (z <= 1) return measuredLossPct * z;
  return measuredLossPct * (1 + scale.tail * (1 - Math.exp((1 - z) / scale.tail)));
}
