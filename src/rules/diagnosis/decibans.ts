import { say } from '../../language/say.js';
import { logOdds, weightInWords, weightOfEvidence } from '../network/decibans.js';

/** Probabilities are held this far from 0 and 1, so that a ledger stays finite. */
const EDGE = 1e-12;
const inside = (p: number) => Math.min(1 - EDGE, Math.max(EDGE, p));

/** Weight of evidence, decibans, that moves one probability to another; finite also at 0 and 1. */
export const decibansBetween = (from: number, to: number) => weightOfEvidence(inside(from), inside(to));

/** Prior log-odds in decibans; finite also at 0 and 1. */
export const logOddsDecibans = (p: number) => logOdds(inside(p));

/** Probability after a likelihood ratio has been applied to it. */
export function applyRatio(p: number, ratio: number): number {
  const scaled = p * ratio;
  return scaled / (scaled + 1 - p);
}

/** Words for a weight, with its direction. */
export function sayWeight(decibans: number): string {
  if (Math.abs(decibans) < 0.5) return say('chance.says-nothing');
  return say(`chance.${decibans > 0 ? 'for' : 'against'}-${weightInWords(decibans)}`);
}

/** Words for a probability, the same everywhere. */
export function sayProbability(p: number): string {
  if (p >= 0.9) return say('chance.almost-certain');
  if (p >= 0.7) return say('chance.very-likely');
  if (p >= 0.45) return say('chance.likely');
  if (p >= 0.2) return say('chance.possible');
  if (p >= 0.05) return say('chance.not-likely');
  if (p >= 0.01) return say('chance.unlikely');
  return say('chance.very-unlikely');
}
