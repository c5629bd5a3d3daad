import { requireFraction, requirePositive, requireWithin } from './checks.js';
import { type GammaMixture, logEValueAgainstNorm, rateConfidenceSequence } from './e-process.js';
import { type CountOverHours, requireExposure } from './exposure.js';
import type { Interval } from './interval.js';
import { decideTrial, describeTrial, scaleToVerdict, type TrialOutcome } from './trial-decision.js';

/** The state of a trial held against a known norm. */
export interface NormTrialVerdict {
  readonly verdict: TrialOutcome;
  /** Observed rate over the norm. */
  readonly ratio: number;
  /** Any-time valid interval of that ratio. */
  readonly interval: Interval;
  readonly eValue: number;
  readonly moreRotorHours: number | undefined;
  readonly words: string;
}

/**
 * Four events' worth of belief centred on the norm: wide enough for a halving or a doubling. Judgement; in units in which the
 * norm is one event.
 */
const NORM_MIXTURE: GammaMixture = { shape: 4, rate: 4 };

/**
 * Judges a running trial without controls against a norm (events per 1000 rotor-hours) that is known well from long running, at
 * any time and as often as wanted, by a gamma-mixture e-process. Weaker than side-by-side controls: a drift of lot or climate
 * counts as an effect. moreRotorHours supposes that the rate stays as seen so far.
 */
export function judgeAgainstNorm(
  events: CountOverHours,
  normPer1000: number,
  rule: {
    readonly worthwhileRatio?: number;
    readonly toleratedRatio?: number;
    readonly confidence?: number;
    readonly mixture?: GammaMixture;
  } = {},
): NormTrialVerdict {
  requireExposure('events', events);
  requirePositive('normPer1000', normPer1000);
  const worthwhile = requireFraction('worthwhileRatio', rule.worthwhileRatio ?? 0.8);
  const tolerated = requireWithin('toleratedRatio', rule.toleratedRatio ?? 1.25, 1, 100);
  const confidence = requireFraction('confidence', rule.confidence ?? 0.95);
  const mixture = rule.mixture ?? NORM_MIXTURE;
  const expected = (normPer1000 * events.rotorHours) / 1000;
  const look = (scale: number) => {
    const interval = rateConfidenceSequence(events.count * scale, expected * scale, mixture, confidence);
    return { interval, verdict: decideTrial(interval, worthwhile, tolerated) };
  };
  const now = look(1);
  const scale = scaleToVerdict((factor) => look(factor).verdict, expected);
  const moreRotorHours = scale === undefined ? undefined : (scale - 1) * events.rotorHours;
  return {
    verdict: now.verdict,
    ratio: events.count / expected,
    interval: now.interval,
    eValue: Math.exp(logEValueAgainstNorm(events.count, expected, 1, mixture)),
    moreRotorHours,
    words: describeTrial(now, worthwhile, moreRotorHours, {
      subject: 'the positions tried',
      against: 'the norm',
    }),
  };
}
