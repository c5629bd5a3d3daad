import { requireCount, requirePositive } from './checks.js';
import { sayEvidence } from './evidence.js';
import { type RiseEvidence, type RisePrior, weighRise } from './rise-evidence.js';
import { sayNumber } from './words.js';

/** Thin places, thick places or neps counted on a test length. */
export interface ImperfectionCount {
  readonly count: number;
  /** Yarn length tested, kilometres. */
  readonly km: number;
  readonly targetPerKm: number;
  /** Variance over mean between tests, 1 or more; imperfections usually come more bunched than chance (2 is common in practice). */
  readonly dispersion?: number;
}

/** Judgement: half as many again is a rise worth speaking of; lots differ by some 20 % (one standard deviation 0.1). */
export const IMPERFECTION_PRIOR: RisePrior = { typicalRatio: 1.5, logSpread: 0.35, normSpread: 0.1 };

/** Likelihood ratio of "really more imperfections per kilometre than the target", as {@link weighRise} on lengths instead of hours. */
export function weighImperfections(input: ImperfectionCount): RiseEvidence {
  requireCount('count', input.count);
  requirePositive('km', input.km);
  requirePositive('targetPerKm', input.targetPerKm);
  const result = weighRise({
    count: input.count,
    rotorHours: input.km,
    normPer1000: 1000 * input.targetPerKm,
    dispersion: input.dispersion ?? 1,
    prior: IMPERFECTION_PRIOR,
  });
  return {
    ...result,
    words: `${input.count} counted where the target expects ${sayNumber(input.targetPerKm * input.km)}: ${sayEvidence(result.strength, 'a real rise')}.`,
  };
}
