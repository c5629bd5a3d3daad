import type { CaseInput } from '../rules/case/types.js';
import type { LoadedBase } from './loaded-base.js';

/** After so many cases a thread is at full speed. */
const MOST = 60;

/**
 * Cases that a thread works out before anybody asks it: the signs of the knowledge base's situations, on the frames of the
 * mill in turn, so that the setups people ask about first are computed already. Without frames, the situations as they are.
 */
export function warmUpCases({ mill, vignettes }: Pick<LoadedBase, 'mill' | 'vignettes'>): CaseInput[] {
  const frames = [...mill.values()];
  return [...vignettes.values()].slice(0, MOST).map((situation, n) => {
    const frame = frames[n % frames.length];
    return frame === undefined ? situation.case : { ...situation.case, given: frame.card.given };
  });
}
