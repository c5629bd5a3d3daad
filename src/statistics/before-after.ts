import type { CountOverHours } from './exposure.js';
import { compareRates, type RateComparison } from './rate-ratio.js';
import { sayRange } from './words.js';

/** A plain comparison of a stretch before with a stretch after a change. */
export interface BeforeAfter extends RateComparison {
  /** Always true: time, lot, climate and people changed with the setting. */
  readonly confounded: true;
  readonly cautions: readonly string[];
}

/**
 * Compares a block after a change (first) with a block before it (second) by the fixed-sample conditional test, to be looked at
 * once. It cannot tell the change from anything else that changed in time, and says so.
 */
export function compareBeforeAfter(
  before: CountOverHours,
  after: CountOverHours,
  options: { readonly pickedForBeingBad?: boolean; readonly alpha?: number } = {},
): BeforeAfter {
  const comparison = compareRates(after, before, options.alpha === undefined ? {} : { alpha: options.alpha });
  const cautions = [
    'Before and after were not run at the same time: lot, climate, cleaning state and people may have changed as well, and the comparison cannot tell them apart.',
    'This test is meant to be looked at once, at the end.',
  ];
  if (options.pickedForBeingBad) {
    cautions.push(
      'The positions were picked because they were bad: they would have improved somewhat without any change. Compare with equally bad positions left alone, or count afresh after picking.',
    );
  }
  const words = {
    'first-lower': 'Fewer breaks after than before',
    'first-higher': 'More breaks after than before',
    'not-shown': 'No difference between before and after is shown',
  }[comparison.verdict];
  return {
    ...comparison,
    confounded: true,
    cautions,
    words: `${words} (after over before: ${sayRange(comparison.interval)}). The cause of a difference stays open, as the two were not run side by side.`,
  };
}
