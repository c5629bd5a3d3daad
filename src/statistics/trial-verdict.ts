import { say } from '../language/say.js';
import { requireFraction, requireMembers, requireWithin } from './checks.js';
import { type BetaMixture, logEValueOfSplit, SHARE_MIXTURE, shareConfidenceSequence } from './e-process.js';
import { StatisticsError } from './errors.js';
import { type CountOverHours, pool, requireExposure } from './exposure.js';
import type { Interval } from './interval.js';
import { decideTrial, describeTrial, scaleToVerdict, type TrialOutcome } from './trial-decision.js';
import { sayNumber } from './words.js';

/** One stretch of a concurrent trial: changed and control positions over the same time. */
export interface TrialBlock {
  readonly changed: CountOverHours;
  readonly control: CountOverHours;
}

/** What counts as worthwhile and how sure to be. */
export interface TrialRule {
  /** The ratio changed/control that makes the change worthwhile, below 1; default 0.8. */
  readonly worthwhileRatio?: number;
  /** The ratio up to which a rise is put up with, above 1; default 1.25. */
  readonly toleratedRatio?: number;
  readonly confidence?: number;
  /** Variance over mean of the counts; counts are divided by it, which is approximate. */
  readonly dispersion?: number;
  readonly mixture?: BetaMixture;
}

/** The state of a trial. */
export interface TrialVerdict {
  readonly verdict: TrialOutcome;
  /** Changed over control rate; NaN before the first event, Infinity while only the changed side has events. */
  readonly ratio: number;
  /** Any-time valid interval of the ratio. */
  readonly interval: Interval;
  /** E-value against "no difference"; 20 or more speaks at 5 %. */
  readonly eValue: number;
  /**
   * Rotor-hours more, both sides together, until a verdict if the ratio stays as seen so far and the shares of the hours stay;
   * undefined once decided or when 20 times the hours so far would not do.
   */
  readonly moreRotorHours: number | undefined;
  readonly words: string;
}

/** How far the share of hours on the changed side may differ between blocks before pooling them is refused. Judgement. */
const SHARE_SLACK = 0.02;

const SIDES = { subject: 'the changed positions', against: 'the controls' };

/**
 * Judges a running trial, at any time and as often as wanted (beta-mixture e-process and its interval for the ratio).
 *
 * Valid for sides that run at the same time (or are exchanged often), where each event falls on the changed side with a
 * chance that depends on nothing but the shares of the hours and the ratio. All blocks must share the hours alike (within 2
 * percentage points). A block before and a block after is another matter: see {@link compareBeforeAfter}.
 */
export function judgeTrial(blocks: readonly TrialBlock[], rule: TrialRule = {}): TrialVerdict {
  requireMembers('blocks', blocks, 1);
  blocks.forEach((block, index) => {
    requireExposure(`blocks[${index}].changed`, block.changed);
    requireExposure(`blocks[${index}].control`, block.control);
  });
  const worthwhile = requireFraction('worthwhileRatio', rule.worthwhileRatio ?? 0.8);
  const tolerated = requireWithin('toleratedRatio', rule.toleratedRatio ?? 1.25, 1, 100);
  const confidence = requireFraction('confidence', rule.confidence ?? 0.95);
  const phi = requireWithin('dispersion', rule.dispersion ?? 1, 1, 1000);
  const mixture = rule.mixture ?? SHARE_MIXTURE;
  const changed = pool(blocks.map((block) => block.changed));
  const control = pool(blocks.map((block) => block.control));
  const share = changed.rotorHours / (changed.rotorHours + control.rotorHours);
  blocks.forEach((block, index) => {
    const own = block.changed.rotorHours / (block.changed.rotorHours + block.control.rotorHours);
    if (Math.abs(own - share) > SHARE_SLACK) {
      throw new StatisticsError(
        `blocks[${index}]`,
        say('count-allowed.share-of-block', { share: sayNumber(100 * own) }),
        say('count-allowed.share-of-others', { share: sayNumber(100 * share) }),
      );
    }
  });

  const hoursRatio = control.rotorHours / changed.rotorHours;
  const look = (scale: number) => {
    const first = (changed.count * scale) / phi;
    const second = (control.count * scale) / phi;
    const limits = shareConfidenceSequence(first, second, confidence, mixture);
    const odds = (p: number) => (p >= 1 ? Number.POSITIVE_INFINITY : (p / (1 - p)) * hoursRatio);
    const interval: Interval = { lower: odds(limits.lower), upper: odds(limits.upper), confidence };
    return { interval, verdict: decideTrial(interval, worthwhile, tolerated) };
  };
  const now = look(1);
  const ratio = (changed.count / control.count) * hoursRatio;
  const eValue = Math.exp(logEValueOfSplit(changed.count / phi, control.count / phi, share, mixture));
  const scale = scaleToVerdict((factor) => look(factor).verdict, changed.count + control.count);
  const moreRotorHours =
    scale === undefined ? undefined : (scale - 1) * (changed.rotorHours + control.rotorHours);
  return {
    verdict: now.verdict,
    ratio,
    interval: now.interval,
    eValue,
    moreRotorHours,
    words: describeTrial(now, worthwhile, moreRotorHours, SIDES),
  };
}
