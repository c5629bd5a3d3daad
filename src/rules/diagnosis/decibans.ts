/** Odds of a probability; 0 and 1 are held away from the ends so that a ledger stays finite. */
const odds = (p: number) => Math.max(p, 1e-12) / Math.max(1 - p, 1e-12);

/** Weight of evidence that moves one probability to another: 10·log10 of the ratio of odds. Source: Good, 1950. */
export function decibansBetween(from: number, to: number): number {
  return 10 * Math.log10(odds(to) / odds(from));
}

/** Prior log-odds in decibans. */
export const logOddsDecibans = (p: number) => 10 * Math.log10(odds(p));

/** Probability after a likelihood ratio has been applied to it. */
export function applyRatio(p: number, ratio: number): number {
  const scaled = p * ratio;
  return scaled / (scaled + 1 - p);
}

/** Words for a weight: under 3 decibans barely, to 7 somewhat, to 13 clearly, beyond strongly. */
export function sayWeight(decibans: number): string {
  const size = Math.abs(decibans);
  if (size < 0.5) return 'says nothing about it';
  const how = size < 3 ? 'barely' : size < 7 ? 'somewhat' : size < 13 ? 'clearly' : 'strongly';
  return decibans > 0 ? `speaks ${how} for it` : `speaks ${how} against it`;
}

/** Words for a probability, the same everywhere. */
export function sayProbability(p: number): string {
  if (p >= 0.9) return 'almost certain';
  if (p >= 0.7) return 'very likely';
  if (p >= 0.45) return 'likely';
  if (p >= 0.2) return 'possible';
  if (p >= 0.05) return 'not likely';
  if (p >= 0.01) return 'unlikely';
  return 'very unlikely';
}
