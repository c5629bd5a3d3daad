import type { CaseInput } from '../case/types.js';
import { type Inference, infer } from './infer.js';
import { type PreparedCase, prepareCase, type Reasoner } from './prepare.js';
import { buildRanking } from './rank.js';
import type { Ranking } from './types.js';

/** A case as far as its posterior and its ranking: what checks and actions start from. */
export interface WorkedCase {
  readonly prepared: PreparedCase;
  readonly inference: Inference;
  readonly ranking: Ranking;
}

/**
 * Cases kept. A page asks for the ranking and a moment later for the checks and actions of the same case: enough for
 * the people who are between the two. Each takes about a megabyte.
 */
const KEPT = 24;
const kept = new WeakMap<Reasoner, Map<string, Promise<WorkedCase>>>();

/** Works a case out as far as its ranking, or takes it from the last ones. The same case always gets the same answer. */
export function workOut(reasoner: Reasoner, input: CaseInput): Promise<WorkedCase> {
  const cases = kept.get(reasoner) ?? new Map<string, Promise<WorkedCase>>();
  kept.set(reasoner, cases);
  const key = JSON.stringify(input);
  const worked = cases.get(key) ?? workOutAnew(reasoner, input);
  // Put last again, so that what is dropped is what was not asked for longest.
  cases.delete(key);
  cases.set(key, worked);
  worked.catch(() => cases.delete(key));
  for (const oldest of cases.keys()) {
    if (cases.size <= KEPT) break;
    cases.delete(oldest);
  }
  return worked;
}

async function workOutAnew(reasoner: Reasoner, input: CaseInput): Promise<WorkedCase> {
  const prepared = await prepareCase(reasoner, input);
  const inference = infer(reasoner, prepared);
  return { prepared, inference, ranking: buildRanking(reasoner, prepared, inference) };
}
