import type { Interval } from './interval.js';
import { sayNumber, sayRange } from './words.js';

/**
 * `better` / `worse`: the any-time interval of the ratio excludes 1. `no-worthwhile-effect`: it excludes the worthwhile ratio.
 * `no-worse`: it excludes more than the tolerated rise. `not-yet-known`: none of these. That a test does not reject is never
 * read as "no effect".
 */
export type TrialOutcome = 'better' | 'worse' | 'no-worthwhile-effect' | 'no-worse' | 'not-yet-known';

/** Reads an any-time interval of the ratio against 1, the worthwhile ratio (below 1) and the tolerated one (above 1). */
export function decideTrial(interval: Interval, worthwhile: number, tolerated: number): TrialOutcome {
  if (interval.upper < 1) return 'better';
  if (interval.lower > 1) return 'worse';
  if (interval.lower > worthwhile) return 'no-worthwhile-effect';
  if (interval.upper < tolerated) return 'no-worse';
  return 'not-yet-known';
}

/**
 * By which factor the trial must grow, at the ratio seen so far, until it says more than it does now; undefined when it is
 * decided already, when nothing has been counted, or when a factor of 20 would not do. After `no-worse` a trial may go on, so
 * for that the factor until a final verdict is given.
 */
export function scaleToVerdict(look: (scale: number) => TrialOutcome, events: number): number | undefined {
  const now = look(1);
  if (events === 0 || (now !== 'not-yet-known' && now !== 'no-worse')) return undefined;
  const decided = (scale: number) => {
    const then = look(scale);
    return then !== 'not-yet-known' && then !== now;
  };
  let low = 1;
  let high = 1.25;
  while (!decided(high)) {
    low = high;
    high *= 1.25;
    if (high > 21) return undefined;
  }
  while (high - low > 0.005 * high) {
    const middle = (low + high) / 2;
    if (decided(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** Plain words for the state of a trial. */
export function describeTrial(
  state: { readonly verdict: TrialOutcome; readonly interval: Interval },
  worthwhile: number,
  moreRotorHours: number | undefined,
  sides: { readonly subject: string; readonly against: string },
): string {
  const { verdict, interval } = state;
  const seen = `true ratio ${sayRange(interval)}`;
  switch (verdict) {
    case 'better': {
      const small = interval.lower > worthwhile ? ', but by less than would be worthwhile' : '';
      return `Better: ${sides.subject} break less than ${sides.against}${small} (${seen}).`;
    }
    case 'worse':
      return `Worse: ${sides.subject} break more than ${sides.against} (${seen}).`;
    case 'no-worthwhile-effect':
      return `No worthwhile effect: a ratio of ${sayNumber(worthwhile)} or better is excluded (${seen}).`;
    case 'no-worse':
      return `No worse: a rise of note is excluded; that it is better is not shown (${seen}); ${outlook(moreRotorHours)}.`;
    case 'not-yet-known':
      return `Not yet known (${seen}); ${outlook(moreRotorHours)}.`;
  }
}

function outlook(moreRotorHours: number | undefined): string {
  if (moreRotorHours === undefined) return 'how many more rotor-hours it takes cannot be said';
  const rounded = Number(moreRotorHours.toPrecision(2));
  return `about ${sayNumber(rounded)} more rotor-hours would decide it if the ratio stays as seen so far`;
}
