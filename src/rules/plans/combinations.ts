import type { SpinningSetup } from '../../spinning/setup.js';
import type { PlanOption, SetupDraft } from './options.js';

/**
 * All combinations of up to `most` options that change different settings, the empty one first, then by number of
 * changes and in the order of the options.
 *
 * @param most 1 to 3
 */
export function combine(options: readonly PlanOption[], most: number): PlanOption[][] {
  const levels: PlanOption[][][] = [[[]]];
  const place = new Map(options.map((option, i) => [option, i]));
  for (let size = 1; size <= most; size++) {
    const next: PlanOption[][] = [];
    for (const combination of levels[size - 1] ?? []) {
      const last = combination.at(-1);
      const from = last === undefined ? 0 : (place.get(last) ?? 0) + 1;
      for (const option of options.slice(from))
        if (!combination.some((one) => one.setting === option.setting)) next.push([...combination, option]);
    }
    levels.push(next);
  }
  return levels.flat();
}

/** The setup with all options of a combination. */
export function applyAll(
  setup: SpinningSetup,
  combination: readonly Pick<PlanOption, 'put'>[],
): SpinningSetup {
  const draft: SetupDraft = { ...setup };
  for (const option of combination) option.put(draft);
  return draft;
}

/** The same for the same changes whatever else was offered: `texture:4-notches+twist:+4`. */
export function idOf(combination: readonly { readonly id: string }[]): string {
  return combination.length === 0 ? 'as-it-is' : combination.map((option) => option.id).join('+');
}
