/** A range of plausible values with the confidence it was computed for (0.95 = 95 %). */
export interface Interval {
  readonly lower: number;
  /** May be Infinity, for example for a ratio to a group without events. */
  readonly upper: number;
  readonly confidence: number;
}
