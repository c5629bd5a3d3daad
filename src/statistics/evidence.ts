import { densityNodes, type LogNode } from './numeric.js';

/** What a measurement says about "really worse" against "as it should be", on the scale the diagnosis adds up. */
export interface Evidence {
  /** log10 of the likelihood ratio: 1 means ten times likelier if really worse, -1 ten times likelier if not. */
  readonly log10LikelihoodRatio: number;
  /** The ratio itself, kept within 1e-300 and 1e300. */
  readonly likelihoodRatio: number;
  /** Ten times the log10 ratio. */
  readonly decibans: number;
  readonly strength: EvidenceStrength;
}

/** Named steps of evidence; the limits (a factor 3, 10 and 100) are common practice. */
export type EvidenceStrength =
  | 'strongly-for'
  | 'clearly-for'
  | 'slightly-for'
  | 'undecided'
  | 'slightly-against'
  | 'clearly-against'
  | 'strongly-against';

const LOG_LIMIT = 300 * Math.LN10;

/** Wraps a natural-log likelihood ratio. */
export function toEvidence(logRatio: number): Evidence {
  const log10 = logRatio / Math.LN10;
  return {
    log10LikelihoodRatio: log10,
    likelihoodRatio: Math.exp(Math.max(-LOG_LIMIT, Math.min(LOG_LIMIT, logRatio))),
    decibans: 10 * log10,
    strength: strengthOf(log10),
  };
}

function strengthOf(log10: number): EvidenceStrength {
  const size = Math.abs(log10);
  if (size < Math.log10(3)) return 'undecided';
  const step = size >= 2 ? 'strongly' : size >= 1 ? 'clearly' : 'slightly';
  return `${step}-${log10 > 0 ? 'for' : 'against'}`;
}

/** "clear evidence of …", "some evidence against …": puts a strength and a claim (a noun phrase) into words. */
export function sayEvidence(strength: EvidenceStrength, claim: string): string {
  return {
    'strongly-for': `strong evidence of ${claim}`,
    'clearly-for': `clear evidence of ${claim}`,
    'slightly-for': `some evidence of ${claim}`,
    undecided: `hardly any evidence for or against ${claim}`,
    'slightly-against': `some evidence against ${claim}`,
    'clearly-against': `clear evidence against ${claim}`,
    'strongly-against': `strong evidence against ${claim}`,
  }[strength];
}

/**
 * Prior for "really worse" on ln(true/target) in the worse direction: normal about ln(typical), cut off at 0. `resolution`
 * is the sharpest width of the likelihood on this scale, so that the grid is never coarser than it.
 */
export function worseNodes(logTypical: number, logSpread: number, resolution: number): LogNode[] {
  const high = logTypical + 6 * logSpread;
  return densityNodes((x) => -0.5 * ((x - logTypical) / logSpread) ** 2, 0, high, gridSize(high, resolution));
}

/** Prior for "as it should be" on ln(true/target): normal about 0 with a small spread, for no target is met exactly. */
export function onTargetNodes(logSpread: number, resolution: number): LogNode[] {
  const reach = 6 * logSpread;
  return densityNodes((x) => -0.5 * (x / logSpread) ** 2, -reach, reach, gridSize(2 * reach, resolution));
}

function gridSize(range: number, resolution: number): number {
  const wanted = Math.ceil((2 * range) / resolution);
  return 2 * Math.min(10_000, Math.max(150, wanted));
}
