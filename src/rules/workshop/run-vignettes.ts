import type { Diagnosis, Ranking } from '../diagnosis/types.js';
import type { Diagnostician } from '../diagnostician.js';
import type { Vignette } from '../knowledge/load-vignettes.js';
import { type Expectation, meets, type Ranked, rankOf } from './expectation.js';

/** What became of one expectation. */
export interface Verdict {
  readonly about: 'cause' | 'check' | 'action';
  readonly id: string;
  readonly is: Expectation | 'forbidden';
  readonly met: boolean;
  /** Place in its list, 1 for the first; 0 when it is not there. */
  readonly rank: number;
  /** Of a cause. */
  readonly probability?: number;
}

/** How one situation came out. */
export interface VignetteResult {
  readonly id: string;
  readonly passed: boolean;
  readonly verdicts: readonly Verdict[];
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
  const verdicts = vignette.expect.map(({ cause, is }): Verdict => {
    const rank = rankOf(causes, cause);
    const probability = causes[rank - 1]?.probability ?? 0;
    return { about: 'cause', id: cause, is, met: meets(is, causes, cause), rank, probability };
  });
  if (whole !== undefined) verdicts.push(...judgeAdvice(whole, vignette));
  const failures = verdicts.filter((verdict) => !verdict.met).map(sayFailure);
  return {
    id: vignette.id,
    passed: failures.length === 0,
    verdicts,
    failures,
    leading: causes.slice(0, SHOWN).map(({ id, probability }) => ({ id, probability })),
  };
}

function judgeAdvice({ actions, checks }: Diagnosis, { action, check }: Vignette): Verdict[] {
  const verdicts: Verdict[] = [];
  if (check !== undefined) {
    const rank = checks.findIndex((one) => one.id === check.id) + 1;
    verdicts.push({ about: 'check', ...check, met: rank > 0 && rank <= 3, rank });
  }
  if (action !== undefined) {
    const rank = actions.findIndex((one) => one.id === action.id) + 1;
    const forbidden = actions[rank - 1]?.forbidden !== undefined;
    const met = action.is === 'forbidden' ? forbidden : rank > 0 && rank <= 3 && !forbidden;
    verdicts.push({ about: 'action', ...action, met, rank });
  }
  return verdicts;
}

function sayFailure({ about, id, is, rank, probability }: Verdict): string {
  if (about === 'cause') return `${id} should be ${is}, is number ${rank} with ${percent(probability ?? 0)}`;
  if (is === 'forbidden')
    return `the action ${id} should be forbidden, is ${rank === 0 ? 'not listed' : 'open'}`;
  return `the ${about} ${id} should be among the first three, is number ${rank || 'none'}`;
}
