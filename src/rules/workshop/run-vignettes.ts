import type { Diagnosis, Ranking } from '../diagnosis/types.js';
import type { Diagnostician } from '../diagnostician.js';
import type { Vignette } from '../knowledge/load-vignettes.js';
import { meets, type Ranked, rankOf } from './expectation.js';

/** How one situation came out. */
export interface VignetteResult {
  readonly id: string;
  readonly passed: boolean;
  /** One sentence for everything that did not come out as expected. */
  readonly failures: readonly string[];
  /** The leading causes, at most five. */
  readonly leading: readonly Ranked[];
}

const SHOWN = 5;
const percent = (p: number) => `${(100 * p).toFixed(1)} %`;

/**
 * Runs situations through the engine. Checks and actions are worked out only where the situation says something of
 * them.
 *
 * @returns one result a situation, in their order
 */
export async function runVignettes(
  diagnostician: Diagnostician,
  vignettes: Iterable<Vignette>,
): Promise<VignetteResult[]> {
  const results: VignetteResult[] = [];
  for (const vignette of vignettes) results.push(await runVignette(diagnostician, vignette));
  return results;
}

async function runVignette(diagnostician: Diagnostician, vignette: Vignette): Promise<VignetteResult> {
  const whole =
    vignette.action === undefined && vignette.check === undefined
      ? undefined
      : await diagnostician.diagnose(vignette.case);
  const ranking: Ranking = whole ?? (await diagnostician.rank(vignette.case));
  const { causes } = ranking;
  const failures = vignette.expect
    .filter(({ cause, is }) => !meets(is, causes, cause))
    .map(({ cause, is }) => {
      const rank = rankOf(causes, cause);
      return `${cause} should be ${is}, is number ${rank} with ${percent(causes[rank - 1]?.probability ?? 0)}`;
    });
  if (whole !== undefined) failures.push(...adviceFailures(whole, vignette));
  return {
    id: vignette.id,
    passed: failures.length === 0,
    failures,
    leading: causes.slice(0, SHOWN).map(({ id, probability }) => ({ id, probability })),
  };
}

function adviceFailures({ actions, checks }: Diagnosis, { action, check }: Vignette): string[] {
  const failures: string[] = [];
  if (check !== undefined) {
    const rank = checks.findIndex((one) => one.id === check.id) + 1;
    if (rank === 0 || rank > 3)
      failures.push(`the check ${check.id} should be among the first three, is number ${rank || 'none'}`);
  }
  if (action !== undefined) {
    const rank = actions.findIndex((one) => one.id === action.id) + 1;
    const forbidden = actions[rank - 1]?.forbidden !== undefined;
    if (action.is === 'forbidden' && !forbidden)
      failures.push(`the action ${action.id} should be forbidden, is ${rank === 0 ? 'not listed' : 'open'}`);
    if (action.is === 'first-three' && (rank === 0 || rank > 3 || forbidden))
      failures.push(`the action ${action.id} should be among the first three, is number ${rank || 'none'}`);
  }
  return failures;
}
